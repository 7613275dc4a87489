package dev.plumbline.models.solid;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assertions.fail;

import dev.plumbline.models.Evaluated;
import dev.plumbline.models.datapath.Datapath;
import java.util.Map;
import java.util.Random;
import java.util.function.Supplier;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Exact inside bounds, ideal inside bounds, and nothing open that the mathematics settles. */
class HalfSpaceLawsTest {
  private static final int CASES = Boolean.getBoolean("plumbline.long") ? 160_000 : 16_000;
  private static final long SEED = 31;

  /** The ideal is arithmetic of doubles. */
  private static final double SLACK = .01;

  private static long[][] cases(PlaneFormats formats) {
    return new PlaneCases(SEED, formats.word, formats.direction).columns(CASES);
  }

  private static HalfSpace half(PlaneFormats formats) {
    return HalfSpace.of(formats.word, formats.direction);
  }

  @ParameterizedTest
  @EnumSource
  void exactAndIdealLieInTheDeclaredBounds(PlaneFormats formats) {
    Evaluated.lawsHold(half(formats).datapath(), cases(formats), SLACK);
  }

  @ParameterizedTest
  @EnumSource
  void exactAndIdealLieInTheBudgetedBounds(PlaneFormats formats) {
    Datapath budgeted = half(formats).budgeted();
    Evaluated.lawsHold(budgeted, cases(formats), SLACK);
    long[][] cases = cases(formats);
    new Bounds(budgeted, cases).requireBitsOf(half(formats).datapath(), cases);
  }

  @ParameterizedTest
  @EnumSource
  void whatTheDeclaredPrecisionDecidesIsDecided(PlaneFormats formats) {
    long[][] cases = cases(formats);
    decided(formats, new Bounds(half(formats).datapath(), cases), cases, false);
  }

  @ParameterizedTest
  @EnumSource
  void whatTheBudgetDecidesIsDecided(PlaneFormats formats) {
    long[][] cases = cases(formats);
    decided(formats, new Bounds(half(formats).budgeted(), cases), cases, true);
  }

  private static void decided(
      PlaneFormats formats, Bounds bounds, long[][] cases, boolean budgeted) {
    int decided = 0;
    int open = 0;
    for (int i = 0; i < CASES; i++) {
      ExactPlane plane = new ExactPlane(formats, cases, i, budgeted);
      int at = i;
      Supplier<String> which = () -> plane + ", " + bounds.describe("hit", at);
      if (plane.heightDecided()) {
        assertEquals(plane.inside(), bounds.is("inside", i), which);
      }
      if (plane.slopeDecided()) {
        assertEquals(plane.slope.signum() == 0, bounds.is("parallel", i), which);
        assertEquals(plane.slope.signum() > 0, bounds.is("leaving", i), which);
      }
      if (plane.mustHit() || plane.mustMiss()) {
        assertEquals(plane.mustHit(), bounds.is("hit", i), which);
        decided++;
      } else {
        open++;
      }
      if (plane.mustMiss() && plane.slopeDecided() && plane.slope.signum() == 0) {
        assertTrue(bounds.decided("entry", i) && bounds.decided("exit", i), which);
      }
    }
    // A quarter of the cases start within an LSB or two of the plane.
    assertTrue(decided > CASES * 3 / 4 && open > 0, decided + " decided, " + open + " open");
  }

  @ParameterizedTest
  @EnumSource
  void boundsAreNoWiderThanTheMathematicsMakesThem(PlaneFormats formats) {
    long[][] cases = cases(formats);
    for (boolean budgeted : new boolean[] {false, true}) {
      Datapath datapath = budgeted ? half(formats).budgeted() : half(formats).datapath();
      Bounds bounds = new Bounds(datapath, cases);
      Widths widths = new Widths((budgeted ? "half-space, budgeted " : "half-space ") + formats);
      for (int i = 0; i < CASES; i++) {
        ExactPlane plane = new ExactPlane(formats, cases, i, budgeted);
        if (plane.slopeDecided() && plane.slope.signum() != 0 && plane.heightDecided()) {
          String distance = plane.slope.signum() > 0 ? "exit" : "entry";
          double limit = plane.widest();
          widths.add(plane.kind(), bounds.width(distance, i), limit);
          if (bounds.width(distance, i) > limit) {
            fail(plane + ": limit " + limit + ", " + bounds.describe(distance, i));
          }
        }
      }
      widths.print();
      // Steep is a slope of 1/2 or more, so that an LSB of it moves the inverse by 4, and the
      // inverse is 2 LSB wide itself; height is within 1. Two more for the roundings of the
      // distance. In a budget three products of the slope and three of the height may be rounded.
      long limit = budgeted ? 3 * 4 + 2 + 3 * 2 + 2 : 4 + 2 + 2;
      assertTrue(widths.median("steep, within 1") <= limit, formats + " " + limit);
    }
  }

  @ParameterizedTest
  @EnumSource
  void otherOrdersAndRoundingsLieInTheBudgetedBounds(PlaneFormats formats) {
    long[][] cases = cases(formats);
    Bounds bounds = new Bounds(half(formats).budgeted(), cases);
    Random random = new Random(SEED);
    for (int i = 0; i < CASES; i++) {
      OtherPlane other = OtherPlane.any(random, formats.word);
      other.run(cases, i, formats.direction);
      for (Map.Entry<String, Long> output : other.outputs.entrySet()) {
        String name = output.getKey();
        if (!bounds.holds(name, i, output.getValue())) {
          String which = other + " for " + new ExactPlane(formats, cases, i, true);
          fail(name + " " + bounds.describe(name, i) + ", not " + output.getValue() + which);
        }
      }
    }
  }

  @ParameterizedTest
  @EnumSource
  void onePlaceBeyondTheBudgetIsSeen(PlaneFormats formats) {
    // A distance two LSB off what exact arithmetic gives is outside some of the bounds.
    long[][] cases = cases(formats);
    Bounds bounds = new Bounds(half(formats).budgeted(), cases);
    Evaluated bits = Evaluated.bits(half(formats).datapath(), cases);
    long max = formats.word.maxCode().longValueExact();
    int seen = 0;
    for (int i = 0; i < CASES; i++) {
      long exit = bits.codes("exit")[i];
      seen += exit < max - 2 && !bounds.holds("exit", i, exit + 2) ? 1 : 0;
    }
    assertTrue(seen > 0, seen + " seen");
  }
}
