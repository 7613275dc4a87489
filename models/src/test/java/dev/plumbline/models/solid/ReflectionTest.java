package dev.plumbline.models.solid;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.Evaluated;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import java.util.Random;
import org.joml.Vector3d;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

class ReflectionTest {
  private static final Format UNIT = Format.signed(2, 16);
  private static final Datapath MIRROR = Reflection.datapath(UNIT, UNIT);
  private static final double PLACE = UNIT.lsbs();

  private static double[] reflect(double[] d, double[] n) {
    BoxRig rig = new BoxRig(MIRROR).set("direction", d).set("normal", n).run();
    return new double[] {rig.real("reflected_x"), rig.real("reflected_y"), rig.real("reflected_z")};
  }

  @Test
  @DisplayName("E4: published and rational reflections; length kept; twice is the identity")
  void publishedReflections() {
    // J. Buck, The Ray Tracer Challenge, 2019, chapter 6 (first two); r = d - 2(d.n)n.
    double half = Math.sqrt(.5);
    check(new double[] {1, -1, 0}, new double[] {0, 1, 0}, 1, 1, 0);
    check(new double[] {0, -1, 0}, new double[] {half, half, 0}, 1, 0, 0);
    check(new double[] {0, 0, -1}, new double[] {1 / 3., 2 / 3., 2 / 3.}, 4 / 9., 8 / 9., -1 / 9.);
    check(
        new double[] {0, 0, -1},
        new double[] {2 / 7., 3 / 7., 6 / 7.},
        24 / 49.,
        36 / 49.,
        23 / 49.);
    check(new double[] {0, -1, 0}, new double[] {.6, .8, 0}, 24 / 25., 7 / 25., 0);
  }

  private static void check(double[] d, double[] n, double... expected) {
    double[] r = reflect(d, n);
    double[] back = reflect(r, n);
    double length = 0;
    for (int axis = 0; axis < 3; axis++) {
      // Each component of n is half an LSB off: 2 |d.n| + 2 |d| sqrt(3) of them at most.
      assertEquals(expected[axis], r[axis], 4 * PLACE);
      assertEquals(d[axis], back[axis], 8 * PLACE);
      length += r[axis] * r[axis] - d[axis] * d[axis];
    }
    assertEquals(0, length, 16 * PLACE);
  }

  @Test
  @DisplayName("E4: as JOML 1.10.8 reflects the same codes, to one rounding")
  void agreesWithJoml() {
    Random random = new Random(4);
    for (int i = 0; i < 2000; i++) {
      double[] d = unit(random);
      double[] n = unit(random);
      Vector3d joml = new Vector3d(d[0], d[1], d[2]).reflect(n[0], n[1], n[2]);
      double[] r = reflect(d, n);
      for (int axis = 0; axis < 3; axis++) {
        assertEquals(joml.get(axis), r[axis], PLACE / 2 + 1e-12);
      }
    }
  }

  /** Components that are codes. */
  private static double[] unit(Random random) {
    Vector3d v = new Vector3d(random.nextGaussian(), random.nextGaussian(), random.nextGaussian());
    v.normalize();
    return new double[] {code(v.x), code(v.y), code(v.z)};
  }

  private static double code(double value) {
    return Math.rint(value / PLACE) * PLACE;
  }

  @ParameterizedTest
  @EnumSource
  void exactAndIdealLieInTheBounds(PlaneFormats formats) {
    Datapath mirror = Reflection.datapath(formats.direction, formats.direction);
    long[][] all = new PlaneCases(9, formats.word, formats.direction).columns(20_000);
    long[][] cases = java.util.Arrays.copyOfRange(all, 3, 9);
    for (Evaluated.Width width : Evaluated.lawsHold(mirror, cases, .01)) {
      assertTrue(width.worst() <= 1, "one rounding: " + width);
    }
  }

  @Test
  void zeroNormalGivesTheDirectionBackAndOverflowSaturates() {
    double[] d = {.25, -1, .5};
    assertEquals(-1, reflect(d, new double[] {0, 0, 0})[1]);
    // Normals far from unit length throw beyond the format.
    assertEquals(2 - PLACE, reflect(new double[] {0, -1, 0}, new double[] {0, 1.75, 0})[1]);
  }
}
