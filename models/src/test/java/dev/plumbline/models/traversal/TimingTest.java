package dev.plumbline.models.traversal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Random;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class TimingTest {
  private static int misses(Predictor.Policy policy, int state, String pattern, int passes) {
    Predictor predictor = Predictor.of(policy, 4);
    predictor.setState(5, state);
    int misses = 0;
    for (char outcome : pattern.repeat(passes).toCharArray()) {
      boolean taken = outcome == 'T';
      misses += predictor.predict(5) == taken ? 0 : 1;
      predictor.update(5, taken);
    }
    return misses;
  }

  /** Imperial College, Advanced Computer Architecture notes; J. E. Smith, ISCA 1981. */
  @ParameterizedTest(name = "F1 loop of 9 taken and 1 not, {0} from state {1}: m = 100, {2} misses")
  @CsvSource({
    "ONE_BIT,0,200",
    "ONE_BIT,1,199",
    "TWO_BIT,0,102",
    "TWO_BIT,1,101",
    "TWO_BIT,2,100",
    "TWO_BIT,3,100"
  })
  void loops(Predictor.Policy policy, int state, int misses) {
    assertEquals(misses, misses(policy, state, "TTTTTTTTTN", 100));
  }

  /** H. Boegeholz, MMIX talk, 2001: one third of TTN in the long run. */
  @ParameterizedTest(name = "F2 {0} x {1}, {2} from state {3}: {4} misses")
  @CsvSource({
    "TN,50,TWO_BIT,0,50",
    "TN,50,TWO_BIT,1,100",
    "TN,50,TWO_BIT,2,50",
    "TN,50,TWO_BIT,3,50",
    "TN,50,ONE_BIT,0,100",
    "TN,50,ONE_BIT,1,99",
    "TTN,100,TWO_BIT,0,103",
    "TTN,100,TWO_BIT,1,101",
    "TTN,100,TWO_BIT,2,100",
    "TTN,100,TWO_BIT,3,100",
    "TTN,100,ONE_BIT,0,200",
    "TTN,100,ONE_BIT,1,199"
  })
  void patterns(String pattern, int passes, Predictor.Policy policy, int state, int misses) {
    assertEquals(misses, misses(policy, state, pattern, passes));
  }

  /** Four-state Markov chain: pq / (1 - 2pq) for two bits, 2pq for one. */
  @ParameterizedTest(name = "F3 random skips, p = {0}: one bit {1}, two bits {2}")
  @CsvSource({".9,.18,.109756", ".8,.32,.235294", ".7,.42,.362069", ".5,.5,.5"})
  void randomSkips(double p, double one, double two) {
    assertEquals(one, rate(Predictor.Policy.ONE_BIT, p), 0.004);
    assertEquals(two, rate(Predictor.Policy.TWO_BIT, p), 0.004);
  }

  private static double rate(Predictor.Policy policy, double p) {
    Random random = new Random(17);
    Predictor predictor = Predictor.of(policy, 0);
    int cases = 1_000_000;
    int misses = 0;
    for (int i = 0; i < cases; i++) {
      boolean taken = random.nextDouble() < p;
      misses += predictor.predict(0) == taken ? 0 : 1;
      predictor.update(0, taken);
    }
    return (double) misses / cases;
  }

  /** k + n - 1 cycles, the standard result for pipelines. */
  @ParameterizedTest(name = "F6 {0} stages, {1} operations: {2} cycles from the first dispatch")
  @CsvSource({
    "14,1,14",
    "14,16,29",
    "14,100,113",
    "14,1000,1013",
    "15,1,15",
    "15,16,30",
    "15,100,114",
    "15,1000,1014",
    "16,1,16",
    "16,16,31",
    "16,100,115",
    "16,1000,1015"
  })
  void fillTime(int stages, int operations, int cycles) {
    ExecutorTiming timing = timing(stages - 1, 64, Predictor.Policy.NEVER);
    for (int i = 0; i < operations; i++) {
      timing.retire(1);
    }
    assertEquals(2 + cycles, timing.cycles());
  }

  @Test
  @DisplayName("F6 a queue of q and a latency of d retire q in d + 1 cycles (J. Little, 1961)")
  void fullQueue() {
    ExecutorTiming timing = timing(19, 4, Predictor.Policy.NEVER);
    // By hand: four dispatched in 2 to 5, retired in 21 to 24; then 22 to 25, 41 to 44.
    long[] ends = {21, 22, 23, 24, 41, 42, 43, 44, 61};
    for (long end : ends) {
      assertEquals(end, timing.retire(1));
    }
  }

  private static ExecutorTiming timing(int latency, int queue, Predictor.Policy policy) {
    ExecutorTiming timing = new ExecutorTiming(latency, queue, Predictor.of(policy, 4));
    timing.accept();
    return timing;
  }

  @Test
  void combinationsHoldUpWhatFollows() {
    ExecutorTiming timing = timing(10, 64, Predictor.Policy.NEVER);
    assertEquals(12, timing.retire(1)); // dispatched in 2
    assertEquals(17, timing.retire(5)); // arrives in 13, costs 5
    assertEquals(18, timing.retire(1)); // arrived in 14
  }

  @ParameterizedTest(name = "{0}, taken {1}: skip in 12, next in {2}")
  @CsvSource({
    "NONE,false,24",
    "NONE,true,24",
    "NEVER,false,13",
    "NEVER,true,24",
    "ALWAYS,true,14",
    "ALWAYS,false,24",
    "ONE_BIT,false,13",
    "TWO_BIT,true,24"
  })
  void skips(Predictor.Policy policy, boolean taken, long next) {
    ExecutorTiming timing = timing(10, 64, policy);
    assertEquals(12, timing.retireSkip(0, taken));
    assertEquals(next, timing.retire(1));
  }

  @Test
  void predictorLearnsWhenASkipRetiresAndNotBefore() {
    ExecutorTiming timing = timing(3, 64, Predictor.Policy.ONE_BIT);
    // Not taken, predicted rightly; the same entry again, dispatched before the first retires.
    assertEquals(5, timing.retireSkip(0, false));
    assertEquals(6, timing.retireSkip(16, true)); // dispatched in 3: wrong, next in 8
    assertEquals(11, timing.retireSkip(0, true)); // learnt in 6: right, next in 10
    assertEquals(13, timing.retire(1));
    assertEquals(2, timing.right());
    assertEquals(1, timing.wrong());
    assertEquals(14, timing.cycles());
  }

  @Test
  void aDispatchInTheCycleOfRetirementDoesNotSeeWhatIsLearntInIt() {
    Predictor predictor = Predictor.of(Predictor.Policy.ONE_BIT, 4);
    predictor.setState(0, 1);
    ExecutorTiming timing = new ExecutorTiming(2, 64, predictor);
    timing.accept();
    assertEquals(4, timing.retireSkip(1, false)); // dispatched in 2
    assertEquals(5, timing.retireSkip(0, true)); // in 3: right, a bubble, next in 5
    assertEquals(7, timing.retireSkip(1, false)); // in 5
    predictor.setState(2, 1);
    assertEquals(8, timing.retire(1)); // in 6
    assertEquals(9, timing.retireSkip(2, true)); // in 7: right, next in 9, learns in 9
    predictor.setState(2, 0);
    assertEquals(11, timing.retireSkip(2, true)); // in 9: still 0, so wrong, next in 13
    assertEquals(15, timing.retire(1)); // 13 if the lesson of 9 were seen in 9
  }

  @Test
  @DisplayName("F4 stall behind every skip: CPI 1 + f * penalty")
  void cyclesAnOperation() {
    // One in five is a skip, resolved D + 2 cycles after its dispatch: D + 1 lost, each time.
    int latency = 10;
    ExecutorTiming timing = timing(latency, 64, Predictor.Policy.NONE);
    int groups = 1000;
    for (int i = 0; i < groups; i++) {
      for (int k = 0; k < 4; k++) {
        timing.retire(1);
      }
      timing.retireSkip(0, true);
    }
    double cpi = (timing.cycles() - 2.0) / (5 * groups);
    assertEquals(1 + 0.2 * (latency + 1), cpi, 0.01);
  }

  /**
   * Operations and skips in turn, as a pattern: "." for an operation, T for a skip that is taken, N
   * for one that is not. Cycles beyond one an operation, when the first dispatch and the way to
   * retirement are left out.
   */
  private static long lost(int latency, Predictor.Policy policy, String pattern, int times) {
    ExecutorTiming timing = timing(latency, 64, policy);
    for (char operation : pattern.repeat(times).toCharArray()) {
      if (operation == '.') {
        timing.retire(1);
      } else {
        timing.retireSkip(0, operation == 'T');
      }
    }
    timing.retire(1); // what the last skip costs is seen in the next operation
    return timing.cycles() - 2 - latency - (long) pattern.length() * times - 1;
  }

  /** UMass CmpSci 635, lecture 6; U. Washington CSEP 548. */
  @Test
  @DisplayName("F4 CPI 1 + .2 x .4 x 3 = 1.24, efficiency .806; .25 (.7 x 1 + .3 x 2) = .325")
  void cyclesAnOperationOfMispredictions() {
    // A skip resolved in stage 4 costs 3: dispatched in 2, retired in 4, the next in 6 instead of
    // 3.
    long lost = lost(2, Predictor.Policy.NEVER, "....T....T....N....N....N", 40);
    assertEquals(240, lost, "of 1000 operations, 200 skips, 80 taken");
    assertEquals(1.24, (1000 + lost) / 1000.0);
    assertEquals(.806, 1000.0 / (1000 + lost), 5e-4);
    // Predicted taken: one cycle when right, two when wrong.
    String quarter = "...T".repeat(7) + "...N".repeat(3);
    assertEquals(325, lost(1, Predictor.Policy.ALWAYS, quarter, 25), "of 1000, a quarter skips");
  }

  /**
   * J. Hennessy and D. Patterson, Computer Architecture, App. C, R4000 example (inputs from
   * memory): 6 % untaken and 10 % taken, each resolved at a cost of 3. There are no unconditional
   * branches here, which cost the R4000 .08 each time; and a skip predicted taken costs one cycle,
   * not two, since its target is known when it is fetched.
   */
  @ParameterizedTest(name = "F5 {0}: of {1} cycles lost in 100 operations, 8 less for jumps")
  @CsvSource({"NONE, 56", "ALWAYS, 46", "NEVER, 38"})
  void deepPipeline(Predictor.Policy policy, int published) {
    String pattern = ".....T".repeat(10) + "....N".repeat(6) + "..........";
    assertEquals(100, pattern.length());
    int known = policy == Predictor.Policy.ALWAYS ? 10 : 0;
    assertEquals(published - 8 - known, lost(2, policy, pattern, 1));
  }
}
