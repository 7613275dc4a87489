package dev.plumbline.models.solid;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.Evaluated;
import dev.plumbline.models.datapath.BoundsEvaluation;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import java.math.BigDecimal;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** What bounds under a budget have to take in, and what they must not. */
class SphereBudgetTest {
  private static final int CASES = Boolean.getBoolean("plumbline.long") ? 6_000 : 750;
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
    for (Sphere.Formula formula : Sphere.Formula.values()) {
      Datapath budgeted = f.sphere().withFormula(formula).budgeted(f.budget());
      Evaluated.lawsHold(budgeted, f.cases(CASES).columns, 1e-3);
    }
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
    // Its root is rounded down to a word, which may be many places of a finer format.
    int finer = Math.max(f.working().fractionBits() - f.word().fractionBits(), 0);
    Budget budget = f.budget().with("root", 1 << finer);
    Sphere sphere = f.sphere().withFormula(Sphere.Formula.PERPENDICULAR);
    Bounds bounds = new Bounds(sphere.budgeted(budget), cases.columns);
    for (int i = 0; i < CASES; i++) {
      if (Math.abs(new SphereMath(f.word(), f.direction(), cases.columns, i).surplus()) > 0.1) {
        continue; // no unit vector's code: a step may saturate
      }
      for (String output : List.of("hit", "inside", "entry", "exit")) {
        boolean counts = output.equals("hit") || bits.codes("hit")[i] == 1;
        int at = i;
        assertTrue(
            !counts || bounds.holds(output, i, bits.codes(output)[i]),
            () ->
                cases.kinds[at]
                    + ": "
                    + output
                    + " "
                    + bits.codes(output)[at]
                    + " in "
                    + bounds.describe(output, at)
                    + " of "
                    + Evaluated.describe(exact, cases.columns, at)
                    + ", seed "
                    + SEED);
      }
    }
  }

  /** Whatever one formula may give, bounds of any formula allow. */
  @ParameterizedTest
  @MethodSource("formats")
  void boundsOfOneFormulaLieInThoseOfAny(Formats f) {
    SphereCases cases = f.cases(CASES);
    Bounds any = new Bounds(f.sphere().budgeted(f.budget()), cases.columns);
    int narrower = 0;
    for (Sphere.Formula formula : Sphere.Formula.values()) {
      Datapath budgeted = f.sphere().withFormula(formula).budgeted(f.budget());
      Bounds one = new Bounds(budgeted, cases.columns);
      for (int i = 0; i < CASES; i++) {
        for (String output : List.of("hit", "inside", "entry", "exit")) {
          int at = i;
          assertTrue(
              any.holds(output, i, one.low(output, i)) && any.holds(output, i, one.high(output, i)),
              () -> formula + " " + one.describe(output, at) + ", " + any.describe(output, at));
          narrower += one.width(output, i) < any.width(output, i) ? 1 : 0;
        }
      }
    }
    assertTrue(narrower > CASES, narrower + " narrower");
  }

  @ParameterizedTest
  @MethodSource("formats")
  void otherFormulasAndRoundingsLieInTheBoundsOfTheBudget(Formats f) {
    SphereCases cases = f.cases(CASES);
    for (SphereFormulas.Formula formula : SphereFormulas.Formula.values()) {
      Sphere sphere = f.sphere().withFormula(declared(formula));
      Bounds bounds = new Bounds(sphere.budgeted(f.budget()), cases.columns);
      for (SphereFormulas.Mode mode : SphereFormulas.Mode.values()) {
        SphereFormulas other =
            new SphereFormulas(f.word(), f.direction(), f.working(), formula, mode);
        for (int i = 0; i < CASES; i++) {
          if (formula == SphereFormulas.Formula.LENGTH
              && Math.abs(new SphereMath(f.word(), f.direction(), cases.columns, i).surplus())
                  > 0.9) {
            continue; // a rounded length of nothing decides nothing
          }
          other.compute(cases.columns, i);
          String outside = outside(other, bounds, i);
          assertTrue(
              outside == null, () -> formula + ", " + mode + ", " + outside + ", seed " + SEED);
        }
      }
    }
  }

  /** As what a user would declare it. */
  private static Sphere.Formula declared(SphereFormulas.Formula formula) {
    return switch (formula) {
      case SQUARES, QUADRATIC -> Sphere.Formula.SQUARES;
      case PERPENDICULAR -> Sphere.Formula.PERPENDICULAR;
      case LENGTH -> Sphere.Formula.LENGTH;
    };
  }

  @ParameterizedTest
  @MethodSource("formats")
  void hardwareOfAnotherFormulaThanDeclaredIsSeen(Formats f) {
    SphereCases cases = f.cases(CASES);
    Sphere sphere = f.sphere().withFormula(Sphere.Formula.PERPENDICULAR);
    Bounds bounds = new Bounds(sphere.budgeted(f.budget()), cases.columns);
    SphereFormulas other =
        new SphereFormulas(
            f.word(),
            f.direction(),
            f.working(),
            SphereFormulas.Formula.SQUARES,
            SphereFormulas.Mode.HALF_UP);
    int seen = 0;
    for (int i = 0; i < CASES; i++) {
      other.compute(cases.columns, i);
      seen += outside(other, bounds, i) == null ? 0 : 1;
    }
    assertTrue(seen > CASES / 100, seen + " seen");
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

  /**
   * A tenth of the budget is what the reference's own roundings may add. Where an LSB is no longer
   * small beside the sphere, intervals also count products of two errors twice.
   */
  private static double share(Formats f) {
    return f.working().fractionBits() > 8 ? 0.1 : 0.5;
  }

  /** Those in which the offset from origin to centre is exact, as the perturbations take it. */
  static Stream<Formats> exactOffsets() {
    return formats().filter(f -> f.working().fractionBits() >= f.word().fractionBits());
  }

  @ParameterizedTest
  @MethodSource("exactOffsets")
  void whatTheBudgetDecidesIsDecidedAndNothingElseIs(Formats f) {
    SphereCases cases = f.cases(CASES);
    Bounds bounds = new Bounds(f.sphere().budgeted(f.budget()), cases.columns);
    int[] seen = new int[3];
    for (int i = 0; i < CASES; i++) {
      SphereMath truth = new SphereMath(f.word(), f.direction(), cases.columns, i);
      String which = cases.kinds[i] + " at " + i + ", seed " + SEED;
      int must = truth.within(f.budget(), share(f)).hit();
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
    Map<Sphere.Formula, Bounds> all = new EnumMap<>(Sphere.Formula.class);
    for (Sphere.Formula formula : Sphere.Formula.values()) {
      Datapath budgeted = f.sphere().withFormula(formula).budgeted(f.budget());
      all.put(formula, new Bounds(budgeted, cases.columns));
    }
    for (int i = 0; i < CASES; i++) {
      SphereMath truth = new SphereMath(f.word(), f.direction(), cases.columns, i);
      if (truth.surplus() <= -0.5) {
        continue;
      }
      truth.within(f.budget(), share(f));
      for (Map.Entry<Sphere.Formula, Bounds> one : all.entrySet()) {
        Sphere.Formula formula = one.getKey();
        Bounds bounds = one.getValue();
        assertNarrow(bounds, "entry", i, truth.entry(formula), f, formula);
        assertNarrow(bounds, "exit", i, truth.exit(formula), f, formula);
      }
    }
  }

  /** Three roundings, each by less than an LSB, whatever is known of what is rounded. */
  @ParameterizedTest
  @MethodSource("formats")
  void projectionIsOffByItsRoundingsAlone(Formats f) {
    Datapath budgeted = f.sphere().withFormula(Sphere.Formula.PERPENDICULAR).budgeted(f.budget());
    double lsb =
        budgeted.steps().stream()
            .filter(step -> step.name().equals("foot_slip"))
            .findFirst()
            .orElseThrow()
            .format()
            .lsbs();
    SphereCases cases = f.cases(CASES);
    BoundsEvaluation bounds = budgeted.bounds(CASES);
    for (int k = 0; k < cases.columns.length; k++) {
      System.arraycopy(cases.columns[k], 0, bounds.input(k, 0), 0, CASES);
    }
    bounds.run(CASES);
    double most = 3 * f.working().lsbs();
    for (int i = 0; i < CASES; i++) {
      double low = bounds.stepLow("foot_slip", 0)[i] * lsb;
      double high = bounds.stepHigh("foot_slip", 0)[i] * lsb;
      assertTrue(-most <= low && high <= most, low + " to " + high + " of " + most + " at " + i);
    }
  }

  private static void assertNarrow(
      Bounds bounds, String output, int i, BigDecimal[] ends, Formats f, Sphere.Formula formula) {
    double place = f.word().lsbs();
    // Both ends go to a whole place; a hundredth is the reference's own inverse of an inverse.
    double allowed = ends[1].subtract(ends[0]).doubleValue() / place * 1.01 + 2;
    assertTrue(
        bounds.width(output, i) <= allowed,
        () ->
            formula
                + ", "
                + output
                + " "
                + bounds.describe(output, i)
                + ", allowed "
                + allowed
                + " at "
                + i
                + ", seed "
                + SEED);
  }
}
