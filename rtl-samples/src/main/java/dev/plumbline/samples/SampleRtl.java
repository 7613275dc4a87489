package dev.plumbline.samples;

import dev.plumbline.rtl.RtlSource;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;

/** Where the sample RTL stands. */
public final class SampleRtl {
  /** The folder of the RTL, seen from this module's folder, where tests and programs run. */
  public static final Path FOLDER = Path.of("rtl").toAbsolutePath();

  private SampleRtl() {}

  /**
   * Every file of the folder.
   *
   * @return in order of name
   * @throws IOException when the folder cannot be read
   */
  public static List<Path> files() throws IOException {
    try (Stream<Path> files = Files.list(FOLDER)) {
      return files.filter(Files::isRegularFile).sorted().toList();
    }
  }

  /** A block of the folder, or of a copy, with other parameters than the default. */
  static RtlSource in(Path folder, String unit, Map<String, String> parameters) {
    RtlSource rtl =
        RtlSource.of(folder.resolve(unit + ".sv"))
            .withTop(unit)
            .withIncludeFolder(folder)
            .withLibraryFolder(folder);
    for (var parameter : parameters.entrySet()) {
      rtl = rtl.withParameter(parameter.getKey(), parameter.getValue());
    }
    return rtl;
  }
}
