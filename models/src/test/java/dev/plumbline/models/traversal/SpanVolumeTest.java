package dev.plumbline.models.traversal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.IsotropicLines;
import dev.plumbline.models.LineSample;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.scene.CullingTable;
import dev.plumbline.models.span.SpanOperator;
import dev.plumbline.models.span.Spans;
import java.util.function.Consumer;
import java.util.function.DoubleFunction;
import java.util.function.LongConsumer;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Volumes of combined solids from the spans of lines through them, and how many culling boxes a
 * line hits.
 *
 * <p>Of isotropic lines that hit a sphere of radius R the mean total span in a solid within it is V
 * / (pi R^2), convex or not (Cavalieri, direction by direction). Tolerances are five standard
 * errors (outside check I2), and one radius or edge 1 % too large is refused each time (I9).
 */
class SpanVolumeTest {
  private static final SceneFormats FORMATS = CullingTable.FORMATS;
  private static final ProgramLimits LIMITS = new ProgramLimits(256, 4, 16);
  // The figures count every volume on a line, so that none may be passed over.
  private static final Traversal EXACT =
      Traversal.exact(SceneUnits.of(FORMATS), 8, RayRules.plain());
  private static final int LINES = 150_000;
  private static final long SEED = 60601;

  /** Words that stand for 1. */
  private static final double UNIT = 4;

  private static long code(double real) {
    return CullingTable.code(real * UNIT);
  }

  private static Program.Builder builder() {
    return Program.builder(FORMATS, LIMITS);
  }

  /** A sphere with its centre on the x axis. */
  private static Program.Builder sphere(Program.Builder b, double x, double radius) {
    return b.sphere(1, code(x), 0, 0, code(radius));
  }

  private static Program.Builder cube(Program.Builder b, double half) {
    return box(b, 2, -half, half);
  }

  private static Program.Builder box(Program.Builder b, int material, double from, double to) {
    return b.box(material, code(from), code(from), code(from), code(to), code(to), code(to));
  }

  private static Program spheres(
      double r, double x, double otherR, double otherX, SpanOperator operator) {
    Program.Builder b = sphere(sphere(builder().begin(), x, r), otherX, otherR);
    return b.combine(operator).close().end().build();
  }

  /** Row, what it is, the program by a factor of one length, radius around it, volume. */
  static Stream<Arguments> solids() {
    double pi = Math.PI;
    return Stream.of(
        // D6: 11/12 and 5/12 of pi R^2, by integration; D7: MathWorld, Sphere-Sphere Intersection.
        solid("D6", "sphere less an equal one", 1, 11 * pi / 12, SpanVolumeTest::difference),
        solid("D6", "two equal spheres, both", 1, 5 * pi / 12, SpanVolumeTest::lens),
        solid("D7", "two equal spheres, all", 1.5, 9 * pi / 4, SpanVolumeTest::union),
        solid("D7", "radii 13 and 15, 14 apart", 13, 3388 * pi / 3, SpanVolumeTest::unequal),
        // OEIS A133749: at this distance half the sphere's volume is left.
        solid("D7", "half the volume at .694592711", 1, 2 * pi / 3, SpanVolumeTest::halved),
        // D8: spherical caps, solid geometry.
        solid("D8", "cube and sphere of 5/4", 1.25, 13 * pi / 6, SpanVolumeTest::rounded),
        solid("D8", "cube less its insphere", Math.sqrt(3), 8 - 4 * pi / 3, SpanVolumeTest::frame),
        solid(
            "D8",
            "sphere less its inscribed cube",
            1,
            4 * pi / 3 - 8 / (3 * Math.sqrt(3)),
            SpanVolumeTest::caps));
  }

  private static Arguments solid(
      String row, String what, double radius, double volume, DoubleFunction<Program> program) {
    return Arguments.of(row, what, radius, volume, program);
  }

  private static Program difference(double factor) {
    return spheres(factor, 0, 1, 1, SpanOperator.DIFFERENCE);
  }

  private static Program lens(double factor) {
    return spheres(factor, 0, 1, 1, SpanOperator.INTERSECTION);
  }

  private static Program union(double factor) {
    return spheres(factor, -.5, factor, .5, SpanOperator.UNION);
  }

  private static Program unequal(double factor) {
    return spheres(13 * factor, 0, 15, 14, SpanOperator.INTERSECTION);
  }

  private static Program halved(double factor) {
    return spheres(factor, 0, 1, .694592711, SpanOperator.INTERSECTION);
  }

  private static Program rounded(double factor) {
    Program.Builder b = sphere(cube(builder().begin(), factor), 0, 1.25);
    return b.intersection().close().end().build();
  }

  private static Program frame(double factor) {
    return sphere(cube(builder().begin(), factor), 0, 1).difference().close().end().build();
  }

  private static Program caps(double factor) {
    Program.Builder b = cube(sphere(builder().begin(), 0, factor), 1 / Math.sqrt(3));
    return b.difference().close().end().build();
  }

  @ParameterizedTest(name = "{0}: {1}, volume {3}")
  @DisplayName("D6, D7, D8: volumes of two solids combined, from their spans on lines")
  @MethodSource("solids")
  void volumesFromSpans(
      String row, String what, double radius, double volume, DoubleFunction<Program> program) {
    double around = 1.02 * radius; // so that what is 1 % too large is within it, too
    double expected = UNIT * volume / (Math.PI * around * around);
    double off = spans(program.apply(1), around).spanOff(expected);
    double wrong = spans(program.apply(1.01), around).spanOff(expected);
    assertEquals(0, off, 5, "standard errors, seed " + SEED);
    assertTrue(Math.abs(wrong) > 5, "I9: 1 % too large, " + wrong + " standard errors");
  }

  /** The total spans of a program's one object on each line. */
  private static LineSample spans(Program program, double radius) {
    LineSample sample = new LineSample(LINES, FORMATS.word().lsbs());
    shoot(program, radius, LINES, totals(total -> sample.take(true, total)));
    return sample;
  }

  /** Reports the total span of each object. */
  private static Consumer<Retirement> totals(LongConsumer take) {
    long[] total = new long[1];
    return r -> {
      if (r.operation().kind() == OperationKind.CLOSE) {
        take.accept(total[0]);
      }
      total[0] = Spans.length(r.top());
    };
  }

  /** The lines of a sphere of radius 1, drawn once: points in words, and rays that lack origins. */
  private static final class Drawn {
    static final double[][] POINTS = new double[3][2 * LINES];
    static final Rays RAYS = Rays.of(FORMATS, 2 * LINES);

    static {
      IsotropicLines lines = new IsotropicLines(SEED, 1);
      for (int i = 0; i < 2 * LINES; i++) {
        lines.next();
        RAYS.nearest(i, 0, new long[3], CullingTable.unit(lines.direction));
        for (int axis = 0; axis < 3; axis++) {
          POINTS[axis][i] = lines.origin[axis] * UNIT;
        }
      }
    }

    private Drawn() {}
  }

  private static void shoot(
      Program program, double radius, int count, Consumer<Retirement> observer) {
    for (int axis = 0; axis < 3; axis++) {
      long[] origin = Drawn.RAYS.column("origin_" + "xyz".charAt(axis));
      for (int i = 0; i < count; i++) {
        origin[i] = CullingTable.code(radius * Drawn.POINTS[axis][i]);
      }
    }
    EXACT.run(program, Drawn.RAYS, 0, count, null, observer);
  }

  @ParameterizedTest(name = "D10: [-1,1]^3 and [0,2]^3, {0}: volume {1}, by lines 1/2 apart")
  @CsvSource({"union, 15", "both, 1", "first less second, 7", "either and not both, 14"})
  void volumesOfBoxesAreExact(String which, double volume) {
    // commons-geometry 1.0, RegionBSPTree3D; of lines parallel to an axis nothing is rounded.
    Program.Builder b = builder().begin();
    box(box(b, 1, -1, 1), 2, 0, 2);
    switch (which) {
      case "union" -> b.union();
      case "both" -> b.intersection();
      case "first less second" -> b.difference();
      default -> box(box(b.difference(), 3, 0, 2), 4, -1, 1).difference().union();
    }
    Program program = b.close().end().build();
    Rays rays = Rays.of(FORMATS, 1);
    long[] sum = new long[1];
    for (double x = -1.25; x < 2; x += .5) {
      for (double y = -1.25; y < 2; y += .5) {
        rays.nearest(0, 0, new long[] {code(x), code(y), code(-3)}, new long[] {0, 0, 1 << 16});
        EXACT.run(program, rays, 0, 1, null, totals(total -> sum[0] += total));
      }
    }
    assertEquals(volume * 4, sum[0] * FORMATS.word().lsbs() / UNIT, 0);
  }

  /** Eight objects of one sphere each, and boxes around them. */
  private static Program eight(double radius) {
    Program.Builder b = builder();
    double r = radius;
    for (int k = 0; k < 8; k++) {
      double[] c = {(k & 1) * .6 - .3, (k >> 1 & 1) * .6 - .3, (k >> 2) * .6 - .3};
      Program.Label past = b.label();
      b.skip(
          past,
          code(c[0] - r),
          code(c[1] - r),
          code(c[2] - r),
          code(c[0] + r),
          code(c[1] + r),
          code(c[2] + r));
      b.begin().sphere(1, code(c[0]), code(c[1]), code(c[2]), code(r)).close().place(past);
    }
    return b.end().build();
  }

  @Test
  @DisplayName("C14: 8 spheres of 1/4 in a unit sphere: 0.5 hit a line; 1 - pi/6 of tests wasted")
  void boundingVolumesHitALine() {
    // Surface-area heuristic: J. Goldsmith and J. Salmon, IEEE CG&A 7(5), 1987. Boxes: 24 r^2 each.
    double boxes = 8 * 24 / 16.0 / (4 * Math.PI);
    double[] off = counters(eight(.25), boxes);
    double[] wrong = counters(eight(.2525), boxes);
    String[] what = {"spheres hit a line", "boxes hit a line", "wasted tests"};
    for (int k = 0; k < 3; k++) {
      assertEquals(0, off[k], 5, what[k] + ": standard errors, seed " + SEED);
      assertTrue(k == 2 || Math.abs(wrong[k]) > 5, "I9, 1 % too large: " + what[k] + wrong[k]);
    }
  }

  @Test
  @DisplayName("C14: 1 - 2/pi of the tests of a cube are wasted when its sphere is hit")
  void boundingSphereOfACube() {
    LineSample missed = new LineSample(LINES, 1);
    Program cube = cube(builder().begin(), 1).close().end().build();
    shoot(cube, Math.sqrt(3), LINES, totals(total -> missed.take(total == 0, 1)));
    assertEquals(0, missed.hitsOff(.363380228), 5, "standard errors, seed " + SEED);
    LineSample wrong = new LineSample(LINES, 1);
    Program larger = cube(builder().begin(), 1.01).close().end().build();
    shoot(larger, Math.sqrt(3), LINES, totals(total -> wrong.take(total == 0, 1)));
    assertTrue(Math.abs(wrong.hitsOff(.363380228)) > 5, "I9: " + wrong.hitsOff(.363380228));
  }

  /** How far off: spheres hit a line, boxes hit a line, and spheres missed whose box is hit. */
  private static double[] counters(Program program, double boxes) {
    LineSample spheresHit = new LineSample(2 * LINES, 1);
    LineSample boxesHit = new LineSample(2 * LINES, 1);
    int[] count = new int[4];
    shoot(
        program,
        1,
        2 * LINES,
        r -> {
          OperationKind kind = r.operation().kind();
          if (kind == OperationKind.SPHERE) {
            count[0] += r.top().count();
            count[1]++;
          } else if (kind == OperationKind.END) {
            spheresHit.take(true, count[0]);
            boxesHit.take(true, count[1]);
            count[2] += count[1];
            count[3] += count[1] - count[0];
            count[0] = 0;
            count[1] = 0;
          }
        });
    double wasted = 1 - Math.PI / 6;
    double sigma = Math.sqrt(wasted * (1 - wasted) / count[2]);
    return new double[] {
      spheresHit.spanOff(.5),
      boxesHit.spanOff(boxes),
      ((double) count[3] / count[2] - wasted) / sigma
    };
  }
}
