package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;

import dev.plumbline.rtl.RtlSource;
import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.toolchain.BuildOptions.Optimisation;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.RepeatedTest;
import org.junit.jupiter.api.RepetitionInfo;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A fast model, whose choices have lost their branches, gives what one briefly compiled gives. */
class BranchlessChoicesTest {
  private static final int ROWS = 4096;
  private static final int INPUTS = 9;
  private static final int[] WIDTHS = {1, 3, 8, 9, 16, 17, 31, 32, 33, 63, 64, 65, 90};

  private static final String[] OPERATORS = {
    "+", "-", "*", "&", "|", "^", "<", "==", ">=", ">>", "<<"
  };

  @TempDir Path folder;

  @Test
  void choicesOfAllWidthsAreTakenAlike() throws IOException {
    hold(1, 2);
  }

  @RepeatedTest(8)
  @Tag("thorough")
  void manyChoicesAreTakenAlike(RepetitionInfo repetition) throws IOException {
    hold(1 + repetition.getCurrentRepetition(), 4);
  }

  private void hold(int seed, int depth) throws IOException {
    RtlSource source =
        RtlSource.of(Files.writeString(folder.resolve("selector.sv"), rtl(seed, depth)));
    assertArrayEquals(run(source, Optimisation.NEVER), run(source, Optimisation.FIRST));
  }

  private static long[] run(RtlSource source, Optimisation when) {
    CompiledDesign model =
        CompiledDesign.of(source, BuildOptions.defaults().withOptimisation(when));
    RandomStream chance = RandomStream.of(5);
    try (Dut dut = model.open()) {
      Batch batch = dut.batch(ROWS);
      for (int i = 0; i < INPUTS; i++) {
        for (int word = 0; word < (WIDTHS[(7 * i) % WIDTHS.length] + 63) / 64; word++) {
          long[] column = batch.column("in" + i, word);
          for (int row = 0; row < ROWS; row++) {
            column[row] = chance.next() >> chance.below(64); // small and large
          }
        }
      }
      dut.run(batch, ROWS);
      return batch.column("out").clone();
    }
  }

  /** Registers that follow from nested choices among inputs and each other. */
  private static String rtl(int seed, int depth) {
    RandomStream chance = RandomStream.of(seed);
    StringBuilder text = new StringBuilder("module selector (\n  input logic clk");
    for (int i = 0; i < INPUTS; i++) {
      String sign = i % 3 == 0 ? "signed " : "";
      text.append(",\n  input logic " + sign + range(WIDTHS[(7 * i) % WIDTHS.length]) + " in" + i);
    }
    text.append(",\n  output logic [63:0] out\n);\n");
    StringBuilder steps = new StringBuilder();
    for (int r = 0; r < WIDTHS.length; r++) {
      text.append("  logic " + range(WIDTHS[r]) + " held" + r + ";\n");
      steps.append("    held" + r + " <= " + expression(chance, depth) + ";\n");
    }
    text.append("  logic [15:0] rack[8];\n");
    steps.append(
        "    rack[in0[0] ? 3'd5 : 3'(in3)] <= 16'(" + expression(chance, depth - 1) + ");\n");
    steps.append("    out <= 64'(" + expression(chance, depth - 1) + ") ^ 64'(rack[3'(in1)])");
    for (int r = 0; r < WIDTHS.length; r++) {
      steps.append(" ^ (64'(held" + r + ") << " + 3 * r + ")");
    }
    return text + "  always_ff @(posedge clk) begin\n" + steps + ";\n  end\nendmodule\n";
  }

  private static String range(int width) {
    return "[" + (width - 1) + ":0]";
  }

  private static String expression(RandomStream chance, int depth) {
    if (depth == 0) {
      return switch (chance.below(4)) {
        case 0 -> "held" + chance.below(WIDTHS.length);
        case 1 -> "24'd" + chance.below(1 << 20);
        default -> "in" + chance.below(INPUTS);
      };
    }
    String one = expression(chance, depth - 1);
    String other = expression(chance, depth - 1);
    return chance.below(2) == 0
        ? "(" + expression(chance, 1) + " != 0 ? " + one + " : " + other + ")"
        : "(" + one + " " + OPERATORS[chance.below(OPERATORS.length)] + " " + other + ")";
  }
}
