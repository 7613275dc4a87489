package dev.plumbline.samples;

import static org.junit.jupiter.api.Assertions.assertEquals;

import dev.plumbline.cases.RayCases;
import dev.plumbline.check.Bench;
import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.Dut;
import dev.plumbline.junit.DesignUnderTest;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.solid.BoxSlab;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * The box pipeline alone, as a user would write it: the class names its RTL, tests take the DUT.
 */
@DesignUnderTest(
    sources = "rtl/box_pipeline.sv",
    top = "box_pipeline",
    includeFolders = "rtl",
    libraryFolders = "rtl")
class BoxPipelineTest {
  private static final Format WORD = Format.signed(16, 16);
  private static final int LATENCY = 8;

  @Test
  void holdsToTheSlabRule(Bench.Builder bench) {
    Contract contract =
        Contract.of(Reference.exact(BoxSlab.of(WORD).withFaces().fromInverse(WORD)))
            .valid("in_valid", "out_valid")
            .reset("rst")
            .latency(LATENCY)
            .build();
    bench
        .named("box_pipeline rays of the orrery")
        .contract(contract)
        .stimulus(RayCases.atBoxesByInverse(WORD, WORD).stimulus())
        .cases(200_000)
        .check();
  }

  // J. Buck, The Ray Tracer Challenge, 2019, chapter 12: rays that meet the box (-1,-1,-1) to
  // (1,1,1); a parallel axis is given by its flag.
  @DisplayName("C3 ray and box: ")
  @ParameterizedTest(name = "{displayName}({0}, {1}, {2}) along axis {3}, sign {4}: {5}, {6}")
  @CsvSource({
    "5, 0.5, 0, 0, -1, 4, 6",
    "-5, 0.5, 0, 0, 1, 4, 6",
    "0.5, 5, 0, 1, -1, 4, 6",
    "0.5, -5, 0, 1, 1, 4, 6",
    "0.5, 0, 5, 2, -1, 4, 6",
    "0.5, 0, -5, 2, 1, 4, 6",
    "0, 0.5, 0, 2, 1, -1, 1"
  })
  void meetsTheBoxWhereTheBookSays(
      double x, double y, double z, int axis, int sign, double entry, double exit, Dut dut) {
    String[] axes = {"x", "y", "z"};
    double[] origin = {x, y, z};
    dut.set("rst", 1);
    dut.cycle();
    dut.set("rst", 0);
    dut.set("in_valid", 1);
    for (int i = 0; i < 3; i++) {
      dut.set("in_origin_" + axes[i], Math.round(origin[i] * 65536));
      dut.set("in_min_" + axes[i], -65536);
      dut.set("in_max_" + axes[i], 65536);
      dut.set("in_parallel_" + axes[i], i == axis ? 0 : 1);
      dut.set("in_inverse_" + axes[i], i == axis ? sign * 65536L : 0);
    }
    dut.cycle();
    dut.set("in_valid", 0);
    dut.cycles(LATENCY);
    assertEquals(1, dut.get("out_valid"));
    assertEquals(1, dut.get("out_hit"));
    assertEquals(entry, dut.get("out_entry") / 65536.0);
    assertEquals(exit, dut.get("out_exit") / 65536.0);
    assertEquals(2 * axis + (sign > 0 ? 0 : 1), dut.get("out_entry_face"));
    assertEquals(2 * axis + (sign > 0 ? 1 : 0), dut.get("out_exit_face"));
  }
}
