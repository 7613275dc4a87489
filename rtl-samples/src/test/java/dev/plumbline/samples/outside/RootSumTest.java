package dev.plumbline.samples.outside;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.Batch;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.samples.SampleBench;
import dev.plumbline.samples.SampleBenches;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

class RootSumTest {
  private static final SampleBench ROOTS =
      SampleBenches.sharpest("square_root", Format.signed(17, 0));

  @Test
  @DisplayName("B4: roots of all codes of 16 bits sum up to 11152000, of 8 bits to 2600")
  void rootsOfAllCodesSumUp() {
    // OEIS A000196: each r occurs 2r + 1 times, whatever the insides of the RTL.
    long sum = 0;
    int[] times = new int[256];
    try (Dut dut = CompiledDesign.of(ROOTS.rtl()).open()) {
      int rows = 1 << 16;
      Batch batch = dut.batch(rows + 10); // ten cycles of latency
      dut.set("rst", 1);
      dut.cycle();
      dut.set("rst", 0);
      for (int row = 0; row < rows; row++) {
        batch.column("in_x")[row] = row;
        batch.column("in_valid")[row] = 1;
      }
      dut.run(batch, rows + 10);
      for (int x = 0; x < rows; x++) {
        int root = (int) batch.column("out_root")[x + 10];
        times[root]++;
        sum += root;
        assertTrue(x != 255 || sum == 2600, "the first 256");
      }
    }
    assertEquals(11_152_000, sum);
    for (int root = 0; root < times.length; root++) {
      assertEquals(2 * root + 1, times[root], "how often " + root);
    }
  }
}
