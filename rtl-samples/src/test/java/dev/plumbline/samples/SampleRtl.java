package dev.plumbline.samples;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;

/** Where the sample RTL stands. */
final class SampleRtl {
  /** The folder of the RTL, seen from this module's folder, where Surefire runs. */
  static final Path FOLDER = Path.of("rtl").toAbsolutePath();

  private SampleRtl() {}

  /** Every file of the folder, in order of name. */
  static List<Path> files() throws IOException {
    try (Stream<Path> files = Files.list(FOLDER)) {
      return files.filter(Files::isRegularFile).sorted().toList();
    }
  }
}
