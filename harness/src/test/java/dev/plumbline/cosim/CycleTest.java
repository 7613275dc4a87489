package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertEquals;

import dev.plumbline.rtl.RtlSource;
import java.nio.file.Path;
import java.util.Arrays;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

@Execution(ExecutionMode.CONCURRENT)
class CycleTest {
  private final CompiledDesign model =
      CompiledDesign.of(RtlSource.of(Path.of("src/test/rtl/gear_train.sv")));

  @Test
  void inputOfACycleIsSeenAtTheOutputsOfTheNext() {
    try (Dut dut = model.open()) {
      dut.set("rst", 1);
      dut.cycle();
      dut.set("rst", 0);
      dut.set("in_valid", 1);
      dut.set("in_step", -5);
      dut.cycle();
      assertEquals(0, dut.get("out_valid"));
      assertEquals(0, dut.get("out_angle"));
      dut.cycle();
      assertEquals(1, dut.get("out_valid"));
      assertEquals(-15, dut.get("out_angle"));
      dut.cycles(10);
      assertEquals(-15 * 11, dut.get("out_angle"));
      assertEquals(13, dut.cyclesRun());
    }
  }

  @Test
  void batchDoesWhatSingleCyclesDo() {
    try (Dut dut = model.open()) {
      Batch batch = dut.batch(1000);
      Arrays.setAll(batch.column("rst"), row -> row == 0 ? 1 : 0);
      Arrays.setAll(batch.column("in_valid"), row -> row % 3 == 0 ? 0 : 1);
      Arrays.setAll(batch.column("in_step"), row -> row * 37L);
      long[] angles = batch.column("out_angle");
      assertEquals(1000, dut.run(batch, 1000));
      short angle = 0;
      for (int row = 1; row < 1000; row++) {
        assertEquals(angle, angles[row], "row " + row);
        angle += row % 3 == 0 ? 0 : (short) (3 * row * 37);
      }
    }
  }
}
