package dev.plumbline.check;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.faults.FaultyCopies;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.toolchain.BuildOptions;
import java.nio.file.Path;
import java.util.List;

/** Models of RTL files with a fault planted, quickly built: they run some ten thousand cycles. */
final class PlantedDesign {
  private PlantedDesign() {}

  /** Pairs of texts: what stands there, what is put in its place. */
  static CompiledDesign of(Path file, Path folder, String... texts) {
    return CompiledDesign.of(
        FaultyCopies.fault(file, List.of(texts)).plantedIn(RtlSource.of(file), folder),
        BuildOptions.defaults().withOptimisation(false));
  }
}
