package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.check.Escapement.Fault;
import dev.plumbline.stimulus.Generator;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.stimulus.Stimulus;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Mismatch.Kind;
import dev.plumbline.verdict.Row;
import dev.plumbline.verdict.Verdict;
import java.math.BigInteger;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Valid and ready on both sides, from bench to verdict, on an escapement in software. */
class EscapementBenchTest {
  @Test
  void aRightDesignPassesUnderEveryPacing() {
    List<Pacing> all =
        List.of(Pacing.backToBack(), Pacing.bubbles(0.7), Pacing.bursts(4, 9), Pacing.varied());
    for (Pacing offers : all) {
      for (Pacing ready : all) {
        Verdict verdict =
            Escapement.bench(Fault.NONE).pacing(offers).ready(ready).resets(0).cases(1_500).run();
        assertTrue(verdict.isPass(), () -> offers + ", " + ready + " " + verdict.facts());
        assertEquals(1_500, verdict.cases(), "no result is left behind");
      }
    }
  }

  @Test
  void resetsInMidStreamPass() {
    Verdict verdict = Escapement.bench(Fault.NONE).resets(0.01).run();

    assertTrue(verdict.isPass(), verdict::facts);
    assertTrue(verdict.cases() < 4_000, "resets drop some cases");
  }

  @Test
  void aWrongValueIsNamedWithItsCase() {
    Verdict verdict = Escapement.bench(Fault.VALUE_WRONG).run();
    Mismatch mismatch = first(verdict, Kind.VALUE_WRONG);

    assertEquals(BigInteger.ONE, mismatch.difference());
    Row given =
        verdict.rows().stream().filter(r -> r.caseIn() == mismatch.caseNumber()).findFirst().get();
    assertEquals(BigInteger.valueOf(5), given.inputs().get(0));
  }

  @Test
  void aPayloadThatChangesWhileStalledIsAMismatch() {
    Mismatch mismatch =
        first(Escapement.bench(Fault.CHANGES_WHILE_STALLED).run(), Kind.CHANGED_WHILE_STALLED);

    assertEquals("out_travel", mismatch.signal());
    assertEquals(mismatch.low().add(BigInteger.ONE), mismatch.actual());
  }

  @Test
  void aValidWithdrawnWhileStalledIsAMismatch() {
    Mismatch mismatch =
        first(Escapement.bench(Fault.WITHDRAWS_WHILE_STALLED).run(), Kind.WITHDRAWN_WHILE_STALLED);

    assertEquals("out_valid", mismatch.signal());
  }

  @Test
  void aLostResultIsCalledThat() {
    Verdict verdict = Escapement.bench(Fault.LOSES_A_RESULT).resets(0).run();

    first(verdict, Kind.RESULT_LOST);
  }

  @Test
  void afterALostResultTheOthersAreFoundAgain() {
    Verdict verdict =
        inAStream(Escapement.bench(Fault.LOSES_A_RESULT_AND_LATER_ONE_IS_WRONG)).run();

    first(verdict, Kind.RESULT_LOST);
    assertEquals(2, verdict.mismatches(), verdict::facts);
    Mismatch second = verdict.kept().get(1);
    assertEquals(Kind.VALUE_WRONG, second.kind());
    assertEquals(2_999, second.caseNumber());
    assertEquals(BigInteger.ONE, second.difference());
  }

  @Test
  void afterARepeatedOrInventedResultTheOthersAreFoundAgain() {
    for (Fault fault : List.of(Fault.REPEATS_A_RESULT, Fault.INVENTS_A_RESULT)) {
      Verdict verdict = inAStream(Escapement.bench(fault)).run();

      assertEquals(Verdict.Outcome.MISMATCH, verdict.outcome(), verdict::facts);
      assertTrue(verdict.mismatches() <= 3, verdict::facts);
    }
  }

  /** Never idle, so that no gap in the stream marks a position. */
  private static Bench.Builder inAStream(Bench.Builder bench) {
    return bench.pacing(Pacing.backToBack()).ready(Pacing.backToBack()).resets(0);
  }

  @Test
  void aValidThatOutlivesItsResetIsAMismatch() {
    Verdict verdict = Escapement.bench(Fault.VALID_UNDER_RESET).resets(0.01).initialStates(0).run();

    Mismatch mismatch = first(verdict, Kind.VALID_WITHOUT_CASE);
    assertEquals("out_valid", mismatch.signal());
    assertEquals(BigInteger.ONE, verdict.row(mismatch.cycle()).get().controls().get(0), "in reset");
  }

  @Test
  void aRepeatedResultIsCalledThat() {
    Verdict verdict = Escapement.bench(Fault.REPEATS_A_RESULT).resets(0).run();

    first(verdict, Kind.RESULT_REPEATED);
  }

  @Test
  void swappedResultsAreCalledThat() {
    first(Escapement.bench(Fault.SWAPS_RESULTS).run(), Kind.ORDER_SWAPPED);
  }

  @Test
  void aResultBeyondTheMostCyclesIsLate() {
    Mismatch mismatch = first(Escapement.bench(Fault.TOO_LATE).resets(0).run(), Kind.LATE);

    assertEquals("right result, 2 cycles late", mismatch.words());
  }

  /** Most results are 0, so that another case's is often right by chance. */
  @ParameterizedTest
  @EnumSource(names = {"LOSES_RESULTS_AGAIN_AND_AGAIN", "WITHDRAWS_FOR_GOOD"})
  void anotherCasesResultIsNoRightResultOfAnotherCycle(Fault fault) {
    for (long seed = 1; seed <= 8; seed++) {
      Verdict verdict =
          Escapement.bench(fault)
              .stimulus(Stimulus.standard().with("ticks", Generator.values(0, 0, 0, 0, 0, 0, 0, 5)))
              .resets(0)
              .seed(seed)
              .run();

      assertEquals(Verdict.Outcome.MISMATCH, verdict.outcome(), verdict::facts);
      for (Mismatch mismatch : verdict.kept()) {
        assertNotEquals(Kind.EARLY, mismatch.kind(), verdict::facts);
        assertNotEquals(Kind.LATE, mismatch.kind(), verdict::facts);
      }
    }
  }

  @Test
  void aResultBeforeTheLeastCyclesIsEarly() {
    Mismatch mismatch =
        first(
            Escapement.bench(Fault.TOO_EARLY)
                .pacing(Pacing.bursts(1, 30))
                .ready(Pacing.backToBack())
                .resets(0)
                .run(),
            Kind.EARLY);

    assertEquals("right result, 1 cycle early", mismatch.words());
  }

  @Test
  void anInventedResultIsAMismatch() {
    Verdict verdict =
        Escapement.bench(Fault.INVENTS_A_RESULT)
            .pacing(Pacing.bursts(1, 30))
            .ready(Pacing.backToBack())
            .resets(0)
            .run();

    Mismatch mismatch = first(verdict, Kind.VALID_WITHOUT_CASE);
    assertEquals(-1, mismatch.caseNumber());
  }

  @Test
  void aDutThatTakesNoMoreCasesIsReportedAfterSomeTime() {
    Mismatch mismatch =
        first(Escapement.bench(Fault.NEVER_READY_AGAIN).resets(0).run(), Kind.NEVER_READY);

    assertEquals("in_ready", mismatch.signal());
    assertEquals(300, mismatch.caseNumber());
  }

  @Test
  void theLastResultIsWaitedFor() {
    Verdict verdict = Escapement.bench(Fault.SWALLOWS_THE_LAST_RESULT).resets(0).run();

    assertEquals(3_999, first(verdict, Kind.VALID_MISSING).caseNumber());
  }

  @Test
  void resultsThatSurviveAResetAreAMismatch() {
    Verdict verdict = Escapement.bench(Fault.RESET_LEAVES_RESULTS).resets(0.005).run();

    assertEquals(Verdict.Outcome.MISMATCH, verdict.outcome(), verdict::facts);
  }

  private static Mismatch first(Verdict verdict, Kind kind) {
    assertEquals(Verdict.Outcome.MISMATCH, verdict.outcome(), verdict::facts);
    assertEquals(kind, verdict.kept().get(0).kind(), verdict::facts);
    return verdict.kept().get(0);
  }
}
