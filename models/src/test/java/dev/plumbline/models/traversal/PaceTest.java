package dev.plumbline.models.traversal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Decisions before retirement: in numbers worked by hand, and against a clock that is ticked. */
class PaceTest {
  /** As the header of the sample chip's executor has it for words of 32 bits. */
  private static final Pace CHIP =
      Pace.of(54, 64)
          .withEarlyDecision(10, 2)
          .withFlush(3)
          .withLearning(2)
          .withClose(1)
          .withResult(2);

  private static ExecutorTiming timing(Pace pace, Predictor predictor) {
    ExecutorTiming timing = new ExecutorTiming(pace, predictor, Alteration.NONE);
    timing.accept();
    return timing;
  }

  /**
   * A skip dispatched in 2 retires in 56; what follows it is dispatched later and retires 54 on.
   */
  @ParameterizedTest(name = "state {0}, early {1}, at last {2}: next retires in {3}, {4} right")
  @CsvSource({
    "0,false,false,57,1", // dispatched in 3
    "3,true,true,58,1", // a cycle without
    "0,true,true,68,0", // in 14: 11 cycles lost
    "3,false,false,68,0",
    "0,false,true,113,0", // in 59, 3 after 56
    "3,false,true,113,1" // against the early decision, as predicted after all
  })
  void decisionsOfASkip(int state, boolean early, boolean taken, long next, long right) {
    Predictor predictor = Predictor.of(Predictor.Policy.TWO_BIT, 4);
    predictor.setState(0, state);
    ExecutorTiming timing = timing(CHIP, predictor);
    assertEquals(56, timing.retireSkip(0, early, taken));
    assertEquals(next, timing.retire(1));
    assertEquals(right, timing.right());
    assertEquals(1 - right, timing.wrong());
  }

  @Test
  void aCloseRetiresACycleLaterAndTheResultTwoAfterTheLast() {
    ExecutorTiming timing = timing(CHIP, Predictor.of(Predictor.Policy.NEVER, 0));
    assertEquals(56, timing.retire(1)); // begin
    assertEquals(57, timing.retire(1)); // solid
    assertEquals(59, timing.retireClose()); // arrives in 58
    assertEquals(60, timing.retire(1)); // end, arrived in 59
    assertEquals(61, timing.cycles());
    assertEquals(62, timing.result());
  }

  @Test
  void aPredictionKnowsWhatRetiredTwoCyclesBefore() {
    for (int between : new int[] {0, 1, 2, 3}) {
      Predictor predictor = Predictor.of(Predictor.Policy.ONE_BIT, 4);
      ExecutorTiming timing =
          timing(Pace.of(4, 64).withEarlyDecision(1, 2).withLearning(2), predictor);
      // The first skip is dispatched in 2, decided in 3, retires in 6; the next in 5 and so on.
      assertEquals(6, timing.retireSkip(0, true));
      for (int i = 0; i < between; i++) {
        timing.retire(1);
      }
      timing.retireSkip(0, true); // dispatched in 5 + between: from 8 on it knows
      assertEquals(5 + between >= 8 ? 1 : 0, timing.right(), between + " between");
    }
  }

  @Test
  void aDroppedRayIsLearntOnceAndOnlyWhatRetiredBefore() {
    for (long drop : new long[] {56, 57, 92}) {
      Predictor predictor = Predictor.of(Predictor.Policy.TWO_BIT, 4);
      predictor.setState(0, 3);
      ExecutorTiming timing = timing(CHIP, predictor);
      int[] before = predictor.states();
      assertEquals(56, timing.retireSkip(0, false)); // as if it were not dropped
      predictor.setStates(before);
      timing.cutAt(drop);
      timing.accept();
      timing.retireSkip(0, false);
      timing.endCut();
      assertEquals(drop > 56 ? 2 : 3, predictor.state(0), "dropped in " + drop);
    }
  }

  /** J. Little, 1961: room for Q and D cycles on the way. */
  @Test
  @DisplayName("F6 a queue of 4 and a latency of 19 with early decisions: as without skips")
  void roomCountsAsEver() {
    ExecutorTiming timing =
        timing(
            Pace.of(19, 4).withEarlyDecision(10, 2).withFlush(3),
            Predictor.of(Predictor.Policy.NEVER, 0));
    long[] ends = {21, 22, 23, 24, 41, 42, 43, 44, 61};
    for (long end : ends) {
      assertEquals(end, timing.retire(1));
    }
  }

  @Test
  void everyPaceKeepsTheTimeOfAClockThatIsTicked() {
    int skips = 0;
    int late = 0;
    for (long seed = 0; seed < 400; seed++) {
      Random random = new Random(seed);
      int latency = 1 + random.nextInt(30);
      Pace pace =
          new Pace(
              latency,
              1 + random.nextInt(40),
              random.nextInt(latency),
              1 + random.nextInt(3),
              1 + random.nextInt(4),
              1 + random.nextInt(3),
              random.nextInt(3),
              1 + random.nextInt(3));
      Predictor.Policy policy =
          Predictor.Policy.values()[1 + random.nextInt(Predictor.Policy.values().length - 1)];
      int indexBits = random.nextInt(4);
      TickedExecutor ticked = new TickedExecutor(pace, Predictor.of(policy, indexBits));
      ExecutorTiming timing =
          new ExecutorTiming(pace, Predictor.of(policy, indexBits), Alteration.NONE);
      for (int ray = 0; ray < 4; ray++) {
        List<TickedExecutor.Step> program = TickedExecutor.program(random);
        List<Long> expected = ticked.run(program);
        List<Long> ends = new ArrayList<>();
        timing.accept();
        for (int at = 0; at < program.size(); ) {
          TickedExecutor.Step step = program.get(at);
          ends.add(
              step.isSkip()
                  ? timing.retireSkip(at, step.early(), step.taken())
                  : timing.retire(step.cost()));
          skips += step.isSkip() ? 1 : 0;
          late += step.isSkip() && step.early() != step.taken() ? 1 : 0;
          at = step.isSkip() && step.taken() ? step.target() : at + 1;
        }
        String which = "seed " + seed + ", ray " + ray + ", " + pace + " " + policy;
        assertEquals(expected, ends, which);
        assertEquals(ticked.right, timing.right(), which);
        assertEquals(ticked.wrong, timing.wrong(), which);
      }
    }
    assertTrue(skips > 5000 && late > 500, skips + " skips, " + late + " late");
  }

  @Test
  void refusesWhatCannotBe() {
    assertEquals(
        "Executor that decides 5 cycles after dispatch and goes on 2 or 2 cycles later: a decision"
            + " comes 0 to 4 cycles after dispatch, the next dispatch 1 or more later.",
        assertThrows(IllegalArgumentException.class, () -> Pace.of(5, 1).withEarlyDecision(5, 2))
            .getMessage());
    assertEquals(
        "Executor of latency 0 with a queue of 1: both have to be 1 or more.",
        assertThrows(IllegalArgumentException.class, () -> Pace.of(0, 1)).getMessage());
    assertTrue(
        assertThrows(IllegalArgumentException.class, () -> Pace.of(5, 1).withLearning(0))
            .getMessage()
            .startsWith("Executor that learns after 0, closes in 0"));
  }
}
