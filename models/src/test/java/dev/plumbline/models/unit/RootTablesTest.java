package dev.plumbline.models.unit;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.Evaluated;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Rounding;
import java.util.Map;
import java.util.stream.LongStream;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

/** Roots against the oldest table there is, and against an open one of today. */
class RootTablesTest {
  private static final int FRACTION = 32;

  /** Roots to the nearest of 32 fraction bits. */
  private static double[] roots(long... x) {
    SquareRoot unit =
        SquareRoot.between(Format.unsigned(12, 0), Format.unsigned(6, FRACTION))
            .withRounding(Rounding.HALF_CEILING);
    long[] codes = Evaluated.bits(unit.datapath(), new long[][] {x}).codes("root");
    return LongStream.of(codes).mapToDouble(code -> Math.scalb((double) code, -FRACTION)).toArray();
  }

  @Test
  @DisplayName("B9: 1;24,51,10 is a root of two 5.994e-7 too small, and 30 of them are 42;25,35")
  void oldestTable() {
    // Tablet YBC 7289; Fowler and Robson, Historia Mathematica 25, 1998.
    double[] roots = roots(2, 1800);
    assertEquals(-5.994e-7, 30547.0 / 21600 - roots[0], 0.0005e-7);
    assertEquals(42 * 3600 + 25 * 60 + 35, Math.round(3600 * roots[1]));
  }

  @Test
  @DisplayName("B14: six decimals of an open table, its misprints refused by its own accuracy")
  void openTable() {
    // OpenStax Prealgebra, Appendix B, Table B1 (open licence): square roots.
    long[] n = LongStream.rangeClosed(1, 100).toArray();
    double[] roots = roots(n);
    for (int i = 0; i < n.length; i++) {
      assertTrue(isEntry(Math.rint(roots[i] * 1e6) / 1e6, n[i]), "root of " + n[i]);
    }
    // One public copy has lost the points of these two.
    Map<Integer, Integer> misprints = Map.of(11, 3316625, 38, 6164414);
    misprints.forEach(
        (radicand, digits) -> {
          assertFalse(isEntry(digits, radicand));
          assertEquals((long) digits, Math.round(roots[radicand - 1] * 1e6));
        });
    assertFalse(isEntry(roots[10] + 2e-6, 11), "two in the sixth decimal");
  }

  private static boolean isEntry(double root, long radicand) {
    return Math.abs(root * root - radicand) <= 1.01e-6 * root;
  }
}
