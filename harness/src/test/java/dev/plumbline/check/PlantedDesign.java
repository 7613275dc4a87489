package dev.plumbline.check;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.faults.Fault;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.toolchain.BuildOptions;
import java.nio.file.Path;

/** Models of RTL files with a fault planted, quickly built: they run some ten thousand cycles. */
final class PlantedDesign {
  private PlantedDesign() {}

  /** Pairs of texts: what stands there, what is put in its place. */
  static CompiledDesign of(Path file, Path folder, String... texts) {
    String name = file.getFileName().toString();
    Fault fault = Fault.of(name, name, texts[0], texts[1]);
    for (int i = 2; i < texts.length; i += 2) {
      fault = fault.and(texts[i], texts[i + 1]);
    }
    return CompiledDesign.of(
        fault.plantedIn(RtlSource.of(file), folder),
        BuildOptions.defaults().withOptimisation(false));
  }
}
