package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertEquals;

import dev.plumbline.rtl.RtlSource;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;

/** A genvar is no signal, whatever else in its module is called like it. */
class LoopNamesTest {
  @Test
  void aLoopMayShareItsNameWithAGenerateLoop() {
    CompiledDesign design =
        CompiledDesign.of(RtlSource.of(Path.of("src/test/rtl/inside/peg_row.sv")));
    try (Dut dut = design.withInternals().open()) {
      dut.set("pegs", 6);
      dut.cycles(2);
      assertEquals(3, dut.get("highest"));
      assertEquals(3, dut.peek("found"));
      assertEquals(1, dut.peek("g_peg[2].set"));
    }
  }
}
