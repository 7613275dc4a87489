package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.check.GearTrain.Fault;
import dev.plumbline.contract.Contract;
import dev.plumbline.contract.ContractException;
import dev.plumbline.contract.CoveragePoints;
import dev.plumbline.contract.Reference;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.run.ContractSubject;
import dev.plumbline.stimulus.Generator;
import dev.plumbline.stimulus.Stimulus;
import dev.plumbline.verdict.Verdict;
import dev.plumbline.verdict.Verdict.Outcome;
import org.junit.jupiter.api.Test;
import org.opentest4j.AssertionFailedError;

/**
 * A bench counts the coverage points that it reached, and does not pass without having reached all
 * it declares.
 */
class CoveragePointsTest {
  private static final Operand TEETH =
      GearTrain.bench(Fault.NONE)
          .build()
          .subject()
          .binding()
          .contract()
          .reference()
          .inputs()
          .stream()
          .filter(operand -> operand.name().equals("teeth"))
          .findFirst()
          .orElseThrow();

  @Test
  void everyOfferedCaseCountsOnceForEachCoveragePointItReaches() {
    Verdict verdict =
        GearTrain.bench(Fault.NONE)
            .coverage(teeth(5, 7))
            .stimulus(Stimulus.standard().with("teeth", Generator.codes(5)))
            .resets(0)
            .cases(3 * ContractSubject.SEGMENT_CASES / 2)
            .run();

    assertEquals(
        3 * ContractSubject.SEGMENT_CASES / 2,
        verdict.checked().coverage().get(0).met(),
        "5 teeth");
    assertEquals(0, verdict.checked().coverage().get(1).met(), "7 teeth");
  }

  @Test
  void countsDoNotDependOnTheNumberOfThreads() {
    Bench.Builder bench =
        GearTrain.bench(Fault.NONE).coverage(teeth(5, 7)).cases(3L * ContractSubject.SEGMENT_CASES);

    Verdict one = bench.threads(1).run();
    assertTrue(one.isPass(), one::facts);
    assertTrue(one.checked().coverage().stream().allMatch(point -> point.met() > 0));
    assertEquals(one.checked().coverage(), bench.threads(3).run().checked().coverage());
  }

  @Test
  void aCoveragePointThatIsNeverReachedIsNoPass() {
    Bench.Builder bench =
        GearTrain.bench(Fault.NONE)
            .coverage(teeth(5, 7))
            .stimulus(Stimulus.standard().with("teeth", Generator.codes(5, 6)));

    assertEquals(Outcome.NOT_REACHED, bench.run().outcome());
    AssertionFailedError failure = assertThrows(AssertionFailedError.class, bench::check);
    assertTrue(
        failure.getMessage().contains("nothing differs, but the cases not reached: with 7 teeth"),
        failure::getMessage);
  }

  @Test
  void aMismatchIsReportedBeforeACoveragePointThatIsMissing() {
    Verdict verdict =
        GearTrain.bench(Fault.ONE_TOO_MUCH_WHERE_TEETH_ARE_99)
            .coverage(teeth(5, 7))
            .stimulus(Stimulus.standard().with("teeth", Generator.codes(99)))
            .run();

    assertEquals(Outcome.MISMATCH, verdict.outcome());
  }

  @Test
  void onlyCasesThatDecideAnOutputCountWhereThatIsAsked() {
    // Turned forward or not may be either with 7 teeth.
    Datapath.Builder b = Datapath.named("gear train");
    Value turns = b.input("turns", GearTrain.TURNS.format());
    Value teeth = b.input("teeth", GearTrain.TEETH.format());
    Value offset = b.input("offset", GearTrain.OFFSET.format());
    Value angle = b.add("angle", b.multiply("product", turns, teeth), offset);
    Value forward = b.lessThan("turned", b.constant("zero", GearTrain.ANGLE.format(), 0), angle);
    Value seven = b.equal("seven", teeth, b.constant("seven_teeth", GearTrain.TEETH.format(), 7));
    Value other = b.select("other", seven, b.not("not_forward", forward), forward);
    b.output("angle", angle, GearTrain.ANGLE.format());
    b.output("forward", b.either("either", forward, other));
    Bench.Builder bench =
        GearTrain.bench(Fault.NONE)
            .contract(
                Contract.of(Reference.bounded(b.build()))
                    .valid("in_valid", "out_valid")
                    .reset("rst")
                    .latency(3)
                    .build())
            .stimulus(Stimulus.standard().with("teeth", Generator.codes(5, 7)));

    assertEquals(Outcome.PASS, bench.coverage(teeth(5, 7)).run().outcome());
    assertEquals(Outcome.PASS, bench.coverage(teeth(5, 7).whereDecided("angle")).run().outcome());
    Verdict verdict = bench.coverage(teeth(5, 7).whereDecided("forward")).run();
    assertEquals(Outcome.NOT_REACHED, verdict.outcome());
    assertTrue(verdict.checked().coverage().get(0).met() > 0, "5 teeth");
    assertEquals(0, verdict.checked().coverage().get(1).met(), "7 teeth");
  }

  @Test
  void aDecisionThatIsNoOutputIsRefusedWithThoseThatAre() {
    Bench.Builder bench = GearTrain.bench(Fault.NONE).coverage(teeth(5).whereDecided("hit"));

    ContractException refusal = assertThrows(ContractException.class, bench::build);
    assertTrue(refusal.getMessage().contains("output \"hit\" is decided"), refusal::getMessage);
    assertTrue(refusal.getMessage().contains("angle, forward"), refusal::getMessage);
  }

  @Test
  void anOperandThatIsNotThereIsRefusedWithThoseThatAre() {
    Datapath.Builder b = Datapath.named("lamp coverage points");
    Value lamp = b.input("lamp", Format.bit());
    b.output("lit", lamp);
    Bench.Builder bench = GearTrain.bench(Fault.NONE).coverage(CoveragePoints.of(b.build()));

    ContractException refusal = assertThrows(ContractException.class, bench::build);
    assertTrue(refusal.getMessage().contains("look at lamp"), refusal::getMessage);
    assertTrue(refusal.getMessage().contains("teeth"), refusal::getMessage);
  }

  @Test
  void aCoveragePointThatIsNoBitIsRefused() {
    Datapath.Builder b = Datapath.named("teeth");
    b.output("teeth", b.input("count", TEETH.format()));
    Datapath datapath = b.build();

    ContractException refusal =
        assertThrows(ContractException.class, () -> CoveragePoints.of(datapath));
    assertTrue(refusal.getMessage().contains("a bit is needed"), refusal::getMessage);
  }

  private static CoveragePoints teeth(long... counts) {
    Datapath.Builder b = Datapath.named("teeth coverage points");
    Value teeth = b.input("teeth", TEETH.format());
    for (long count : counts) {
      Value wanted = b.constant("wanted_" + count, TEETH.format(), count);
      b.output("with_" + count + "_teeth", b.equal("is_" + count, teeth, wanted));
    }
    return CoveragePoints.of(b.build());
  }
}
