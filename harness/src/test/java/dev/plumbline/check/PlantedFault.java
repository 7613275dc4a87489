package dev.plumbline.check;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.toolchain.BuildOptions;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** Plants faults in copies of RTL files by replacing text that stands there exactly once. */
final class PlantedFault {
  private PlantedFault() {}

  /** Pairs of texts: what stands there, what is put in its place. */
  static CompiledDesign in(Path file, Path folder, String... replacements) throws IOException {
    String text = Files.readString(file);
    for (int i = 0; i < replacements.length; i += 2) {
      String was = replacements[i];
      int at = text.indexOf(was);
      if (at < 0 || text.indexOf(was, at + 1) >= 0) {
        throw new IllegalStateException("not exactly once in " + file + ": " + was);
      }
      text = text.replace(was, replacements[i + 1]);
    }
    Path copy = folder.resolve(file.getFileName());
    Files.writeString(copy, text);
    // It runs for some ten thousand cycles.
    return CompiledDesign.of(RtlSource.of(copy), BuildOptions.defaults().withOptimisation(false));
  }
}
