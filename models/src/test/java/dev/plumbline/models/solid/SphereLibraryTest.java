package dev.plumbline.models.solid;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.Evaluated;
import dev.plumbline.models.fixed.Format;
import java.util.List;
import java.util.stream.IntStream;
import org.apache.commons.geometry.euclidean.threed.Vector3D;
import org.apache.commons.geometry.euclidean.threed.line.Line3D;
import org.apache.commons.geometry.euclidean.threed.line.Lines3D;
import org.apache.commons.numbers.core.Precision;
import org.joml.Intersectiond;
import org.joml.Vector2d;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** The exact sphere against two independent libraries. */
class SphereLibraryTest {
  private static final Format WORD = Format.signed(16, 16);
  private static final Format FINE = Format.signed(2, 30);
  private static final int CASES = 20_000;
  private static final long SEED = 20254;

  /** Distances to both crossings of a ray, of which the second is not behind; none is a miss. */
  enum Library {
    /** JOML 1.10.8: unit directions, the square of the radius; a tangent is a miss. */
    JOML {
      @Override
      double[] crossings(double[] v) {
        Vector2d ends = new Vector2d();
        boolean hit =
            Intersectiond.intersectRaySphere(
                v[0], v[1], v[2], v[7], v[8], v[9], v[3], v[4], v[5], v[6] * v[6], ends);
        return hit ? new double[] {ends.x, ends.y} : new double[0];
      }
    },
    /** Apache commons-geometry 1.0: whole lines; a tangent is one point. */
    COMMONS_GEOMETRY {
      @Override
      double[] crossings(double[] v) {
        Precision.DoubleEquivalence precision = Precision.doubleEquivalenceOfEpsilon(1e-12);
        Vector3D origin = Vector3D.of(v[0], v[1], v[2]);
        Line3D line =
            Lines3D.fromPointAndDirection(origin, Vector3D.of(v[7], v[8], v[9]), precision);
        List<Vector3D> points =
            org.apache.commons.geometry.euclidean.threed.shape.Sphere.from(
                    Vector3D.of(v[3], v[4], v[5]), v[6], precision)
                .intersections(line);
        // A line counts from its point nearest to (0, 0, 0), not from the ray's origin.
        double[] ends =
            points.stream().mapToDouble(p -> line.abscissa(p) - line.abscissa(origin)).toArray();
        return ends.length == 0 || ends[ends.length - 1] < 0
            ? new double[0]
            : new double[] {ends[0], ends[ends.length - 1]};
      }
    };

    /** Of a sphere's operands as reals, in their order. */
    abstract double[] crossings(double[] operands);
  }

  private static double[] reals(long[][] columns, int i) {
    double[] v = new double[SphereCases.OPERANDS];
    for (int k = 0; k < v.length; k++) {
      v[k] = (k < SphereCases.DIRECTION ? WORD : FINE).toReal(columns[k][i]);
    }
    return v;
  }

  @ParameterizedTest(name = "J: {0} agrees wherever no tangent and no surface is near")
  @EnumSource
  void libraryAgrees(Library library) {
    SphereCases rays = new SphereCases(WORD, FINE, CASES, SEED);
    Evaluated bits = Evaluated.bits(Sphere.of(WORD, FINE).datapath(), rays.columns);
    int compared = 0;
    for (int i = 0; i < CASES; i++) {
      double[] v = reals(rays.columns, i);
      SphereCases.Kind kind = rays.kinds[i];
      boolean clear =
          kind == SphereCases.Kind.TWO_CROSSINGS
              || kind == SphereCases.Kind.INSIDE
              || kind == SphereCases.Kind.MISS
              || kind == SphereCases.Kind.BEHIND;
      double apart = Math.hypot(Math.hypot(v[3] - v[0], v[4] - v[1]), v[5] - v[2]);
      if (!clear || v[6] < 0.01 || v[6] * v[6] < apart * apart * 0x1p-22) {
        // From afar, different formulas make different things of a length that is not quite 1.
        continue;
      }
      double[] ends = library.crossings(v);
      String which = kind + " at " + i + ", seed " + SEED;
      assertEquals(ends.length > 0, bits.codes("hit")[i] == 1, which);
      if (ends.length > 0 && ends[1] < 30000) {
        // A word's rounding, and a length off by 2^-29 where the ray is steep in the sphere.
        double steep = (Math.abs(ends[0]) + v[6]) / ((ends[1] - ends[0]) / 2);
        double error = 2 * WORD.lsbs() + ends[1] * 0x1p-28 * (1 + steep) + v[6] * 0x1p-19 * steep;
        assertEquals(ends[0], bits.real("entry", i), error, which);
        assertEquals(ends[1], bits.real("exit", i), error, which);
      }
      compared++;
    }
    assertTrue(compared > CASES / 5, compared + " compared");
  }

  @Test
  @DisplayName("C4: on whole numbers commons-geometry agrees exactly, tangents included")
  void wholeNumbersAndTangents() {
    // Radius 15 about (3, -5, 7), rays along z through every lattice point around it.
    int side = 33;
    long[][] columns = new long[SphereCases.OPERANDS][side * side];
    for (int i = 0; i < side * side; i++) {
      int[] whole = {i % side - 13, i / side - 21, -40, 3, -5, 7, 15, 0, 0};
      for (int k = 0; k < whole.length; k++) {
        columns[k][i] = (long) whole[k] << 16;
      }
      columns[SphereCases.DIRECTION + 2][i] = 1L << 30;
    }
    Evaluated bits = Evaluated.bits(Sphere.of(WORD, FINE).datapath(), columns);
    int tangents = 0;
    int crossings = 0;
    for (int i = 0; i < side * side; i++) {
      double[] ends = Library.COMMONS_GEOMETRY.crossings(reals(columns, i));
      String which = "x " + columns[0][i] + ", y " + columns[1][i];
      assertEquals(ends.length > 0 ? 1 : 0, bits.codes("hit")[i], which);
      if (ends.length > 0) {
        assertEquals(ends[0], bits.real("entry", i), 1.5 * WORD.lsbs(), which);
        assertEquals(ends[1], bits.real("exit", i), 1.5 * WORD.lsbs(), which);
        tangents += ends[0] == ends[1] ? 1 : 0;
        crossings++;
      }
    }
    // Lattice points on and in the circle of radius 15, by Jacobi's theorem of two squares: 12 with
    // x^2 + y^2 = 225, and 709 with at most 225.
    assertEquals(12, squares(225));
    assertEquals(12, tangents);
    assertEquals(709, 1 + IntStream.rangeClosed(1, 225).map(SphereLibraryTest::squares).sum());
    assertEquals(709, crossings);
  }

  /**
   * Jacobi: n is the sum of two squares in 4 (d1 - d3) ways, divisors of the form 4k + 1, 4k + 3.
   */
  private static int squares(int n) {
    return 4
        * IntStream.rangeClosed(1, n)
            .filter(d -> n % d == 0)
            .map(d -> d % 4 == 1 ? 1 : d % 4 == 3 ? -1 : 0)
            .sum();
  }
}
