package dev.plumbline.models.light;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.light.LightRig.Seen;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Light, mirrors and shadows against figures from outside, in bits and in reals. */
class LightOutsideTest {
  private static final double LSB = 0x1p-16;

  private static double[] times(double factor, double... vector) {
    return new double[] {factor * vector[0], factor * vector[1], factor * vector[2]};
  }

  private static double[] vector(double... components) {
    return components;
  }

  @ParameterizedTest(name = "E1: Lambert's cosines 8/9 and 0, none negative, bits {0}")
  @ValueSource(booleans = {true, false})
  void cosinesAreLamberts(boolean bits) {
    double[][][] cases = {
      {times(1 / 3.0, 1, 2, 2), times(1 / 3.0, 2, 2, 1), {8 / 9.0}},
      {times(1 / 7.0, 2, 3, 6), times(1 / 7.0, 6, 2, -3), {0}},
      {times(1 / 3.0, 1, 2, 2), times(-1 / 3.0, 2, 2, 1), {0}},
      {vector(0, 0, 1), vector(0, 0, 1), {1}},
    };
    for (double[][] one : cases) {
      LightRig rig = new LightRig(LightRig.planeFacing(one[0]), one[1], 0x1p-6);
      Seen seen = rig.one(bits, times(4, one[0]), times(-1, one[0]));
      assertEquals(one[2][0], seen.cosine(), 4 * LSB);
      assertEquals(seen.cosine(), seen.light(), "nothing is in the way");
    }
  }

  /** Rays straight down on a square of so many cells about a point. */
  private static List<double[][]> downwards(double x, double y, double z, double half, int cells) {
    List<double[][]> rays = new ArrayList<>();
    for (int row = 0; row < cells; row++) {
      for (int column = 0; column < cells; column++) {
        double across = x + half * ((2 * column + 1.0) / cells - 1);
        double along = y + half * ((2 * row + 1.0) / cells - 1);
        rays.add(new double[][] {{across, along, z}, {0, 0, -1}});
      }
    }
    return rays;
  }

  private static LightRig ball(double angle) {
    double[] lamp = {Math.sin(angle), 0, Math.cos(angle)};
    return new LightRig("piece ball take sphere at 0, 0, 0 radius 2 of 1 done", lamp, 0x1p-8);
  }

  @ParameterizedTest(name = "E2: mean light of a sphere's disc by the angle to the lamp, bits {0}")
  @ValueSource(booleans = {true, false})
  @Tag("thorough")
  void meanOfADiscIsThePhaseLaw(boolean bits) {
    double[] degrees = {0, 30, 60, 90, 120, 150};
    double[] means = {2 / 3.0, .587229, .405999, .212207, .072665, .009878};
    for (int k = 0; k < degrees.length; k++) {
      double sum = 0;
      int disc = 0;
      for (Seen seen : ball(Math.toRadians(degrees[k])).trace(bits, downwards(0, 0, 4, 2, 80))) {
        disc += seen == null ? 0 : 1;
        sum += seen == null ? 0 : seen.light();
      }
      assertEquals(means[k], sum / disc, 0.0015, degrees[k] + " degrees");
    }
  }

  @ParameterizedTest(
      name = "E3: lit part of a disc: Moon .6786, Venus .64656, 3/4, 1/2, 1/4, bits {0}")
  @ValueSource(booleans = {true, false})
  @Tag("thorough")
  void litPartOfADisc(boolean bits) {
    // J. Meeus, Astronomical Algorithms, example 48.a, p. 347; chapter 41.
    double[] angles = {
      Math.toRadians(69.0756), Math.acos(.29312), Math.PI / 3, Math.PI / 2, 2 * Math.PI / 3
    };
    double[] parts = {.67856790, .64656, .75, .5, .25};
    for (int k = 0; k < angles.length; k++) {
      int lit = 0;
      int disc = 0;
      for (Seen seen : ball(angles[k]).trace(bits, downwards(0, 0, 4, 2, 100))) {
        disc += seen == null ? 0 : 1;
        lit += seen != null && seen.light() > 0 ? 1 : 0;
      }
      assertEquals(parts[k], (double) lit / disc, 0.004);
    }
  }

  @ParameterizedTest(name = "E4: mirrored rays as published and by rational normals, bits {0}")
  @ValueSource(booleans = {true, false})
  void mirrorsThrowBackAsPublished(boolean bits) {
    // The first two: J. Buck, The Ray Tracer Challenge, 2019, chapter 6 (the first made unit).
    double root = Math.sqrt(0.5);
    double[][][] cases = {
      {times(root, 1, -1, 0), {0, 1, 0}, times(root, 1, 1, 0)},
      {{0, -1, 0}, times(root, 1, 1, 0), {1, 0, 0}},
      {{0, 0, -1}, times(1 / 3.0, 1, 2, 2), times(1 / 9.0, 4, 8, -1)},
      {{0, 0, -1}, times(1 / 7.0, 2, 3, 6), times(1 / 49.0, 24, 36, 23)},
      {{0, -1, 0}, times(1 / 5.0, 3, 4, 0), times(1 / 25.0, 24, 7, 0)},
    };
    for (double[][] one : cases) {
      LightRig rig = new LightRig(LightRig.planeFacing(one[1]), vector(0, 0, 1), 0);
      Seen seen = rig.one(bits, times(-3, one[0]), one[0]);
      assertArrayEquals(one[2], seen.reflected(), 5 * LSB);
      assertArrayEquals(vector(0, 0, 0), seen.start(), 8 * LSB);
    }
  }

  /** Where a mirrored ray crosses the axis x = 0, by its z. */
  private static double crossing(Seen seen) {
    double ways = -seen.start()[0] / seen.reflected()[0];
    return seen.start()[2] + ways * seen.reflected()[2];
  }

  @ParameterizedTest(name = "E5: rays parallel to the axis of a concave mirror, exact, bits {0}")
  @ValueSource(booleans = {true, false})
  void concaveMirrorCrossesItsAxis(boolean bits) {
    double radius = 8;
    String mirror = "piece mirror take sphere at 0, 0, 0 radius 8 of 1 done";
    LightRig rig = new LightRig(mirror, vector(0, 0, 1), 0);
    double[][] cases = {{3 / 5.0, 5 / 8.0}, {5 / 13.0, 13 / 24.0}, {7 / 25.0, 25 / 48.0}};
    for (double[] one : cases) {
      Seen seen = rig.one(bits, vector(one[0] * radius, 0, 0), vector(0, 0, 1));
      assertEquals(one[1] * radius, crossing(seen), bits ? 100 * LSB : 1e-9);
    }
    Seen near = rig.one(bits, vector(radius / 50, 0, 0), vector(0, 0, 1));
    assertEquals(radius / 2, crossing(near), 0.005, "towards the focus");
  }

  /** Where two mirrored rays in the plane y = 0 meet: x and z. */
  private static double[] meeting(Seen a, Seen b) {
    double slopeA = a.reflected()[0] / a.reflected()[2];
    double slopeB = b.reflected()[0] / b.reflected()[2];
    double offsetA = a.start()[0] - slopeA * a.start()[2];
    double offsetB = b.start()[0] - slopeB * b.start()[2];
    double z = (offsetB - offsetA) / (slopeA - slopeB);
    return vector(offsetA + slopeA * z, 0, z);
  }

  @ParameterizedTest(name = "E6: concave mirror, R 16: object 24 gives image 12, -1/2, bits {0}")
  @ValueSource(booleans = {true, false})
  void concaveMirrorMakesTheKnownImage(boolean bits) {
    LightRig rig =
        new LightRig("piece mirror take sphere at 0, 0, 0 radius 16 of 1 done", vector(0, 0, 1), 0);
    // Object, image (behind the mirror where negative), magnification.
    double[][] cases = {{24, 12, -.5}, {16, 16, -1}, {4, -8, 2}};
    for (double[] one : cases) {
      double[] object = {0.25, 0, 16 - one[0]};
      Seen[] seen = new Seen[2];
      for (int k = 0; k < 2; k++) {
        double[] way = {(k == 0 ? 0.25 : -0.25) - object[0], 0, 16 - object[2]};
        double length = Math.hypot(way[0], way[2]);
        seen[k] = rig.one(bits, object, times(1 / length, way));
      }
      double[] image = meeting(seen[0], seen[1]);
      assertEquals(16 - one[1], image[2], 0.05);
      assertEquals(one[2] * object[0], image[0], 0.01);
    }
  }

  @ParameterizedTest(name = "E7: shadow of a sphere, point by point, and its area pi/Lz, bits {0}")
  @ValueSource(booleans = {true, false})
  void shadowOfASphere(boolean bits) {
    double[] lamp = times(1 / 3.0, 1, 2, 2);
    String scene =
        "piece table take half-space facing 0, 0, 1 up to 0 of 1 done\n"
            + "piece ball take sphere at 0, 0, 3 radius 1 of 1 done";
    LightRig rig = new LightRig(scene, lamp, 0x1p-10);
    List<double[][]> rays = downwards(-1.5, -3, 0.5, 2, 100);
    List<Seen> seen = rig.trace(bits, rays);
    int dark = 0;
    for (int i = 0; i < seen.size(); i++) {
      boolean shaded = seen.get(i).light() == 0;
      dark += shaded ? 1 : 0;
      double[] arm = {rays.get(i)[0][0], rays.get(i)[0][1], -3};
      double along = IdealScene.dot(arm, lamp);
      double apart = Math.sqrt(IdealScene.dot(arm, arm) - along * along);
      if (Math.abs(apart - 1) > 0.005) {
        assertEquals(along < 0 && apart < 1, shaded, "point " + arm[0] + ", " + arm[1]);
      }
    }
    assertEquals(4.712389, 16.0 * dark / seen.size(), 0.03);
  }

  @ParameterizedTest(name = "E7: the shadow of a unit cube is 2.5 in area, bits {0}")
  @ValueSource(booleans = {true, false})
  @Tag("thorough")
  void shadowOfACube(boolean bits) {
    String scene =
        "piece table take half-space facing 0, 0, 1 up to 0 of 1 done\n"
            + "piece cube take box from -0.5, -0.5, 1 to 0.5, 0.5, 2 of 1 done";
    LightRig rig = new LightRig(scene, times(1 / 3.0, 1, 2, 2), 0x1p-10);
    List<Seen> seen = rig.trace(bits, downwards(-0.75, -1.5, 0.5, 2, 120));
    long dark = seen.stream().filter(one -> one.light() == 0).count();
    assertEquals(2.5, 16.0 * dark / seen.size(), 0.02);
    assertTrue(dark > 0);
  }
}
