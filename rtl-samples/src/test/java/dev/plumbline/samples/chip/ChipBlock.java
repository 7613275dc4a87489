package dev.plumbline.samples.chip;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.samples.SampleRtl;
import dev.plumbline.stimulus.SeedText;
import dev.plumbline.toolchain.BuildOptions;

/** A block of the chip that is driven by hand. */
final class ChipBlock {
  /** What chance follows from. */
  static final long SEED = SeedText.parse(System.getProperty("plumbline.seed", "1"));

  private ChipBlock() {}

  /** Its sources, with parameters such as {@code XW=9}. */
  static RtlSource rtl(String unit, String... parameters) {
    RtlSource rtl =
        RtlSource.of(SampleRtl.FOLDER.resolve(unit + ".sv"))
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
}
