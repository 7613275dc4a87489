package dev.plumbline.lockstep;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.ContractException;
import dev.plumbline.lockstep.SoftExecutor.Fault;
import dev.plumbline.models.traversal.RayRules;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.stimulus.SeedText;
import dev.plumbline.verdict.CycleBudget;
import dev.plumbline.verdict.Fact;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Mismatch.Kind;
import dev.plumbline.verdict.Row;
import dev.plumbline.verdict.Verdict;
import dev.plumbline.verdict.Verdict.Outcome;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** The lockstep tried without a tool chain: executors in software, each fault by its name. */
class LockstepBenchTest {
  private static Mismatch only(Verdict verdict, Kind kind) {
    assertEquals(Outcome.MISMATCH, verdict.outcome(), verdict::facts);
    assertEquals(kind, verdict.kept().get(0).kind(), verdict::facts);
    return verdict.kept().get(0);
  }

  private static void only(Verdict verdict, Kind... kinds) {
    assertEquals(Outcome.MISMATCH, verdict.outcome(), verdict::facts);
    assertTrue(List.of(kinds).contains(verdict.kept().get(0).kind()), verdict::facts);
  }

  private static Mismatch only(Fault fault, Kind kind, String signal) {
    Mismatch mismatch = only(SoftExecutor.bench(fault).run(), kind);
    assertEquals(signal, mismatch.signal());
    return mismatch;
  }

  private static LockstepBench.Builder untimed(Fault fault) {
    return SoftExecutor.bench(fault).executor(SoftExecutor.promise().untimed().build());
  }

  @Test
  void anExecutorThatFollowsTheModelPasses() {
    Verdict verdict = SoftExecutor.bench(Fault.NONE).check();
    assertTrue(verdict.cases() > 1_050, verdict::facts);
    CycleBudget ofRays = verdict.checked().budgets().get(0);
    assertEquals("each ray's own, " + ofRays.measured(), ofRays.promised());
    assertTrue(ofRays.measured().matches("\\d+ to \\d+, \\d+\\.\\d on average"), ofRays::toString);
    assertEquals(List.of(), untimed(Fault.NONE).check().checked().budgets());
  }

  @Test
  void anExecutorOfNoRulesIsHeldToNone() {
    SoftExecutor.ruled(RayRules.plain(), RayRules.plain()).initialStates(0).cases(200).check();
  }

  /** Each choice by itself; an executor that made another one is red. */
  @Test
  @Tag("thorough")
  void executorsByOtherRulesAreHeldToThem() {
    RayRules standard = RayRules.standard();
    for (RayRules other :
        List.of(
            RayRules.plain(),
            standard.withClipping(false),
            standard.withEveryRayLimited(false),
            standard.withAnyHitAlone(false))) {
      SoftExecutor.ruled(other, other).cases(300).check();
      only(SoftExecutor.ruled(other, standard).initialStates(0).run(), Kind.VALUE_WRONG);
    }
  }

  @Test
  void aWrongTagOrFaceIsAWrongValue() {
    only(Fault.TELLS_THE_TAG_BEFORE, Kind.VALUE_WRONG, "result_tag");
    Mismatch side = only(Fault.TELLS_THE_OTHER_SIDE, Kind.VALUE_WRONG, "result_face");
    assertEquals(1, Math.abs(side.difference().intValue()));
  }

  @Test
  void whatStandsAtTheSurfacePortIsTheWordThatWasReadLast() {
    for (Fault fault : List.of(Fault.SURFACE_FOLLOWS_THE_ADDRESS, Fault.SURFACE_A_CYCLE_LATE)) {
      Mismatch mismatch = only(SoftExecutor.bench(fault).initialStates(0).run(), Kind.VALUE_WRONG);
      assertTrue(mismatch.signal().startsWith("surface_word["), mismatch.signal());
    }
    SoftExecutor.bench(Fault.SURFACE_A_CYCLE_LATE)
        .executor(SoftExecutor.promise().without("surface_word").build())
        .cases(300)
        .check();
  }

  @Test
  void anAbortedRayIsGoneAndWhatItTaughtIsNot() {
    only(
        SoftExecutor.bench(Fault.IGNORES_AN_ABORT).initialStates(0).run(),
        Kind.VALUE_WRONG,
        Kind.VALID_WITHOUT_CASE);
    only(
        SoftExecutor.bench(Fault.FORGETS_PREDICTIONS_ON_ABORT).initialStates(0).run(),
        Kind.VALUE_WRONG,
        Kind.EARLY,
        Kind.LATE,
        Kind.VALID_MISSING);
  }

  /** What is given in the row of an abort is held to the model; all of it may be withheld. */
  @Test
  @Tag("thorough")
  void whatIsGivenUnderAnAbortIsRight() {
    SoftExecutor.bench(Fault.WITHHOLDS_UNDER_ABORT).check();
    underAbort(Fault.OPERATION_WRONG_UNDER_ABORT, "retire_address");
    underAbort(Fault.RESULT_WRONG_UNDER_ABORT, "result_cycles");
    underAbort(Fault.READY_UNDER_ABORT, "ray_ready");
  }

  private static void underAbort(Fault fault, String signal) {
    Mismatch mismatch =
        only(SoftExecutor.bench(fault).initialStates(0).cases(4_000).run(), Kind.VALUE_WRONG);
    assertEquals(signal, mismatch.signal());
  }

  @Test
  void aDroppedSpanIsAWrongValue() {
    Mismatch mismatch = only(Fault.DROPS_THE_LAST_SPAN, Kind.VALUE_WRONG, "retire_count");
    assertEquals(1, mismatch.actual().intValue());
    assertEquals(2, mismatch.low().intValue());
  }

  @Test
  void aLateResultIsReportedWithItsCycles() {
    assertEquals(7, only(Fault.RESULT_LATE_BY_SEVEN, Kind.LATE, "result_valid").cycles());
    assertEquals(3, only(Fault.OPERATION_LATE_BY_THREE, Kind.LATE, "retire_valid").cycles());
  }

  /** The call ends four rows after the only result is due; it comes three rows later. */
  @Test
  void aResultThatComesAfterTheEndOfTheCallIsLateAllTheSame() {
    Mismatch late =
        only(
            SoftExecutor.bench(Fault.RESULT_LATE_BY_SEVEN)
                .cases(1)
                .ready(Pacing.backToBack())
                .run(),
            Kind.LATE);
    assertEquals(7, late.cycles());
  }

  @Test
  void anEarlyResultIsReportedWithItsCycles() {
    Mismatch mismatch =
        only(
            SoftExecutor.bench(Fault.RESULT_EARLY_BY_ONE)
                .executor(SoftExecutor.promise().without("retire_valid").build())
                .run(),
            Kind.EARLY);
    assertEquals(1, mismatch.cycles());
  }

  @Test
  void aLostResultIsMissing() {
    only(Fault.LOSES_A_RESULT, Kind.VALID_MISSING, "result_valid");
  }

  @Test
  void withoutCyclesALostResultIsReportedByTheNextInItsPlace() {
    only(untimed(Fault.LOSES_A_RESULT).run(), Kind.RESULT_LOST);
    only(untimed(Fault.LOSES_AN_OPERATION).run(), Kind.RESULT_LOST);
  }

  @Test
  void withoutCyclesARepeatedOperationIsReportedAsThat() {
    // With a seed whose first such ray has as many operations left as a pattern needs.
    only(untimed(Fault.REPEATS_AN_OPERATION).seed(2).run(), Kind.RESULT_REPEATED);
  }

  @Test
  void operationsInEachOthersPlaceAreSwapped() {
    only(Fault.SWAPS_TWO_OPERATIONS, Kind.ORDER_SWAPPED, "retire_address");
  }

  @Test
  void aResultHasToStandWhileStalled() {
    only(Fault.CHANGES_WHILE_STALLED, Kind.CHANGED_WHILE_STALLED, "result_material");
    only(Fault.WITHDRAWS_WHILE_STALLED, Kind.WITHDRAWN_WHILE_STALLED, "result_valid");
  }

  @Test
  void aResultWithoutARayIsReportedAsThat() {
    Mismatch mismatch = only(Fault.RESULT_WITHOUT_A_RAY, Kind.VALID_WITHOUT_CASE, "result_valid");
    assertEquals(-1, mismatch.caseNumber());
  }

  @Test
  void whatOutlivesItsResetIsAMismatchWhileTheResetLasts() {
    for (Fault fault : List.of(Fault.RESULT_UNDER_RESET, Fault.OPERATION_UNDER_RESET)) {
      String valid = fault == Fault.RESULT_UNDER_RESET ? "result_valid" : "retire_valid";
      Verdict verdict = SoftExecutor.bench(fault).resets(0.01).initialStates(0).run();

      only(verdict, Kind.VALID_WITHOUT_CASE);
      Mismatch mismatch = verdict.kept().get(0);
      assertEquals(valid, mismatch.signal());
      assertEquals(
          BigInteger.ONE, verdict.row(mismatch.cycle()).get().controls().get(0), "in reset");
    }
  }

  @Test
  @Tag("thorough")
  void aRayIsAcceptedWhenNothingIsInHandAndOnlyThen() {
    only(Fault.READY_WHILE_BUSY, Kind.VALUE_WRONG, "ray_ready");
    only(untimed(Fault.NEVER_READY_AGAIN).resets(0).initialStates(0).run(), Kind.NEVER_READY);
  }

  @Test
  @Tag("thorough")
  void stateThatOutlivesResetShows() {
    Verdict verdict = SoftExecutor.bench(Fault.PREDICTOR_OUTLIVES_RESET).run();
    only(verdict, Kind.INITIAL_STATE_SHOWS);
    assertTrue(
        verdict.facts().contains("(state from before the reset shows after it)"), verdict::facts);

    // No simple state is the better for it: predictions outlive the later resets too.
    verdict =
        SoftExecutor.bench(Fault.PREDICTOR_OUTLIVES_RESET).recorder(any -> Optional.empty()).run();
    assertTrue(
        verdict.facts().contains("a reset does not clear the predictions (explains "),
        verdict::facts);

    // No cycle is promised, so that only the comparison of states can find it.
    verdict = untimed(Fault.PREDICTOR_OUTLIVES_RESET).run();
    only(verdict, Kind.INITIAL_STATE_SHOWS);
    assertTrue(untimed(Fault.PREDICTOR_OUTLIVES_RESET).cases(300).initialStates(0).run().isPass());
  }

  @Test
  @Tag("thorough")
  void theVerdictIsTheSameForAnyNumberOfThreads() {
    for (Fault fault : List.of(Fault.NONE, Fault.COUNTS_ONE_OPERATION_MORE)) {
      LockstepBench.Builder bench = SoftExecutor.bench(fault).seed(5);
      Verdict one = bench.threads(1).run();
      Verdict three = bench.threads(3).run();
      assertEquals(one.facts(), three.facts());
      assertEquals(one.rows(), three.rows());
    }
  }

  @Test
  void theEvidenceReachesFromTheRaysAcceptanceToAFewCyclesLater() {
    Verdict verdict = SoftExecutor.bench(Fault.COUNTS_ONE_OPERATION_MORE).run();
    List<Row> rows = verdict.rows();
    Mismatch mismatch = verdict.kept().get(0);
    Row accepted = rows.get(0);
    assertEquals(mismatch.caseNumber(), accepted.caseIn());
    assertEquals(List.of(0, 0, 1, 1, 0, 0), controls(accepted).subList(0, 6));
    assertEquals(mismatch.cycle() + 6, rows.get(rows.size() - 1).cycle());
    for (int i = 1; i < rows.size(); i++) {
      assertEquals(rows.get(i - 1).cycle() + 1, rows.get(i).cycle());
    }
    Row wrong = verdict.row(mismatch.cycle()).orElseThrow();
    assertEquals("value wrong", wrong.verdict());
    assertEquals(mismatch.caseNumber(), wrong.caseOut());
  }

  private static List<Integer> controls(Row row) {
    return row.controls().stream().map(code -> code.intValue()).toList();
  }

  @Test
  void theFactsNameTheOperationTheProgramAndTheRay() {
    Verdict verdict =
        SoftExecutor.bench(Fault.DROPS_THE_LAST_SPAN).repeat("mvn test -Dtest=Wheels").run();
    List<String> labels = verdict.findings().details().stream().map(Fact::label).toList();
    assertEquals(List.of("operation", "due", "program", "ray", "spans", "values"), labels);
    assertTrue(
        verdict.findings().details().get(2).lines().stream()
            .anyMatch(line -> line.startsWith("-> ")),
        verdict::facts);
    assertTrue(verdict.facts().contains("  repeat     mvn test -Dtest=Wheels"), verdict::facts);
  }

  @Test
  @Tag("thorough")
  void chanceFollowsFromSeedAndName() {
    String one = SoftExecutor.bench(Fault.DROPS_THE_LAST_SPAN).seed(3).run().facts();
    assertEquals(one, SoftExecutor.bench(Fault.DROPS_THE_LAST_SPAN).seed(3).run().facts());
    assertNotEquals(
        one.replace("seed       3", "seed       4"),
        SoftExecutor.bench(Fault.DROPS_THE_LAST_SPAN).seed(4).run().facts());
    assertNotEquals(
        one,
        SoftExecutor.bench(Fault.DROPS_THE_LAST_SPAN)
            .named("another")
            .seed(3)
            .run()
            .facts()
            .replace("another:", "soft executor:"));
  }

  @Test
  @Tag("thorough")
  void pacingAndResetsAreAsTheyAreSet() {
    long atOnce = pacedCycles(Pacing.backToBack(), Pacing.backToBack(), 0);
    long withGaps = pacedCycles(Pacing.bursts(1, 200), Pacing.backToBack(), 0);
    long stalled = pacedCycles(Pacing.backToBack(), Pacing.bursts(1, 200), 0);
    assertTrue(withGaps > atOnce + 10_000, withGaps + " against " + atOnce);
    assertTrue(stalled > atOnce + 10_000, stalled + " against " + atOnce);

    Verdict often = SoftExecutor.bench(Fault.NONE).cases(300).resets(1).check();
    assertTrue(often.cases() < 295, "rays are cut, and not counted: " + often.cases());
    Verdict never = SoftExecutor.bench(Fault.NONE).cases(300).resets(0).check();
    assertEquals(300, never.cases());
  }

  private static long pacedCycles(Pacing offers, Pacing ready, double resets) {
    return SoftExecutor.bench(Fault.NONE)
        .cases(200)
        .pacing(offers)
        .ready(ready)
        .resets(resets)
        .check()
        .cycles();
  }

  @Test
  void aCheckWithoutRaysCouldNotJudge() {
    Verdict verdict = SoftExecutor.bench(Fault.NONE).cases(0).run();
    assertEquals(Outcome.NOTHING_CHECKED, verdict.outcome());
  }

  @Test
  void aBenchWithoutAnExecutorIsRefused() {
    ContractException refusal =
        assertThrows(
            ContractException.class, () -> SoftExecutor.bench(Fault.NONE).executor(null).build());
    assertEquals(
        "Bench \"soft executor\" has no executor; give one with executor(...).",
        refusal.getMessage());
  }

  @Test
  void aWrongCounterIsAWrongValue() {
    Mismatch mismatch =
        only(Fault.COUNTS_ONE_OPERATION_MORE, Kind.VALUE_WRONG, "result_operations");
    assertEquals(1, mismatch.difference().intValue());
    String facts = SoftExecutor.bench(Fault.COUNTS_ONE_OPERATION_MORE).run().facts();
    assertTrue(facts.lines().anyMatch("  difference +1"::equals), facts);
  }

  /** Whatever only shows while something waits has to have its chance within a thousand rays. */
  @Test
  @Tag("thorough")
  void resultsWaitForTheConsumerAndTheExecutorForRays() {
    List<SoftExecutor> opened = new ArrayList<>();
    SoftExecutor.watched(opened::add).cases(1_024).initialStates(0).seed(SeedText.ofRun()).check();
    for (List<Integer> waits : List.of(opened.get(0).waits, opened.get(0).gaps)) {
      long some = waits.stream().filter(cycles -> cycles > 0).count();
      long many = waits.stream().filter(cycles -> cycles >= 8).count();
      assertTrue(some >= 150, some + " of " + waits.size() + " wait");
      assertTrue(many >= 20, many + " of " + waits.size() + " wait for 8 cycles");
      assertTrue(some <= waits.size() - 300, some + " of " + waits.size() + " wait");
    }
  }
}
