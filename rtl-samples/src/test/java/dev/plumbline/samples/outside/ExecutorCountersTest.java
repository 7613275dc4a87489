package dev.plumbline.samples.outside;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cases.RandomScenes;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.samples.ObservedExecutor;
import dev.plumbline.samples.ObservedExecutor.Result;
import dev.plumbline.samples.SampleExecutor;
import dev.plumbline.stimulus.RandomStream;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Published figures of branch prediction and pipelines against the RTL's own counters. */
@Execution(ExecutionMode.CONCURRENT)
class ExecutorCountersTest {
  private static final SampleExecutor SMALL = SampleExecutor.SMALL;
  private static final long ONE = 1L << SMALL.word().fractionBits();

  /** A box in front of rays that are to hit it. */
  private static final long[] BOX = {-ONE, -ONE, 4 * ONE, ONE, ONE, 5 * ONE};

  /** Rays along z: T misses the box, so that its skip is taken, N hits it. */
  private static Rays rays(String outcomes) {
    Rays rays = Rays.of(SMALL.formats(), outcomes.length());
    for (int ray = 0; ray < outcomes.length(); ray++) {
      long x = outcomes.charAt(ray) == 'T' ? 3 * ONE : 0;
      rays.nearest(ray, 0, new long[] {x, 0, 0}, new long[] {0, 0, ONE});
    }
    return rays;
  }

  /** One skip over one object. */
  private static Program oneSkip() {
    Program.Builder program = Program.builder(SMALL.formats(), SMALL.limits());
    Program.Label past = program.label();
    return object(program.skip(past, BOX)).place(past).end().build();
  }

  private static Program.Builder object(Program.Builder program) {
    return program.begin().box(1, BOX).close();
  }

  /** Wrong predictions of an executor just reset, those of the first rays not counted. */
  private static long wrong(String first, String outcomes) {
    try (ObservedExecutor rtl = new ObservedExecutor(SMALL)) {
      rtl.load(oneSkip());
      List<Result> results = rtl.run(rays(first + outcomes));
      results.forEach(result -> assertEquals(1, result.right() + result.wrong()));
      return results.stream().skip(first.length()).mapToLong(Result::wrong).sum();
    }
  }

  /**
   * Imperial College, Advanced Computer Architecture notes; J. E. Smith, ISCA 1981. A counter is
   * brought to its state by as many skips taken.
   */
  @ParameterizedTest(name = "F1 loop of 9 taken and 1 not, from state {0}: m = 100, {1} misses")
  @CsvSource({"0,102", "1,101", "2,100", "3,100"})
  void loops(int state, int misses) {
    assertEquals(misses, wrong("T".repeat(state), "TTTTTTTTTN".repeat(100)));
  }

  /** H. Boegeholz, MMIX talk, 2001: one third of TTN in the long run. */
  @ParameterizedTest(name = "F2 {0} x {1}, from state {2}: {3} misses")
  @CsvSource({
    "TN,50,0,50",
    "TN,50,1,100",
    "TN,50,2,50",
    "TN,50,3,50",
    "TTN,100,0,103",
    "TTN,100,1,101",
    "TTN,100,2,100",
    "TTN,100,3,100"
  })
  void patterns(String pattern, int passes, int state, int misses) {
    assertEquals(misses, wrong("T".repeat(state), pattern.repeat(passes)));
  }

  /** Four-state Markov chain, pq / (1 - 2pq); five standard errors (I2), the seed is fixed. */
  @ParameterizedTest(name = "F3 random skips, p = {0}: {1} are missed")
  @CsvSource({".9,.109756", ".8,.235294", ".7,.362069", ".5,.5"})
  void randomSkips(double p, double rate) {
    int skips = 4000;
    RandomStream chance = RandomStream.of(31);
    StringBuilder outcomes = new StringBuilder();
    for (int i = 0; i < skips; i++) {
      outcomes.append(chance.chance(p) ? 'T' : 'N');
    }
    double error = Math.sqrt(rate * (1 - rate) / skips);
    assertEquals(rate, (double) wrong("TTT", outcomes.toString()) / skips, 5 * error);
  }

  /**
   * k + n - 1 cycles, the standard result for pipelines; 2 before the first dispatch, and one more
   * for each close.
   */
  @ParameterizedTest(name = "F6 {0} operations through 55 stages: {0} + 55 - 1 cycles")
  @CsvSource({"1", "16", "100", "1000"})
  void fillTime(int operations) {
    SampleExecutor executor = SampleExecutor.STANDARD;
    Result result = alone(executor, operations);
    assertEquals(operations, result.operations());
    int stages = executor.latency() + 1; // from dispatch to retirement, both included
    int closes = (operations - 1) / 3;
    assertEquals(2 + operations + stages - 1 + closes, result.cycles());
  }

  @Test
  @DisplayName("F6 room for 12 and 39 stages: 12 operations in 39 cycles (J. Little, 1961)")
  void fullQueue() {
    // By hand: the first retires in 40, and frees the room of one that retires 39 cycles later:
    // operation 49 is the first of the fifth dozen. Closes are over before it comes.
    assertEquals(40 + 4 * 39 + 1, alone(SMALL, 49).cycles());
  }

  /** One ray through objects and an end, 3 k + 1 operations without a skip. */
  private static Result alone(SampleExecutor executor, int operations) {
    Program.Builder program = Program.builder(executor.formats(), executor.limits());
    for (int i = 1; i < operations; i += 3) {
      object(program);
    }
    Rays rays = Rays.of(executor.formats(), 1);
    rays.nearest(0, 0, new long[3], new long[] {0, 0, 1L << executor.direction().fractionBits()});
    try (ObservedExecutor rtl = new ObservedExecutor(executor)) {
      rtl.load(program.end().build());
      return rtl.run(rays).get(0);
    }
  }

  /**
   * Skips to the very next word: whatever they do, the same operations retire. No closes, which
   * would make up for a part of what is lost.
   */
  private static Program idleSkips(SampleExecutor executor, int skips) {
    Program.Builder program = Program.builder(executor.formats(), executor.limits());
    for (int i = 0; i < skips; i++) {
      Program.Label next = program.label();
      program.skip(next, scaled(executor)).place(next);
    }
    return program.end().build();
  }

  private static long[] scaled(SampleExecutor executor) {
    int shift = executor.word().fractionBits() - SMALL.word().fractionBits();
    return Arrays.stream(BOX).map(code -> code << shift).toArray();
  }

  @Test
  @DisplayName("F4 CPI 1 + f m penalty, resolved in stage N costs N - 1; F6 k bubbles add k")
  void cyclesAnOperation() {
    // UMass CmpSci 635 lect. 6; U. Washington CSEP 548.
    SampleExecutor executor = SampleExecutor.STANDARD;
    long one = 1L << executor.word().fractionBits();
    int skips = 16;
    Rays rays = Rays.of(executor.formats(), 4);
    for (int ray = 0; ray < 4; ray++) {
      // The first ray hits all boxes, as predicted; the others miss them, for which twice nobody
      // is prepared.
      long[] origin = {ray == 0 ? 0 : 3 * one, 0, 0};
      rays.nearest(ray, 0, origin, new long[] {0, 0, one});
    }
    List<Result> results;
    try (ObservedExecutor rtl = new ObservedExecutor(executor)) {
      rtl.load(idleSkips(executor, skips));
      results = rtl.run(rays);
    }
    int operations = skips + 1;
    results.forEach(result -> assertEquals(operations, result.operations()));
    long best = results.get(0).cycles();
    double f = (double) skips / operations;
    int stages = 12; // decided 10 cycles after dispatch, dispatched again 2 later: one is lost less
    for (int ray = 1; ray < 3; ray++) {
      assertEquals(skips, results.get(ray).wrong());
      double more = (double) (results.get(ray).cycles() - best) / operations;
      assertEquals(f * 1 * (stages - 1), more, 1e-9);
    }
    assertEquals(skips, results.get(3).right());
    assertEquals(best + skips, results.get(3).cycles(), "a bubble for each skip that is taken");
  }

  @Test
  @DisplayName("F7 whatever the predictor learnt, results are the same and only cycles differ")
  void predictionIsNeutral() {
    RandomScenes scenes =
        RandomScenes.of(SMALL.formats(), SMALL.limits(), SMALL.spans(), RandomStream.of(7));
    int count = 40;
    boolean differed = false;
    try (ObservedExecutor rtl = new ObservedExecutor(SMALL)) {
      for (int i = 0; i < 20; i++) {
        Program program = scenes.next();
        Rays rays = Rays.of(SMALL.formats(), count);
        scenes.rays(rays, 0, count);
        rtl.load(program);
        List<Result> usual = rtl.run(rays);
        List<Result> again = rtl.run(reversed(rays));
        Collections.reverse(again);
        List<Result> fresh = new ArrayList<>();
        for (int ray = 0; ray < count; ray++) {
          rtl.reset();
          fresh.addAll(rtl.run(only(rays, ray)));
        }
        for (int ray = 0; ray < count; ray++) {
          assertEquals(result(usual.get(ray)), result(again.get(ray)));
          assertEquals(result(usual.get(ray)), result(fresh.get(ray)));
        }
        differed |= cycles(usual) != cycles(again) && cycles(usual) != cycles(fresh);
      }
    }
    assertTrue(differed, "prediction makes a difference somewhere");
  }

  private static Rays reversed(Rays rays) {
    Rays reversed = Rays.of(rays.formats(), rays.capacity());
    for (String name : Rays.names()) {
      for (int ray = 0; ray < rays.capacity(); ray++) {
        reversed.column(name)[ray] = rays.column(name)[rays.capacity() - 1 - ray];
      }
    }
    return reversed;
  }

  private static Rays only(Rays rays, int ray) {
    Rays one = Rays.of(rays.formats(), 1);
    Rays.names().forEach(name -> one.column(name)[0] = rays.column(name)[ray]);
    return one;
  }

  private static List<Object> result(Result result) {
    return List.of(
        result.hit(),
        result.distance(),
        result.material(),
        result.reversed(),
        result.operations(),
        result.right() + result.wrong());
  }

  private static long cycles(List<Result> results) {
    return results.stream().mapToLong(Result::cycles).sum();
  }
}
