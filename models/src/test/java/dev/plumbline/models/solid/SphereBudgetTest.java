package dev.plumbline.models.solid;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.Evaluated;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** What bounds under a budget have to take in, and what they must not. */
class SphereBudgetTest {
  private static final int CASES = 4000;
  private static final long SEED = 20251;

  /** Formats to hold the rules in. */
  record Formats(Format word, Format direction, Format working) {
    Sphere sphere() {
      return Sphere.of(word, direction);
    }

    Budget budget() {
      return sphere().budget(working);
    }

    SphereCases cases(int count) {
      return new SphereCases(word, direction, count, SEED);
    }
  }

  static Stream<Formats> formats() {
    Format narrow = Format.signed(2, 14);
    Format usual = Format.signed(2, 16);
    Format word = Format.signed(16, 16);
    return Stream.of(
        new Formats(word, usual, word),
        new Formats(word, usual, Format.signed(20, 20)),
        new Formats(Format.signed(18, 14), narrow, Format.signed(18, 14)),
        new Formats(Format.signed(12, 20), usual, Format.signed(16, 24)),
        new Formats(Format.signed(12, 20), Format.signed(2, 22), Format.signed(12, 20)),
        new Formats(word, usual, Format.signed(20, 12)),
        new Formats(Format.signed(5, 3), Format.signed(2, 6), Format.signed(5, 3)),
        new Formats(Format.signed(5, 3), Format.signed(2, 6), Format.signed(9, 9)));
  }

  @ParameterizedTest
  @MethodSource("formats")
  void exactAndIdealLieInTheirOwnBounds(Formats f) {
    Evaluated.lawsHold(f.sphere().datapath(), f.cases(CASES).columns, 1e-3);
    Evaluated.lawsHold(f.sphere().budgeted(f.budget()), f.cases(CASES).columns, 1e-3);
  }

  @ParameterizedTest
  @MethodSource("formats")
  void exactLiesInTheBoundsOfTheBudget(Formats f) {
    if (f.working().fractionBits() > f.word().fractionBits() + 4) {
      return; // finer than what the exact micro-architecture keeps
    }
    SphereCases cases = f.cases(CASES);
    Datapath exact = f.sphere().datapath();
    Evaluated bits = Evaluated.bits(exact, cases.columns);
    Bounds bounds = new Bounds(f.sphere().budgeted(f.budget()), cases.columns);
    for (int i = 0; i < CASES; i++) {
      if (Math.abs(new SphereMath(f.word(), f.direction(), cases.columns, i).surplus()) > 0.1) {
        continue; // no unit vector's code: a step may saturate
      }
      for (String output : List.of("hit", "inside", "entry", "exit")) {
        boolean counts = output.equals("hit") || bits.codes("hit")[i] == 1;
        assertTrue(
            !counts || bounds.holds(output, i, bits.codes(output)[i]),
            cases.kinds[i]
                + ": "
                + output
                + " "
                + bits.codes(output)[i]
                + " in "
                + bounds.describe(output, i)
                + " of "
                + Evaluated.describe(exact, cases.columns, i)
                + ", seed "
                + SEED);
      }
    }
  }

  @ParameterizedTest
  @MethodSource("formats")
  void otherFormulasAndRoundingsLieInTheBoundsOfTheBudget(Formats f) {
    SphereCases cases = f.cases(CASES);
    Bounds bounds = new Bounds(f.sphere().budgeted(f.budget()), cases.columns);
    for (SphereFormulas.Formula formula : SphereFormulas.Formula.values()) {
      for (SphereFormulas.Mode mode : SphereFormulas.Mode.values()) {
        SphereFormulas other =
            new SphereFormulas(f.word(), f.direction(), f.working(), formula, mode);
        for (int i = 0; i < CASES; i++) {
          other.compute(cases.columns, i);
          String outside = outside(other, bounds, i);
          assertTrue(
              outside == null, () -> formula + ", " + mode + ", " + outside + ", seed " + SEED);
        }
      }
    }
  }

  private static String outside(SphereFormulas other, Bounds bounds, int i) {
    long[] codes = {other.hit ? 1 : 0, other.inside ? 1 : 0, other.entry, other.exit};
    String[] outputs = {"hit", "inside", "entry", "exit"};
    for (int k = 0; k < codes.length; k++) {
      if ((k == 0 || other.hit) && !bounds.holds(outputs[k], i, codes[k])) {
        return outputs[k] + " " + codes[k] + " of " + bounds.describe(outputs[k], i) + " at " + i;
      }
    }
    return null;
  }

  /** Those in which the offset from origin to centre is exact, as the perturbations take it. */
  static Stream<Formats> exactOffsets() {
    return formats().filter(f -> f.working().fractionBits() >= f.word().fractionBits());
  }

  @ParameterizedTest
  @MethodSource("exactOffsets")
  void whatTheBudgetSettlesIsSettledAndNothingElseIs(Formats f) {
    SphereCases cases = f.cases(CASES);
    Bounds bounds = new Bounds(f.sphere().budgeted(f.budget()), cases.columns);
    int[] seen = new int[3];
    for (int i = 0; i < CASES; i++) {
      SphereMath truth = new SphereMath(f.word(), f.direction(), cases.columns, i);
      String which = cases.kinds[i] + " at " + i + ", seed " + SEED;
      // A tenth of the budget is what the reference's own roundings may add. Where a last place is
      // no longer small beside the sphere, intervals also count products of two errors twice.
      double share = f.working().fractionBits() > 8 ? 0.1 : 0.5;
      int must = truth.within(f.budget(), share).hit();
      int inside = truth.inside();
      if (must >= 0) {
        assertEquals(must + " to " + must, bounds.describe("hit", i), "hit, " + which);
      }
      if (inside >= 0) {
        assertEquals(inside + " to " + inside, bounds.describe("inside", i), "inside, " + which);
      }
      int reachable = truth.within(f.budget(), 0).hit();
      if (reachable < 0) {
        assertEquals("0 to 1", bounds.describe("hit", i), "hit, " + which);
      }
      seen[reachable + 1]++;
    }
    for (int count : seen) {
      assertTrue(count > CASES / 50, "may, must not, must: " + java.util.Arrays.toString(seen));
    }
  }

  @ParameterizedTest
  @MethodSource("exactOffsets")
  void boundsAreNoWiderThanThePerturbationsTheyStandFor(Formats f) {
    SphereCases cases = f.cases(CASES);
    Bounds bounds = new Bounds(f.sphere().budgeted(f.budget()), cases.columns);
    for (int i = 0; i < CASES; i++) {
      SphereMath truth =
          new SphereMath(f.word(), f.direction(), cases.columns, i).within(f.budget(), 0.1);
      if (truth.surplus() > -0.5) {
        assertNarrow(bounds, "entry", i, truth.entry(), f);
        assertNarrow(bounds, "exit", i, truth.exit(), f);
      }
    }
  }

  private static void assertNarrow(
      Bounds bounds, String output, int i, java.math.BigDecimal[] ends, Formats f) {
    double place = f.word().lastPlace();
    double reach = Math.max(ends[0].abs().doubleValue(), ends[1].abs().doubleValue());
    // Both ends go to a whole place; the inverse of the squared length has 30 fraction bits.
    double allowed = ends[1].subtract(ends[0]).doubleValue() / place + 2 + reach * 0x1p-28 / place;
    assertTrue(
        bounds.width(output, i) <= allowed,
        () -> output + " " + bounds.describe(output, i) + " allowed " + allowed + " at " + i);
  }
}
