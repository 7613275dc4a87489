package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.check.GearTrain.Fault;
import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.stimulus.Generator;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.stimulus.Stimulus;
import dev.plumbline.verdict.Fact;
import dev.plumbline.verdict.Findings;
import dev.plumbline.verdict.MismatchGroup;
import dev.plumbline.verdict.MismatchGroup.Hypothesis;
import dev.plumbline.verdict.MismatchGroup.LikelyKind;
import dev.plumbline.verdict.Verdict;
import java.nio.file.Path;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.opentest4j.AssertionFailedError;

/** Failure texts, word by word: cases chosen so that every fact is known beforehand. */
class VerdictTextTest {
  /** turns 1.5, teeth 99, offset -0.25: 148.25; row 1 takes it, row 4 has the result. */
  private static Bench.Builder known(Fault fault) {
    return GearTrain.bench(fault)
        .stimulus(Stimulus.listed(new long[] {384, 99, -64}, new long[] {256, 2, 0}))
        .pacing(Pacing.backToBack())
        .resets(0)
        .initialStates(0)
        .cases(4)
        .seed(7);
  }

  @Test
  void aFailureIsToldInTwentyLinesWhereAFolderHasTheRest() {
    Verdict many = GearTrain.bench(Fault.ONE_TOO_MUCH_WHERE_TEETH_ARE_99).repeat("mvn").run();
    assertEquals(many.facts(), many.brief(), "nothing else has it");
    Verdict kept = many.withEvidenceFolder(Path.of("reports/today/gear_train"));
    assertTrue(kept.facts().lines().count() > 20, "the sample is too short");
    List<String> lines = kept.brief().lines().toList();
    assertEquals(20, lines.size(), kept.brief());
    for (String label : List.of("signal", "cycle", "expected", "actual", "inputs", "folder")) {
      assertTrue(lines.stream().anyMatch(line -> line.startsWith("  " + label)), label);
    }
    assertTrue(kept.brief().contains("... the rest is in facts.txt"), kept.brief());
    assertEquals(kept.brief(), assertThrows(AssertionFailedError.class, kept::orFail).getMessage());
  }

  /** As of a datapath whose stages take up the room. */
  @Test
  void theLikelyKindIsNotWhatIsCut() {
    Verdict many = GearTrain.bench(Fault.ONE_TOO_MUCH_WHERE_TEETH_ARE_99).repeat("mvn").run();
    Findings found = many.findings();
    Hypothesis wraps = new Hypothesis(LikelyKind.OVERFLOW, "step turned wraps", 3, 9);
    MismatchGroup group =
        new MismatchGroup("value wrong", 3, Optional.empty(), "", List.of(wraps), 70);
    Fact stage = new Fact("stage", Collections.nCopies(7, "agree up to one, part at another"));
    Verdict explained =
        Verdict.of(
                many.bench(),
                many.outcome(),
                "",
                many.checked(),
                many.origin(),
                new Findings(
                    found.segment(),
                    found.mismatches(),
                    found.kept(),
                    found.layout(),
                    found.rows(),
                    found.details(),
                    List.of(group),
                    "",
                    found.inside().withFacts(List.of(stage))))
            .withEvidenceFolder(Path.of("reports/today/gear_train"));
    List<String> lines = explained.brief().lines().toList();
    assertTrue(lines.size() <= 20, explained.brief());
    assertTrue(
        lines.stream()
            .anyMatch(line -> line.startsWith("  group 1    likely wrapped for saturated")),
        explained.brief());
  }

  @Test
  void aMismatchIsAListOfAlignedFacts() {
    Verdict verdict =
        known(Fault.ONE_TOO_MUCH_WHERE_TEETH_ARE_99)
            .repeat("mvn test -Dtest=GearTest#turns -Dplumbline.seed=7")
            .recorder(any -> Optional.of(Path.of("reports/today/gear_train")))
            .run();

    assertEquals(
        """
        gear train: value wrong
          signal     out_angle, s18.8
          cycle      4 of segment 0
          case       0
          expected   0x0009440  148.25
          actual     0x0009441  148.25390625
          difference +1 LSB
          inputs     turns = 0x0180  1.5
                     teeth = 0x63  99
                     offset = 0xffffc0  -0.25
          mismatches 2 rows in this segment
          also       cycle 6, out_angle: value wrong
          group 1    value wrong at out_angle: 2 rows
                     none of many explanations that were tried fits
                     smallest case: case-1.csv, 1 case in 2 cycles, the reset included
          checked    4 cases in 16 cycles
          seed       7
          folder     reports/today/gear_train
          repeat     mvn test -Dtest=GearTest#turns -Dplumbline.seed=7
          one case   mvn test -Dtest=GearTest#turns -Dplumbline.seed=7 -Dplumbline.case=reports/today/gear_train/case-1.csv\
        """
            .replace("\n", System.lineSeparator()),
        verdict.facts().replaceFirst("none of \\d+", "none of many"));
  }

  @Test
  void aMismatchCarriesExpectedAndActual() {
    Verdict verdict = known(Fault.ONE_TOO_MUCH_WHERE_TEETH_ARE_99).run();
    AssertionFailedError error = assertThrows(AssertionFailedError.class, verdict::orFail);

    assertEquals("0x0009440  148.25", error.getExpected().getValue());
    assertEquals("0x0009441  148.25390625", error.getActual().getValue());
    assertEquals(verdict.facts(), error.getMessage());
  }

  @Test
  void aRangeIsPrintedWithBothItsEnds() {
    Verdict verdict =
        known(Fault.NONE)
            .contract(
                Contract.of(
                        Reference.of(
                            "gear train",
                            List.of(GearTrain.TURNS, GearTrain.TEETH, GearTrain.OFFSET),
                            List.of(GearTrain.ANGLE),
                            (in, out) -> out[0] = 0x9450))
                    .valid("in_valid", "out_valid")
                    .reset("rst")
                    .latency(3)
                    .tolerance("angle", 2)
                    .build())
            .run();

    assertTrue(
        verdict.facts().contains("  expected   0x000944e  148.3046875  to  0x0009452  148.3203125"),
        verdict::facts);
    assertTrue(verdict.facts().contains("  difference -14 LSB"), verdict::facts);
  }

  @Test
  void aMissingValidIsAFactOfItsPort() {
    Verdict verdict = known(Fault.NEVER_VALID).run();

    assertTrue(
        verdict
            .facts()
            .startsWith(
                """
                gear train: valid missing
                  signal     out_valid
                  cycle      4 of segment 0
                  case       0
                  expected   1
                  actual     0
                  inputs     turns = 0x0180  1.5
                """
                    .replace("\n", System.lineSeparator())),
        verdict::facts);
  }

  @Test
  void aResultWithoutACaseIsReportedAsDueToNone() {
    Verdict verdict = GearTrain.bench(Fault.RESET_MISSES_THE_LAST_STAGE).initialStates(0).run();

    assertTrue(
        verdict.facts().contains("  case       none due" + System.lineSeparator()), verdict::facts);
  }

  @Test
  void aCheckThatCouldNotRunUsesOtherWordsThanOneThatFailed() {
    Verdict verdict =
        GearTrain.bench(Fault.NONE).stimulus(Stimulus.each(Generator.codes(0))).cases(0).run();
    AssertionFailedError error = assertThrows(AssertionFailedError.class, verdict::orFail);

    assertEquals(
        """
        gear train: the check could not judge, since no result was ever due: not one case was compared
          checked    0 cases in 0 cycles
          seed       1\
        """
            .replace("\n", System.lineSeparator()),
        error.getMessage());
    assertFalse(error.isExpectedDefined());
  }
}
