package dev.plumbline.models.solid;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.datapath.BoundsFit;
import dev.plumbline.models.datapath.DatapathException;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.solid.OtherSphere.Fault;
import dev.plumbline.models.solid.OtherSphere.Order;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** From results alone: which formula, and which conventions. */
class SphereFitTest {
  private static final int CASES = 3000;
  private static final Format WORD = Format.signed(16, 16);
  private static final SphereDraws.Formats USUAL =
      new SphereDraws.Formats(WORD, Format.signed(2, 16), WORD);
  private static final Map<String, String> FLAGS =
      Map.of("inside", "hit", "entry", "hit", "exit", "hit");

  private final long[][] columns = new SphereDraws(USUAL, CASES, new Random(11)).any().columns;

  /** Any result may be changed before it is given. */
  private interface Change {
    void apply(Map<String, long[]> results, int i);
  }

  private Map<String, long[]> results(Order order, Change change) {
    Random random = new Random(12);
    OtherSphere other =
        new OtherSphere(
            USUAL.word(), USUAL.direction(), USUAL.working(), order, Fault.NONE, random);
    Map<String, long[]> results =
        Map.of(
            "hit", new long[CASES],
            "inside", new long[CASES],
            "entry", new long[CASES],
            "exit", new long[CASES]);
    for (int i = 0; i < CASES; i++) {
      other.compute(columns, i);
      results.get("hit")[i] = other.hit ? 1 : 0;
      results.get("inside")[i] = other.inside ? 1 : 0;
      results.get("entry")[i] = other.entry;
      results.get("exit")[i] = other.exit;
      change.apply(results, i);
    }
    return results;
  }

  @ParameterizedTest
  @EnumSource
  void formulaIsToldFromResults(Order order) {
    Sphere sphere = USUAL.sphere(Sphere.Formula.ANY);
    BoundsFit<Sphere.Formula> fit = BoundsFit.of(sphere.byFormula(sphere.budget()), FLAGS);
    assertEquals(Optional.empty(), fit.narrowest());
    fit.see(columns, results(order, (all, i) -> {}), CASES);
    assertEquals(Optional.of(order.declared), fit.narrowest(), fit.toString());
    assertEquals(0, fit.outside(Sphere.Formula.ANY), fit.toString());
    assertEquals(CASES, fit.cases());
    if (order.declared != Sphere.Formula.PERPENDICULAR) {
      assertTrue(fit.outside(Sphere.Formula.PERPENDICULAR) > 0, fit.toString());
    }
  }

  @Test
  void resultsOfNoFormulaFitNone() {
    Sphere sphere = USUAL.sphere(Sphere.Formula.ANY);
    BoundsFit<Sphere.Formula> fit = BoundsFit.of(sphere.byFormula(sphere.budget()), FLAGS);
    fit.see(columns, results(Order.GEOMETRIC, (all, i) -> all.get("exit")[i] += 1 << 20), CASES);
    assertEquals(Optional.empty(), fit.narrowest());
    assertTrue(fit.toString().endsWith("narrowest that fits: none"), fit.toString());
  }

  @Test
  void conventionIsToldFromResults() {
    Sphere sphere = USUAL.sphere(Sphere.Formula.SQUARES);
    BoundsFit<String> fit = BoundsFit.of(sphere.byConvention(sphere.budget()), FLAGS);
    Change nearest =
        (all, i) -> {
          long entry = all.get("entry")[i];
          all.get("entry")[i] = entry > 0 ? entry : all.get("exit")[i];
        };
    fit.see(columns, results(Order.GEOMETRIC, nearest), CASES);
    assertEquals(Optional.of("MISSED, POSITIVE"), fit.narrowest(), fit.toString());
    assertTrue(fit.outside("MISSED, CROSSING") > 0, fit.toString());
    assertTrue(fit.outside("SQUARED, POSITIVE") > 0, fit.toString());
  }

  @Test
  void whatCannotBeHeldIsRefused() {
    Sphere sphere = USUAL.sphere(Sphere.Formula.SQUARES);
    BoundsFit<String> fit = BoundsFit.of(sphere.byConvention(sphere.budget()), FLAGS);
    assertThrows(
        DatapathException.class, () -> fit.see(columns, Map.of("t", new long[CASES]), CASES));
    assertThrows(DatapathException.class, () -> fit.outside("something else"));
    assertThrows(DatapathException.class, () -> BoundsFit.of(Map.of(), FLAGS));
  }
}
