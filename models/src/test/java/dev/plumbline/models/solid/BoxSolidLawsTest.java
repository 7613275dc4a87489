package dev.plumbline.models.solid;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assertions.fail;

import dev.plumbline.models.Evaluated;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.unit.Reciprocal;
import java.util.Map;
import java.util.Random;
import java.util.function.Supplier;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** The box as a solid: exact and ideal inside bounds, other builds inside budgets, sharpness. */
class BoxSolidLawsTest {
  private static final int CASES = Boolean.getBoolean("plumbline.long") ? 120_000 : 12_000;
  private static final long SEED = 47;
  private static final double SLACK = .01;

  private static Datapath exact(PlaneFormats formats, boolean inverses) {
    Box box = Box.of(formats.word);
    return inverses ? box.fromInverse(formats.word) : box.fromDirection(reciprocal(formats));
  }

  private static Datapath budgeted(PlaneFormats formats, boolean inverses) {
    Box box = Box.of(formats.word);
    Budget budget = box.budget(formats.word);
    return inverses
        ? box.budgetedFromInverse(formats.word, budget)
        : box.budgetedFromDirection(reciprocal(formats), budget);
  }

  private static Reciprocal reciprocal(PlaneFormats formats) {
    return Reciprocal.between(formats.direction, formats.word);
  }

  private static long[][] cases(PlaneFormats formats, boolean inverses) {
    BoxCases cases = new BoxCases(SEED, formats);
    return inverses ? cases.inverses(CASES) : cases.directions(CASES);
  }

  @ParameterizedTest
  @EnumSource
  void exactAndIdealLieInBothBounds(PlaneFormats formats) {
    for (boolean inverses : new boolean[] {true, false}) {
      long[][] cases = cases(formats, inverses);
      Evaluated.lawsHold(exact(formats, inverses), cases, SLACK);
      Evaluated.lawsHold(budgeted(formats, inverses), cases, SLACK);
      new Bounds(budgeted(formats, inverses), cases).requireBitsOf(exact(formats, inverses), cases);
    }
  }

  @ParameterizedTest
  @EnumSource
  void otherOrdersAndRoundingsLieInTheBudgetedBounds(PlaneFormats formats) {
    Random random = new Random(SEED);
    for (boolean inverses : new boolean[] {true, false}) {
      long[][] cases = cases(formats, inverses);
      Datapath budgeted = budgeted(formats, inverses);
      Bounds bounds = new Bounds(budgeted, cases);
      for (int i = 0; i < CASES; i++) {
        SlabHardware other =
            new SlabHardware(
                SlabFormats.of(formats, inverses),
                true,
                0,
                BoxSlab.OnFace.INSIDE,
                SlabHardware.Fault.NONE,
                random);
        for (Map.Entry<String, Long> output : other.run(cases, i).entrySet()) {
          String name = output.getKey();
          if (!bounds.holds(name, i, output.getValue())) {
            String which = name + " " + bounds.describe(name, i) + ", not " + output.getValue();
            fail(which + " from a " + other + " for " + Evaluated.describe(budgeted, cases, i));
          }
        }
      }
    }
  }

  /**
   * With the inverse given, a distance is off by less than an LSB for one rounding, and by one more
   * in a budget: a gap of so many on both sides settles the decision.
   */
  @ParameterizedTest(name = "C8: zero false misses, and nothing open that a few LSB settle, {0}")
  @EnumSource
  void whatTheDeclaredPrecisionDecidesIsDecided(PlaneFormats formats) {
    long[][] cases = cases(formats, true);
    Datapath inputs = exact(formats, true);
    Bounds declared = new Bounds(inputs, cases);
    Bounds budget = new Bounds(budgeted(formats, true), cases);
    Evaluated bits = Evaluated.bits(exact(formats, true), cases);
    int decided = 0;
    int hits = 0;
    for (int i = 0; i < CASES; i++) {
      ExactSlab slab = slab(formats, cases, i);
      if (slab == null) {
        continue;
      }
      boolean all = slab.near() == null;
      double gap = all ? 0 : slab.far().value() - slab.near().value();
      double far = all ? 0 : slab.far().value();
      int at = i;
      Supplier<String> which = () -> Evaluated.describe(inputs, cases, at) + " gap " + gap;
      if (slab.hit()) {
        // Rounding keeps the order of distances, so no solid that is hit is missed.
        assertEquals(1, bits.codes("hit")[i], which);
        hits++;
      }
      boolean settles = all || Math.min(Math.abs(gap), Math.abs(far)) >= 2 || far <= -2;
      boolean within = all || Math.abs(slab.near().value()) < greatest(formats) - 4;
      if (settles && within) {
        assertEquals(slab.hit(), declared.is("hit", i), which);
        decided++;
      }
      boolean wider = all || Math.min(Math.abs(gap), Math.abs(far)) >= 4 || far <= -4;
      if (wider && within) {
        assertEquals(slab.hit(), budget.is("hit", i), which);
      }
      assertTrue(declared.decided("inside", i) && budget.decided("inside", i), which);
      assertTrue(declared.width("entry", i) <= 1 && declared.width("exit", i) <= 1, which);
      assertTrue(budget.width("entry", i) <= 3 && budget.width("exit", i) <= 3, which);
    }
    assertTrue(hits > CASES / 50 && decided > CASES / 2, hits + " hits, " + decided + " decided");
  }

  private static double greatest(PlaneFormats formats) {
    return formats.word.maxCode().doubleValue();
  }

  /** Null for a crossed box, whose faces the exact rule puts in order. */
  private static ExactSlab slab(PlaneFormats formats, long[][] cases, int i) {
    ExactSlab slab = new ExactSlab();
    for (int axis = 0; axis < 3; axis++) {
      long toMin = cases[9 + axis][i] - cases[axis][i];
      long toMax = cases[12 + axis][i] - cases[axis][i];
      if (toMin > toMax) {
        return null;
      }
      boolean parallel = cases[6 + axis][i] == 1;
      long one = 1L << formats.word.fractionBits();
      slab.cut(toMin, toMax, parallel ? 0 : one, cases[3 + axis][i], true);
    }
    return slab;
  }

  @ParameterizedTest
  @EnumSource
  @DisplayName("directions: how wide, where the slope is 1/2 or more and the face within 1")
  void directionBoundsFollowFromTheInverse(PlaneFormats formats) {
    long[][] cases = cases(formats, false);
    Bounds declared = new Bounds(exact(formats, false), cases);
    Bounds budget = new Bounds(budgeted(formats, false), cases);
    Widths widths = new Widths("box " + formats);
    double unit = Math.scalb(1.0, formats.word.fractionBits());
    for (int i = 0; i < CASES; i++) {
      int at = i;
      double farthest = 0;
      for (int axis = 0; axis < 3; axis++) {
        double origin = cases[axis][i];
        farthest = Math.max(farthest, Math.abs(cases[6 + axis][i] - origin));
        farthest = Math.max(farthest, Math.abs(cases[9 + axis][i] - origin));
      }
      // An inverse one LSB off either way, and a rounding; saturation only narrows.
      double limit = 2 * farthest / unit + 2;
      widths.add("declared", declared.width("entry", i), limit);
      assertTrue(declared.width("entry", i) <= limit, () -> "case " + at);
      assertTrue(declared.width("exit", i) <= limit, () -> "case " + at);
      boolean saturates = saturates(formats, cases, i);
      if (!saturates) {
        widths.add("budgeted", budget.width("entry", i), limit + 2);
        assertTrue(budget.width("entry", i) <= limit + 2, () -> "case " + at);
        assertTrue(budget.width("exit", i) <= limit + 2, () -> "case " + at);
      }
    }
    widths.print();
  }

  /** Whether an inverse may or may not saturate, so that both have to be let pass. */
  private static boolean saturates(PlaneFormats formats, long[][] cases, int i) {
    for (int axis = 0; axis < 3; axis++) {
      long direction = Math.abs(cases[3 + axis][i]);
      double inverse = Math.scalb(1.0 / direction, formats.direction.fractionBits());
      if (direction != 0 && inverse + 1 >= formats.word.toReal(formats.word.maxCode())) {
        return true;
      }
    }
    return false;
  }
}
