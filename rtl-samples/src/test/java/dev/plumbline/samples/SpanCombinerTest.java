package dev.plumbline.samples;

import static org.junit.jupiter.api.Assertions.assertEquals;

import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.Batch;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.stimulus.Stimulus;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;

/** The clocks that the span combiner takes; its values are held by {@link SpanBench}. */
class SpanCombinerTest {
  private static final int CASES = 2000;
  private static final int ROWS = 16 * CASES;

  @Test
  void takesAClockForEachDistinctDistanceAndOneForNone() {
    SpanReference reference = SpanBench.reference();
    List<Operand> operands = reference.inputs();
    long[][][] cases = new long[operands.size()][1][CASES];
    Stimulus.Source source = SpanBench.stimulus().open(operands, 5, 0);
    source.fill(cases, 0, CASES);
    long[] clocks = clocks(reference, cases);
    assertEquals(1, Arrays.stream(clocks).min().orElseThrow());
    assertEquals(16, Arrays.stream(clocks).max().orElseThrow());

    try (Dut dut = CompiledDesign.of(SpanBench.exact().rtl()).open()) {
      dut.set("rst", 1);
      dut.cycle();
      dut.set("rst", 0);
      Batch batch = dut.batch(ROWS);
      batch.handshake("in_valid", "in_ready");
      Arrays.fill(batch.column("in_valid"), 1);
      for (int i = 0; i < operands.size(); i++) {
        put(reference, operands.get(i).name(), cases[i][0], batch);
      }
      long[] answered = batch.column("out_valid");
      dut.run(batch, ROWS, CASES);
      assertEquals(CASES, batch.accepted());
      // Back to back: the next lists are accepted in the clock of a result.
      int at = 0;
      for (int one = 0; one < CASES; one++) {
        for (long clock = 1; clock < clocks[one]; clock++) {
          assertEquals(0, answered[++at], "case " + one + " in clock " + clock);
        }
        assertEquals(1, answered[++at], "case " + one + " in clock " + clocks[one]);
      }
    }
  }

  private static long[] clocks(SpanReference reference, long[][][] cases) {
    Reference.Evaluation evaluation = reference.open(CASES);
    for (int i = 0; i < cases.length; i++) {
      System.arraycopy(cases[i][0], 0, evaluation.input(i, 0), 0, CASES);
    }
    evaluation.run(CASES);
    return evaluation.low(reference.outputs().size() - 1, 0);
  }

  /** Counts, and distances of 32 bits, two to a word; what else there is does not matter. */
  private static void put(SpanReference reference, String operand, long[] codes, Batch batch) {
    assertEquals(32, reference.word().width());
    if (operand.endsWith("count") || operand.equals("operator")) {
      System.arraycopy(codes, 0, batch.column("in_" + operand), 0, CASES);
    } else if (operand.contains("distance")) {
      int split = operand.lastIndexOf('_');
      int end = Integer.parseInt(operand.substring(split + 1));
      long[] word = batch.column("in_" + operand.substring(0, split), end / 2);
      for (int row = 0; row < CASES; row++) {
        word[row] |= (codes[row] & 0xFFFF_FFFFL) << (end % 2 * 32);
      }
    }
  }
}
