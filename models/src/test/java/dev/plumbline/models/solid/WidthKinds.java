package dev.plumbline.models.solid;

import static dev.plumbline.models.solid.WidthCases.sum;

import dev.plumbline.models.datapath.Vectors;
import dev.plumbline.models.solid.WidthCases.CaseKind;
import java.util.LinkedHashMap;
import java.util.Map;

/** The kinds of the page about bound widths, by name, for each kind of block. */
final class WidthKinds {
  private WidthKinds() {}

  static Map<String, CaseKind> reciprocal() {
    Map<String, CaseKind> all = new LinkedHashMap<>();
    all.put("1/8 to 1", c -> c.set("x", c.between(.125, 1)));
    all.put("1 to 2", c -> c.set("x", c.between(1, 2)));
    all.put("a power of two", c -> c.set("x", Math.scalb(1.0, -(int) c.between(0, 8))));
    all.put("zero", c -> c.set("x", 0));
    return all;
  }

  static Map<String, CaseKind> root() {
    Map<String, CaseKind> all = new LinkedHashMap<>();
    all.put("1/256 to 1", c -> c.set("x", c.between(1 / 256.0, 1)));
    all.put("1 to 2000", c -> c.set("x", c.between(1, 2000)));
    all.put(
        "a square",
        c -> {
          double root = Math.rint(c.between(1, 40));
          c.set("x", root * root);
        });
    all.put("negative", c -> c.set("x", c.between(-40, -1)));
    return all;
  }

  static Map<String, CaseKind> box() {
    Map<String, CaseKind> all = new LinkedHashMap<>();
    all.put("ahead, within 8", c -> box(c, c.direction(), c.between(0, 8), true));
    all.put("ahead, 100 to 200 away", c -> box(c, c.direction(), c.between(100, 200), true));
    all.put("from inside", c -> box(c, c.direction(), 0, true));
    all.put(
        "along an axis",
        c -> box(c, new double[] {0, 0, c.between(-1, 1) < 0 ? -1 : 1}, c.between(0, 32), true));
    all.put(
        "1/100 off an axis", c -> box(c, WidthCases.unit(.01, -.01, 1), c.between(0, 32), true));
    all.put(
        "within an LSB of an edge", c -> box(c, new double[] {.5, 0, .5}, c.between(0, 32), false));
    all.put("flat, within 8", WidthKinds::flatBox);
    return all;
  }

  /** Without thickness along x, seen from one side towards a point of its face. */
  private static void flatBox(WidthCases c) {
    double[] direction = c.direction();
    double before = c.between(.5, 8);
    double[] aim = c.point();
    double[] half = {0, c.between(.5, 4), c.between(.5, 4)};
    for (int axis = 0; axis < 3; axis++) {
      double centre = aim[axis] + half[axis] * c.between(-.9, .9);
      c.set("min" + Vectors.suffix(axis), centre - half[axis]);
      c.set("max" + Vectors.suffix(axis), centre + half[axis]);
    }
    c.set("origin", sum(aim, -before, direction));
    c.setDirection(direction);
  }

  /** Towards a point of the box, so far before it begins; or past an edge along y. */
  private static void box(WidthCases c, double[] direction, double before, boolean through) {
    double[] centre = c.point();
    double[] half = {c.between(.5, 4), c.between(.5, 4), c.between(.5, 4)};
    double[] aim = new double[3];
    double reach = before == 0 ? 0 : before;
    for (int axis = 0; axis < 3; axis++) {
      c.set("min" + Vectors.suffix(axis), centre[axis] - half[axis]);
      c.set("max" + Vectors.suffix(axis), centre[axis] + half[axis]);
      aim[axis] = centre[axis] + half[axis] * c.between(-.9, .9);
    }
    if (before > 0) {
      double leave = Double.MAX_VALUE;
      for (int axis = 0; axis < 3; axis++) {
        double room = half[axis] + Math.signum(direction[axis]) * (aim[axis] - centre[axis]);
        leave = direction[axis] == 0 ? leave : Math.min(leave, room / Math.abs(direction[axis]));
      }
      reach += leave;
    }
    if (!through) {
      // The edge at the upper x and the lower z, for a ray that climbs in both.
      aim[0] = centre[0] + half[0] + c.nudge("origin_x");
      aim[2] = centre[2] - half[2];
    }
    c.set("origin", sum(aim, -reach, direction));
    c.setDirection(direction);
  }

  static Map<String, CaseKind> plane() {
    Map<String, CaseKind> all = new LinkedHashMap<>();
    all.put("slope 1/2 to 1, within 1", c -> plane(c, c.between(.5, 1), c.between(0, 1)));
    all.put("slope 1/2 to 1, 20 to 40 high", c -> plane(c, c.between(.5, 1), c.between(20, 40)));
    all.put("slope 1/32 to 1/2, within 1", c -> plane(c, c.between(1 / 32.0, .5), c.between(0, 1)));
    all.put("slope below 1/32, within 1", c -> plane(c, c.between(0, 1 / 32.0), c.between(0, 1)));
    all.put("origin on the plane", c -> plane(c, c.between(.5, 1), 0));
    return all;
  }

  /** An origin so high above the plane, and a ray that falls towards it so steeply. */
  private static void plane(WidthCases c, double slope, double height) {
    double[] normal = c.direction();
    double level = c.between(-16, 16);
    double[] aside = sum(new double[3], c.between(-16, 16), c.across(normal));
    double[] flat = sum(new double[3], Math.sqrt(1 - slope * slope), c.across(normal));
    c.set("normal", normal);
    c.set("level", level);
    c.set("origin", sum(aside, level + height, normal));
    c.set("direction", sum(flat, -slope, normal));
  }

  static Map<String, CaseKind> sphere() {
    Map<String, CaseKind> all = new LinkedHashMap<>();
    all.put("through, within 8", c -> sphere(c, c.between(0, .8), c.between(0, 8)));
    all.put("through, 20 to 40 away", c -> sphere(c, c.between(0, .8), c.between(20, 40)));
    all.put("through, 100 to 200 away", c -> sphere(c, c.between(0, .8), c.between(100, 200)));
    all.put("near the rim, within 8", c -> sphere(c, c.between(.9, .99), c.between(0, 8)));
    all.put("from inside", c -> sphere(c, c.between(0, .8), -1));
    all.put("from the surface", c -> sphere(c, c.between(0, .8), 0));
    all.put("along the rim", c -> sphere(c, 1, c.between(0, 8)));
    return all;
  }

  /** A ray that passes the centre at a share of the radius, so far before it meets the sphere. */
  private static void sphere(WidthCases c, double share, double before) {
    double[] d = c.direction();
    double[] aside = c.across(d);
    double[] centre = c.point();
    double radius = c.between(.5, 4);
    double impact = radius * share;
    double half = Math.sqrt(radius * radius - impact * impact);
    double back = before < 0 ? half * c.between(-.9, .9) : half + before;
    c.set("centre", centre);
    c.set("radius", radius);
    c.set("direction", d);
    c.set("origin", sum(sum(centre, -back, d), impact, aside));
  }
}
