package dev.plumbline.cosim;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/** What this process has open, as Linux tells it. */
final class Descriptors {
  private Descriptors() {}

  static List<String> all() {
    List<String> open = new ArrayList<>();
    try (var files = Files.newDirectoryStream(Path.of("/proc/self/fd"))) {
      for (Path file : files) {
        try {
          open.add(Files.readSymbolicLink(file).toString());
        } catch (NoSuchFileException e) {
          // Closed meanwhile.
        }
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return open;
  }

  static boolean open(String ending) {
    return all().stream().anyMatch(name -> name.endsWith(ending));
  }
}
