package dev.plumbline.samples.chip;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.samples.SampleRtl;
import dev.plumbline.stimulus.SeedText;
import dev.plumbline.toolchain.BuildOptions;
import java.nio.file.Path;

/** A block of the chip that is driven by hand. */
final class ChipBlock {
  /** What chance follows from. */
  static final long SEED = SeedText.parse(System.getProperty("plumbline.seed", "1"));

  private static final Path BENCHES = SampleRtl.FOLDER.resolve("benches");

  private ChipBlock() {}

  /** Its sources, with parameters such as {@code XW=9}. */
  static RtlSource rtl(String unit, String... parameters) {
    return rtl(SampleRtl.FOLDER, unit, parameters);
  }

  private static RtlSource rtl(Path folder, String unit, String... parameters) {
    RtlSource rtl =
        RtlSource.of(folder.resolve(unit + ".sv"))
            .withTop(unit)
            .withIncludeFolder(SampleRtl.FOLDER)
            .withLibraryFolder(SampleRtl.FOLDER);
    for (String parameter : parameters) {
      int equals = parameter.indexOf('=');
      rtl = rtl.withParameter(parameter.substring(0, equals), parameter.substring(equals + 1));
    }
    return rtl;
  }

  /** Built quickly, with the RTL's own assertions. */
  static CompiledDesign model(String unit, String... parameters) {
    return CompiledDesign.of(
        rtl(unit, parameters), BuildOptions.defaults().withOptimisation(false));
  }

  /** Sources of one that stands with what is around it in a module of the tests. */
  static RtlSource rtlInBench(String bench, String... parameters) {
    return rtl(BENCHES, bench, parameters);
  }

  /** That, built quickly. */
  static CompiledDesign inBench(String bench, String... parameters) {
    return CompiledDesign.of(
        rtlInBench(bench, parameters), BuildOptions.defaults().withOptimisation(false));
  }
}
