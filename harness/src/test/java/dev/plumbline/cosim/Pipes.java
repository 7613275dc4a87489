package dev.plumbline.cosim;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** Named pipes, which Java cannot make. */
final class Pipes {
  private Pipes() {}

  static void make(Path pipe) throws IOException, InterruptedException {
    Files.deleteIfExists(pipe);
    Files.createDirectories(pipe.toAbsolutePath().getParent());
    if (new ProcessBuilder("mkfifo", pipe.toString()).start().waitFor() != 0) {
      throw new IOException("cannot make a pipe at " + pipe);
    }
  }
}
