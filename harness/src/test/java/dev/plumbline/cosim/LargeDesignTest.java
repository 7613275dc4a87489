package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import dev.plumbline.rtl.RtlSource;
import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.toolchain.BuildOptions.Optimisation;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** A design whose C++ is compiled in two shares, at each level: networks of exclusive-ors. */
@Tag("thorough")
class LargeDesignTest {
  private static final int WIDTH = 64;
  private static final int LAYERS = 24;

  @TempDir private Path folder;

  /** Row i of a layer's matrix over GF(2): which bits are summed up in bit i. */
  private static long row(int layer, int i) {
    return RandomStream.mix(1000L * layer + i + 1);
  }

  private RtlSource networks() throws IOException {
    StringBuilder text =
        new StringBuilder("module networks(input clk, input [63:0] d, output [63:0] q);\n");
    text.append("wire [63:0] w0 = d;\n");
    for (int layer = 0; layer < LAYERS; layer++) {
      text.append("reg [63:0] w" + (layer + 1) + ";\nalways @(posedge clk) begin\n");
      for (int i = 0; i < WIDTH; i++) {
        text.append("w" + (layer + 1) + "[" + i + "] <= ");
        String join = "";
        for (int bit = 0; bit < WIDTH; bit++) {
          if ((row(layer, i) >>> bit & 1) != 0) {
            text.append(join).append("w" + layer + "[" + bit + "]");
            join = " ^ ";
          }
        }
        text.append(";\n");
      }
      text.append("end\n");
    }
    text.append("assign q = w" + LAYERS + ";\nendmodule\n");
    return RtlSource.of(Files.writeString(folder.resolve("networks.v"), text));
  }

  private static long expected(long word) {
    for (int layer = 0; layer < LAYERS; layer++) {
      long next = 0;
      for (int i = 0; i < WIDTH; i++) {
        next |= (long) (Long.bitCount(word & row(layer, i)) & 1) << i;
      }
      word = next;
    }
    return word;
  }

  @ParameterizedTest
  @EnumSource(Optimisation.class)
  void computesTheProductOfItsMatrices(Optimisation when) throws Exception {
    // Which builds both libraries; the others build one of them each.
    assumeTrue(when == Optimisation.LATER || Boolean.getBoolean("plumbline.long"));
    CompiledDesign model =
        CompiledDesign.of(networks(), BuildOptions.defaults().withOptimisation(when));
    if (when == Optimisation.LATER) {
      model.tiers().optimise().get();
    }
    try (Dut dut = model.open()) {
      Batch batch = dut.batch(1000);
      long[] d = batch.column("d");
      long[] q = batch.column("q");
      RandomStream stream = RandomStream.of(7);
      for (int row = 0; row < 1000; row++) {
        d[row] = stream.next();
      }
      long[] given = d.clone();
      dut.run(batch, 1000);
      for (int row = LAYERS; row < 1000; row++) {
        assertEquals(expected(given[row - LAYERS]), q[row], "row " + row);
      }
    }
    assertTrue(Files.size(model.file()) > 100_000);
  }

  @Test
  void theReferenceIsLinear() {
    assertEquals(0, expected(0));
    assertEquals(expected(5) ^ expected(9), expected(5 ^ 9));
  }
}
