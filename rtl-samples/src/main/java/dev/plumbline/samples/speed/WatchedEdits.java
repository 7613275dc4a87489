package dev.plumbline.samples.speed;

import dev.plumbline.samples.SampleRtl;
import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;

/** {@code plumbline watch} as a user has it: the sample's own test, RTL in a folder of its own. */
final class WatchedEdits implements AutoCloseable {
  private final Process process;
  private final BufferedReader lines;

  /**
   * Starts it, and waits until it waits.
   *
   * @param folder with the RTL in {@code rtl}
   */
  WatchedEdits(Path folder, String test) throws IOException {
    Path samples = SampleRtl.FOLDER.getParent();
    ProcessBuilder builder =
        new ProcessBuilder(
                samples.resolveSibling("harness/bin/plumbline").toString(),
                "watch",
                "--classes",
                samples.resolve("target/test-classes") + ":" + samples.resolve("target/classes"),
                test)
            .directory(folder.toFile())
            .redirectError(ProcessBuilder.Redirect.INHERIT);
    String cache = System.getProperty("plumbline.cache", "");
    if (!cache.isEmpty()) {
      builder.environment().put("JDK_JAVA_OPTIONS", "-Dplumbline.cache=" + cache);
    }
    process = builder.start();
    lines = process.inputReader(StandardCharsets.UTF_8);
    await("watching");
  }

  /** Seconds from the write of a file to the first line with a verdict. */
  double verdictAfter(Path file, String text) throws IOException {
    long start = System.nanoTime();
    Files.writeString(file, text);
    await("pass ", "RED ");
    double seconds = (System.nanoTime() - start) / 1e9;
    await("watching");
    return seconds;
  }

  private void await(String... beginnings) throws IOException {
    for (String line = lines.readLine(); line != null; line = lines.readLine()) {
      for (String beginning : beginnings) {
        if (line.startsWith(beginning)) {
          return;
        }
      }
    }
    throw new IOException("plumbline watch ended by itself");
  }

  @Override
  public void close() {
    process.destroy();
  }
}
