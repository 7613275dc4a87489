package dev.plumbline.models.solid;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.Evaluated;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import java.util.List;
import java.util.Random;
import java.util.function.Function;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** What ordinary hardware does another way, where that is declared. */
class SphereChoicesTest {
  private static final int CASES = 3000;
  private static final List<String> OUTPUTS = List.of("hit", "inside", "entry", "exit");
  private static final Format WORD = Format.signed(16, 16);
  private static final SphereDraws.Formats USUAL =
      new SphereDraws.Formats(WORD, Format.signed(2, 16), WORD);

  private final long[][] columns = new SphereDraws(USUAL, CASES, new Random(7)).any().columns;

  private static List<Function<Sphere, Datapath>> evaluations() {
    return List.of(Sphere::datapath, Sphere::budgeted);
  }

  /** A sphere of radius -r that is squared alone is one of radius r. */
  @ParameterizedTest
  @EnumSource
  void squaredRadiusHasNoSign(Sphere.Formula formula) {
    Sphere missed = USUAL.sphere(formula);
    Sphere squared = missed.withNegativeRadius(Sphere.NegativeRadius.SQUARED);
    long[][] positive = columns.clone();
    positive[SphereCases.RADIUS] = columns[SphereCases.RADIUS].clone();
    long[][] negative = columns.clone();
    negative[SphereCases.RADIUS] = columns[SphereCases.RADIUS].clone();
    for (int i = 0; i < CASES; i++) {
      long radius = Math.max(Math.abs(columns[SphereCases.RADIUS][i]), 1);
      positive[SphereCases.RADIUS][i] = Math.min(radius, Integer.MAX_VALUE);
      negative[SphereCases.RADIUS][i] = -positive[SphereCases.RADIUS][i];
    }
    for (Function<Sphere, Datapath> how : evaluations()) {
      Bounds wanted = new Bounds(how.apply(missed), positive);
      Bounds given = new Bounds(how.apply(squared), negative);
      Bounds never = new Bounds(how.apply(missed), negative);
      for (int i = 0; i < CASES; i++) {
        for (String output : OUTPUTS) {
          assertEquals(wanted.describe(output, i), given.describe(output, i), output);
        }
        assertEquals(0, never.high("hit", i));
      }
    }
    Evaluated.lawsHold(squared.budgeted(), negative, 1e-3);
  }

  /** Entry where it is ahead, else exit; where that is open, anything from one to the other. */
  @ParameterizedTest
  @EnumSource(names = {"NOT_NEGATIVE", "POSITIVE"})
  void nearestCrossingAheadStandsForTheEntry(Sphere.Entry entry) {
    int least = entry == Sphere.Entry.POSITIVE ? 1 : 0;
    Sphere nearest = USUAL.sphere(Sphere.Formula.ANY).withEntry(entry);
    int[] seen = new int[3];
    for (Function<Sphere, Datapath> how : evaluations()) {
      Bounds crossing = new Bounds(how.apply(USUAL.sphere(Sphere.Formula.ANY)), columns);
      Bounds given = new Bounds(how.apply(nearest), columns);
      for (int i = 0; i < CASES; i++) {
        boolean ahead = crossing.low("entry", i) >= least;
        boolean behind = crossing.high("entry", i) < least;
        long low = crossing.low(behind ? "exit" : "entry", i);
        long high = crossing.high(ahead ? "entry" : "exit", i);
        if (!ahead && !behind) {
          low = Math.min(low, crossing.low("exit", i));
          high = Math.max(high, crossing.high("entry", i));
        }
        assertEquals(low + " to " + high, given.describe("entry", i), "case " + i);
        seen[ahead ? 0 : behind ? 1 : 2]++;
      }
    }
    assertTrue(seen[0] > 100 && seen[1] > 100 && seen[2] > 10, java.util.Arrays.toString(seen));
    Evaluated.lawsHold(nearest.budgeted(), columns, 1e-3);
    Evaluated.lawsHold(nearest.datapath(), columns, 1e-3);
  }

  /** From 8 before a unit sphere straight at it: 7 and 9, or one LSB later and earlier. */
  @Test
  void rootsByTheirInverseMayBeOneBelowAtSquares() {
    long[] codes = {0, 0, 0, 8 << 16, 0, 0, 1 << 16, 1 << 16, 0, 0};
    long[][] one =
        java.util.stream.LongStream.of(codes).mapToObj(c -> new long[] {c}).toArray(long[][]::new);
    for (Sphere.Formula formula : Sphere.Formula.values()) {
      Sphere sphere = USUAL.sphere(formula);
      Bounds any = new Bounds(sphere.budgeted(), one);
      assertEquals((7 << 16) + " to " + ((7 << 16) + 1), any.describe("entry", 0));
      assertEquals(((9 << 16) - 1) + " to " + (9 << 16), any.describe("exit", 0));
      Sphere exact = sphere.withRoots(Sphere.Roots.EXACT_AT_SQUARES);
      Bounds sharp = new Bounds(exact.budgeted(), one);
      assertEquals((7 << 16) + " to " + (7 << 16), sharp.describe("entry", 0));
      assertEquals((9 << 16) + " to " + (9 << 16), sharp.describe("exit", 0));
    }
  }
}
