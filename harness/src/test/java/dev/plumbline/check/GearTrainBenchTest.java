package dev.plumbline.check;

import static dev.plumbline.check.GearTrain.Fault;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.drive.Feed;
import dev.plumbline.stimulus.Generator;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.stimulus.Stimulus;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Mismatch.Kind;
import dev.plumbline.verdict.MismatchGroup.Hypothesis;
import dev.plumbline.verdict.MismatchGroup.LikelyKind;
import dev.plumbline.verdict.Row;
import dev.plumbline.verdict.Verdict;
import dev.plumbline.verdict.Verdict.Outcome;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;
import org.junit.jupiter.api.Test;
import org.opentest4j.AssertionFailedError;

/** The whole way from bench to verdict, on a gear train in software. */
class GearTrainBenchTest {
  @Test
  void aRightDesignPasses() {
    Verdict verdict = GearTrain.bench(Fault.NONE).run();

    assertEquals(Outcome.PASS, verdict.outcome(), verdict::facts);
    assertTrue(verdict.cases() > 9_900 && verdict.cases() <= 10_000, verdict::facts);
    assertTrue(verdict.cycles() > verdict.cases(), "pacing leaves bubbles");
  }

  @Test
  void withoutResetsEveryCaseIsCompared() {
    Verdict verdict =
        GearTrain.bench(Fault.NONE).pacing(Pacing.backToBack()).resets(0).cases(2_500).run();

    assertEquals(2_500, verdict.cases());
    assertEquals(1 + 2_500 + 3 + Feed.TAIL, verdict.cycles(), "reset, cases, latency, and a tail");
    assertEquals(
        List.of(2_500L, 2_500L), verdict.bounds().stream().map(b -> b.compared()).toList());
  }

  @Test
  void everyPacingPasses() {
    for (Pacing pacing :
        List.of(Pacing.backToBack(), Pacing.bubbles(0.9), Pacing.bursts(5, 40), Pacing.varied())) {
      Verdict verdict = GearTrain.bench(Fault.NONE).pacing(pacing).cases(3_000).run();
      assertTrue(verdict.isPass(), () -> pacing + " " + verdict.facts());
    }
  }

  @Test
  void aWrongValueIsAMismatchWithItsCycleAndCase() {
    Verdict verdict = GearTrain.bench(Fault.ONE_TOO_MUCH_WHERE_TEETH_ARE_99).run();
    Mismatch mismatch = only(verdict, Kind.VALUE_WRONG);

    assertEquals("out_angle", mismatch.signal());
    assertEquals(BigInteger.ONE, mismatch.difference());
    assertEquals(mismatch.low(), mismatch.high());
    Row given =
        verdict.rows().stream().filter(r -> r.caseIn() == mismatch.caseNumber()).findFirst().get();
    assertEquals(BigInteger.valueOf(99), given.inputs().get(1));
    assertEquals(mismatch.cycle() - 3, given.cycle());
    assertEquals("value wrong", verdict.row(mismatch.cycle()).get().verdict());
  }

  @Test
  void aWrongFlagIsAMismatchOfItsOwnSignal() {
    Verdict verdict = GearTrain.bench(Fault.FLAG_INVERTED_WHERE_TEETH_ARE_99).run();

    assertEquals("out_forward", only(verdict, Kind.VALUE_WRONG).signal());
  }

  @Test
  void rightResultACycleLateIsAMismatch() {
    Mismatch mismatch = only(GearTrain.bench(Fault.ONE_CYCLE_LATE).run(), Kind.LATE);

    assertEquals(1, mismatch.cycles());
    assertEquals("right result, 1 cycle late", mismatch.words());
    assertEquals("out_valid", mismatch.signal());
  }

  @Test
  void rightResultACycleEarlyIsAMismatch() {
    Mismatch mismatch = only(GearTrain.bench(Fault.ONE_CYCLE_EARLY).run(), Kind.EARLY);
    assertEquals("right result, 1 cycle early", mismatch.words());
    assertEquals("out_valid", mismatch.signal());
  }

  @Test
  void rightDataACycleBehindItsValidIsCalledLate() {
    Mismatch mismatch = only(GearTrain.bench(Fault.DATA_ONE_CYCLE_LATE).run(), Kind.LATE);

    assertEquals("right result, 1 cycle late", mismatch.words());
    assertEquals("out_angle", mismatch.signal());
  }

  @Test
  void aLateContractIsAsWrongAsALateDesign() {
    Verdict verdict =
        GearTrain.bench(Fault.NONE).contract(GearTrain.contract().latency(5).build()).run();

    assertEquals("right result, 2 cycles early", only(verdict, Kind.EARLY).words());
  }

  @Test
  void aValidLostIsMissing() {
    Mismatch mismatch =
        only(GearTrain.bench(Fault.VALID_LOST_AFTER_A_BUBBLE).run(), Kind.VALID_MISSING);

    assertEquals("out_valid", mismatch.signal());
    assertEquals(BigInteger.ZERO, mismatch.actual());
    assertTrue(mismatch.caseNumber() >= 0);
  }

  @Test
  void aStageThatResetMissesGivesAValidWithoutACase() {
    Mismatch mismatch =
        only(
            GearTrain.bench(Fault.RESET_MISSES_THE_LAST_STAGE).initialStates(0).run(),
            Kind.VALID_WITHOUT_CASE);

    assertEquals(-1, mismatch.caseNumber());
  }

  @Test
  void stateThatResetLeavesIsDistinguishedFromAWrongValue() {
    Verdict verdict = GearTrain.bench(Fault.SUM_NOT_RESET).seed(3).run();

    only(verdict, Kind.INITIAL_STATE_SHOWS);
    assertTrue(
        verdict
            .facts()
            .startsWith(
                "gear train: output differs between initial states"
                    + " (state from before the reset shows after it)"),
        verdict::facts);
  }

  /** One result that differs proves little: what is said rests on several states. */
  @Test
  void thatTheInitialStateIsToBlameSaysWhatItIsBasedOn() {
    Verdict verdict =
        GearTrain.bench(Fault.SUM_NOT_RESET).seed(3).recorder(any -> Optional.empty()).run();
    Hypothesis likely = verdict.groups().get(0).likely().get(0);
    assertEquals(LikelyKind.INITIAL_STATE, likely.kind(), verdict::facts);
    assertTrue(likely.explained() > 1 && likely.near() > 1, verdict::facts);
    assertTrue(
        verdict
            .facts()
            .contains(
                "from registers that wake up at 0, or at 1, it is not there; from 4 states by"
                    + " chance it is (explains "
                    + likely.explained()
                    + " of "
                    + likely.explained()
                    + " wrong results"),
        verdict::facts);
  }

  @Test
  void staleDataInTheFirstResultIsNotSaidToComeFromAReset() {
    Verdict verdict = GearTrain.bench(Fault.SHOWS_THE_RESULT_BEFORE).run();

    only(verdict, Kind.STALE_DATA_SHOWS);
    assertTrue(
        verdict
            .facts()
            .startsWith(
                "gear train: stale data in the first results (they differ between initial states"
                    + " and later ones do not: a register that the reset does not clear is visible"
                    + " before a case has written it)"),
        verdict::facts);
  }

  @Test
  void whereNoResetIsDrivenNoneIsSpokenOf() {
    for (Fault fault : List.of(Fault.SUM_NOT_RESET, Fault.SHOWS_THE_RESULT_BEFORE)) {
      Verdict verdict =
          GearTrain.bench(fault)
              .contract(
                  Contract.of(GearTrain.REFERENCE)
                      .valid("in_valid", "out_valid")
                      .hold("rst", 0)
                      .latency(3)
                      .build())
              .run();
      only(verdict, Kind.INITIAL_STATE_SHOWS_WITHOUT_RESET);
      assertTrue(
          verdict
              .facts()
              .startsWith("gear train: output differs between initial states, without a reset"),
          verdict::facts);
    }
  }

  @Test
  void aDifferenceIsInLsbOnlyWhereThereAreFractionBits() {
    String flag = GearTrain.bench(Fault.FLAG_INVERTED_WHERE_TEETH_ARE_99).run().facts();
    assertFalse(flag.contains("  difference"), flag);
    String angle = GearTrain.bench(Fault.ONE_TOO_MUCH_WHERE_TEETH_ARE_99).run().facts();
    assertTrue(angle.contains("  difference +1 LSB"), angle);
  }

  @Test
  void initialStatesHaveToAgreeEvenInsideTheTolerance() {
    Contract lenient = GearTrain.contract().tolerance("angle", 4).build();
    Verdict verdict =
        GearTrain.bench(Fault.SUM_NOT_RESET)
            .contract(
                Contract.of(GearTrain.REFERENCE)
                    .valid("in_valid", "out_valid")
                    .reset("rst")
                    .latency(3)
                    .tolerance("angle", 4)
                    .ignoring("forward")
                    .build())
            .run();

    assertEquals("out_angle", only(verdict, Kind.INITIAL_STATE_SHOWS).signal());
    assertTrue(
        GearTrain.bench(Fault.NONE).contract(lenient).run().isPass(),
        "the tolerance itself passes");
  }

  @Test
  void swappedNeighboursAreCalledThat() {
    Verdict verdict = GearTrain.bench(Fault.NEIGHBOURS_SWAPPED).pacing(Pacing.backToBack()).run();

    only(verdict, Kind.ORDER_SWAPPED);
  }

  @Test
  void aToleranceAllowsSoManyLsbs() {
    Contract lenient = GearTrain.contract().tolerance("angle", 1).build();
    Verdict verdict =
        GearTrain.bench(Fault.ONE_TOO_MUCH_WHERE_TEETH_ARE_99).contract(lenient).run();

    assertTrue(verdict.isPass(), verdict::facts);
    assertEquals(2, verdict.bounds().get(0).worstWidth(), "one LSB to either side");
    assertEquals(2, verdict.bounds().get(0).medianWidth());
    assertEquals(-1, verdict.bounds().get(1).worstWidth(), "the flag stays exact");
    assertEquals(2, verdict.bounds().get(0).smallestError());
    assertEquals(1, verdict.bounds().get(1).smallestError());
    assertTrue(
        verdict
            .facts()
            .contains(
                "angle (s18.8): 2 LSB wide at the median, 2 at most; smallest error that half of"
                    + " the results would have shown: 2 LSB"),
        verdict::facts);
  }

  @Test
  void theSmallestErrorSeenIsThatWhichLeavesTheFartherBound() {
    for (long lsbs : new long[] {0, 1, 7, 400, 5_000}) {
      Verdict.Bounds angle =
          GearTrain.bench(Fault.NONE)
              .contract(GearTrain.contract().tolerance("angle", lsbs).build())
              .run()
              .bounds()
              .get(0);
      long most = lsbs + 1 <= 1023 ? lsbs + 1 : (lsbs + 1) * 33 / 32;
      assertTrue(
          angle.smallestError() >= lsbs + 1 && angle.smallestError() <= most, angle::toString);
      assertEquals(0, angle.open());
      assertEquals("s18.8", angle.format());
    }
  }

  @Test
  void boundsThatJudgeNothingAreNeverAPass() {
    Contract all = GearTrain.contract().tolerance("angle", 1L << 25).build();
    Verdict verdict = GearTrain.bench(Fault.NONE).contract(all).run();
    assertEquals(Outcome.NOTHING_CHECKED, verdict.outcome(), verdict::facts);
    assertEquals(Verdict.Bounds.NEVER, verdict.bounds().get(0).smallestError());
    assertEquals(
        "output angle was open in "
            + verdict.cases()
            + " of "
            + verdict.cases()
            + " results: more than half of all codes of s18.8 would have passed; a share of 0.9 is"
            + " allowed. Declare what narrows the bounds (formats, formula, tolerance, budget),"
            + " give cases that they decide, or allow more by mostOpen(...)",
        verdict.explanation());

    assertTrue(GearTrain.bench(Fault.NONE).contract(all).mostOpen(1).run().isPass());
    Contract forward = GearTrain.contract().tolerance("forward", 1).build();
    Verdict either = GearTrain.bench(Fault.NONE).contract(forward).run();
    assertTrue(
        either.explanation().contains("results: 0 and 1 would both have passed; "),
        either::explanation);
    assertThrows(IllegalArgumentException.class, () -> GearTrain.bench(Fault.NONE).mostOpen(1.01));
  }

  @Test
  void anOutputCountsWhenItsFlagIsOne() {
    Contract onlyForward = GearTrain.contract().validWhen("angle", "forward").build();
    Verdict verdict = GearTrain.bench(Fault.NONE).contract(onlyForward).run();

    assertTrue(verdict.isPass());
    long angles = verdict.bounds().get(0).compared();
    assertTrue(angles > 1_000 && angles < verdict.cases(), () -> angles + " compared");
  }

  @Test
  void anotherReferenceThatExplainsEveryMismatchIsNamed() {
    Supplier<Reference> less = () -> reference((in, sum) -> sum - 1);
    Supplier<Reference> ofTeeth = () -> reference((in, sum) -> in[1] == 99 ? sum + 1 : sum);
    Supplier<Reference> partly =
        () -> reference((in, sum) -> in[1] == 99 && in[0] > 0 ? sum + 1 : sum);
    Bench.Builder bench = GearTrain.bench(Fault.ONE_TOO_MUCH_WHERE_TEETH_ARE_99);
    Map<String, Supplier<Reference>> others = new LinkedHashMap<>();
    others.put(".less()", less);
    others.put(".partly()", partly);
    assertFalse(bench.alternatives(others).run().facts().contains("hint"));

    others.put(".teeth(99)", ofTeeth);
    Verdict verdict = bench.alternatives(others).run();
    assertTrue(
        verdict
            .facts()
            .contains(
                "hint       all 8 kept mismatches fit .teeth(99): held to that, nothing in this"
                    + " segment differs"),
        verdict::facts);
    assertEquals(8, verdict.kept().size());
  }

  @Test
  void anotherReferenceNeedsToHoldNoFartherThanWhatIsKept() {
    Bench.Builder bench =
        GearTrain.bench(Fault.ONE_TOO_MUCH_WHERE_TEETH_ARE_99)
            .alternatives(
                Map.of(
                    ".early()",
                    () -> reference((in, sum) -> in[1] == 99 && in[0] != 77 ? sum + 1 : sum)))
            .stimulus(
                Stimulus.standard()
                    .with("teeth", Generator.drawn(stream -> 90 + stream.below(10)))
                    .with("turns", Generator.drawn(stream -> stream.below(2_000))));
    Verdict verdict = bench.run();
    assertTrue(
        verdict
            .facts()
            .contains(" kept mismatches fit .early(): held to that, nothing differs before cycle "),
        verdict::facts);
  }

  private static Reference reference(LongBinary angle) {
    return Reference.of(
        "other gear train",
        GearTrain.REFERENCE.inputs(),
        GearTrain.REFERENCE.outputs(),
        (in, out) -> {
          long sum = in[0] * in[1] + in[2];
          out[0] = angle.of(in, sum);
          out[1] = sum > 0 ? 1 : 0;
        });
  }

  private interface LongBinary {
    long of(long[] in, long sum);
  }

  @Test
  void aTrialRecordsNothingAndLeavesTheBenchAsItIs() {
    List<Verdict> recorded = new ArrayList<>();
    Bench.Builder bench =
        GearTrain.bench(Fault.NONE)
            .recorder(
                verdict -> {
                  recorded.add(verdict);
                  return Optional.empty();
                });
    Verdict trial = bench.trial(reference((in, sum) -> sum + 1), 700);
    assertEquals(Outcome.MISMATCH, trial.outcome());
    assertTrue(bench.trial(GearTrain.REFERENCE, 700).cases() <= 700);
    assertEquals(List.of(), recorded);
    assertTrue(bench.run().isPass());
    assertEquals(1, recorded.size());
  }

  @Test
  void zeroCasesAreNeverAPass() {
    Verdict verdict = GearTrain.bench(Fault.NONE).cases(0).run();

    assertEquals(Outcome.NOTHING_CHECKED, verdict.outcome());
    AssertionFailedError error = assertThrows(AssertionFailedError.class, verdict::orFail);
    assertTrue(
        error
            .getMessage()
            .startsWith(
                "gear train: the check could not judge, since no result was ever due: not one case"
                    + " was compared"),
        error::getMessage);
    assertFalse(error.isExpectedDefined(), "this is no mismatch");
  }

  @Test
  void anOutputThatNeverCountedIsNeverAPass() {
    Verdict verdict =
        GearTrain.bench(Fault.NONE)
            .contract(
                Contract.of(GearTrain.REFERENCE)
                    .valid("in_valid", "out_valid")
                    .reset("rst")
                    .latency(3)
                    .validWhen("angle", "forward")
                    .build())
            .stimulus(Stimulus.each(Generator.codes(0)))
            .run();

    assertEquals(Outcome.NOTHING_CHECKED, verdict.outcome());
    assertEquals("output angle was never compared: forward was never 1", verdict.explanation());
  }

  @Test
  void aDutThatNeverGivesAResultIsAMismatch() {
    only(GearTrain.bench(Fault.NEVER_VALID).run(), Kind.VALID_MISSING);
  }

  private static Mismatch only(Verdict verdict, Kind kind) {
    assertEquals(Outcome.MISMATCH, verdict.outcome(), verdict::facts);
    assertEquals(kind, verdict.kept().get(0).kind(), verdict::facts);
    return verdict.kept().get(0);
  }
}
