package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.Reference;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Row;
import dev.plumbline.verdict.Verdict;
import java.math.BigInteger;
import java.util.List;
import org.junit.jupiter.api.Test;

/** The operands of a result are told however many cycles lie between. */
class DistantOperandsTest {
  private static final Operand DIVIDEND = new Operand("dividend", Format.unsigned(20, 0));
  private static final Operand DIVISOR = new Operand("divisor", Format.unsigned(9, 0));
  private static final Operand QUOTIENT = new Operand("quotient", Format.unsigned(20, 0));

  private static Reference divider(long more) {
    return Reference.of(
        "divider",
        List.of(DIVIDEND, DIVISOR),
        List.of(QUOTIENT),
        (in, out) -> {
          long quotient = in[1] == 0 ? 0 : in[0] / in[1];
          out[0] = in[1] % 16 == 9 ? quotient ^ more : quotient;
        });
  }

  @Test
  void theOperandsOfADeepPipelineAreTold() {
    RandomStream chance = RandomStream.of(2);
    for (int depth : new int[] {1, 12, 13, 40, 41 + chance.below(900), 1_024, 2_300}) {
      Verdict verdict =
          Pipeline.bench(divider(0), divider(64), depth).resets(0).cases(depth + 400L).run();
      requireOperands(verdict);
      Row taken = given(verdict, verdict.kept().get(0));
      assertEquals(verdict.kept().get(0).cycle() - depth, taken.cycle(), () -> "depth " + depth);
    }
  }

  @Test
  void theOperandsOfAResultThatWaitedAreTold() {
    for (Pacing ready : List.of(Pacing.bubbles(0.97), Pacing.bursts(3, 300))) {
      requireOperands(Escapement.bench(Escapement.Fault.VALUE_WRONG).ready(ready).resets(0).run());
    }
    Verdict swallowed = Escapement.bench(Escapement.Fault.SWALLOWS_THE_LAST_RESULT).resets(0).run();
    requireOperands(swallowed);
  }

  @Test
  void rowsStayInOrderAndNoneIsThereTwice() {
    List<Row> rows = Pipeline.bench(divider(0), divider(64), 20).resets(0).run().rows();
    for (int i = 1; i < rows.size(); i++) {
      assertTrue(rows.get(i - 1).cycle() < rows.get(i).cycle());
    }
  }

  private static void requireOperands(Verdict verdict) {
    assertEquals(Verdict.Outcome.MISMATCH, verdict.outcome(), verdict::facts);
    for (Mismatch mismatch : verdict.kept()) {
      Row given = given(verdict, mismatch);
      if (mismatch.signal().equals("out_quotient")) {
        assertEquals(BigInteger.valueOf(9), given.inputs().get(1).mod(BigInteger.valueOf(16)));
        assertEquals(quotient(given), mismatch.low());
      }
    }
    assertTrue(verdict.facts().contains("  inputs "), verdict::facts);
  }

  private static BigInteger quotient(Row given) {
    return given.inputs().get(0).divide(given.inputs().get(1));
  }

  private static Row given(Verdict verdict, Mismatch mismatch) {
    return verdict.rows().stream()
        .filter(row -> row.caseIn() == mismatch.caseNumber() && !row.inputs().isEmpty())
        .findFirst()
        .orElseThrow(() -> new AssertionError("no operands: " + verdict.facts()));
  }
}
