package dev.plumbline.check;

import static dev.plumbline.check.GearTrain.Fault;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.run.ContractSubject;
import dev.plumbline.stimulus.Generator;
import dev.plumbline.stimulus.Stimulus;
import dev.plumbline.verdict.TimelessVerdict;
import dev.plumbline.verdict.Verdict;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** Segments over threads. */
class ThreadsTest {
  @Test
  @Tag("thorough")
  void theVerdictDoesNotDependOnTheNumberOfThreads() {
    Bench.Builder bench =
        GearTrain.bench(Fault.NONE).cases(5L * ContractSubject.SEGMENT_CASES + 17).seed(11);
    List<Verdict> passes =
        List.of(bench.threads(1).run(), bench.threads(2).run(), bench.threads(7).run());
    Bench.Builder wrong =
        GearTrain.bench(Fault.ONE_TOO_MUCH_WHERE_TEETH_ARE_99)
            .stimulus(rareFault())
            .cases(4L * ContractSubject.SEGMENT_CASES)
            .seed(8);
    List<Verdict> failures =
        List.of(wrong.threads(1).run(), wrong.threads(2).run(), wrong.threads(7).run());

    for (List<Verdict> verdicts : List.of(passes, failures)) {
      assertEquals(TimelessVerdict.of(verdicts.get(0)), TimelessVerdict.of(verdicts.get(1)));
      assertEquals(TimelessVerdict.of(verdicts.get(0)), TimelessVerdict.of(verdicts.get(2)));
    }
    assertTrue(passes.get(0).isPass());
    assertTrue(failures.get(0).findings().segment() > 0, () -> failures.get(0).facts());
  }

  private static Stimulus rareFault() {
    Generator teeth = Generator.drawn(s -> s.below(100_000) == 0 ? 99 : s.below(99));
    return Stimulus.standard().with("teeth", teeth);
  }
}
