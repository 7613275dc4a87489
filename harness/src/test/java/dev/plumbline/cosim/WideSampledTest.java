package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertEquals;

import dev.plumbline.rtl.RtlSource;
import dev.plumbline.toolchain.BuildOptions;
import java.nio.file.Path;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** Assertions about signals of more than a thousand bits, for which 5.006 wrote wrong C++. */
@Tag("thorough")
class WideSampledTest {
  private static final int REELS = 2;
  private static final int NOTES = 1600 / 8; // on a reel

  @Test
  void theyAreCompiledAndRun() {
    CompiledDesign model =
        CompiledDesign.of(
            RtlSource.of(Path.of("src/test/rtl/clock_reel.sv")),
            BuildOptions.defaults().withOptimisation(false));
    try (Dut dut = model.open()) {
      dut.set("rst", 0);
      dut.set("in_note", 0x37);
      dut.cycle();
      dut.set("in_note", 0x11);
      dut.cycles(REELS * NOTES - 1L);
      assertEquals(0, dut.get("out_note"));
      dut.cycle();
      assertEquals(0x37, dut.get("out_note"));
      dut.cycle();
      assertEquals(0x11, dut.get("out_note"));
    }
  }
}
