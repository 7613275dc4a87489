package dev.plumbline.models.traversal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.scene.Culling;
import dev.plumbline.models.scene.CullingTable;
import dev.plumbline.models.scene.RandomScenes;
import dev.plumbline.models.span.SpanOperator;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

class TraversalTest {
  private static final SceneFormats FORMATS =
      SceneFormats.of(Format.signed(16, 16), Format.signed(2, 16));
  private static final SceneUnits UNITS = SceneUnits.of(FORMATS);
  private static final ProgramLimits LIMITS = new ProgramLimits(4096, 4, 256);
  private static final long ONE = 1L << 16;

  private static Program.Builder builder() {
    return Program.builder(FORMATS, LIMITS);
  }

  private static Rays along(double x, double y, double z) {
    Rays rays = Rays.of(FORMATS, 1);
    rays.nearest(0, 0, new long[] {code(x), code(y), code(z)}, new long[] {0, 0, ONE});
    return rays;
  }

  private static long code(double real) {
    return Math.round(real * ONE);
  }

  /** The retirements of a program's one ray, line by line. */
  private static List<String> lines(Traversal traversal, Program program, Rays rays) {
    List<String> lines = new ArrayList<>();
    traversal.run(program, rays, 0, 1, null, r -> lines.add(r.toString()));
    return lines;
  }

  @Test
  @DisplayName("D3 unit spheres at z = 0 and 0.5: union 4, 6.5; intersection 4.5, 6; A - B, B - A")
  void workedSpheres() {
    // J. Buck, The Ray Tracer Challenge, 2019, ch. 16: 4 and 6.5; the others follow.
    long[] a = {0, 0, 0, ONE};
    long[] b = {0, 0, ONE / 2, ONE};
    assertTop("[4.0 m1, 6.5 m2)", SpanOperator.UNION, a, b);
    assertTop("[4.5 m2, 6.0 m1)", SpanOperator.INTERSECTION, a, b);
    assertTop("[4.0 m1, 4.5 m2')", SpanOperator.DIFFERENCE, a, b);
    assertTop("[6.0 m2', 6.5 m1)", SpanOperator.DIFFERENCE, b, a);
  }

  private static void assertTop(String top, SpanOperator operator, long[] left, long[] right) {
    Program program =
        builder().begin().sphere(1, left).sphere(2, right).combine(operator).close().end().build();
    for (Traversal t : List.of(Traversal.exact(UNITS, 4), Traversal.ideal(UNITS))) {
      List<String> lines = lines(t, program, along(0, 0, -5));
      assertEquals("ray 0, 3 " + operator + ": " + top + ", height 1, no hit", lines.get(3));
    }
  }

  @Test
  @DisplayName("D10 ray through a box less a box: in at z = -1, out at the reversed face z = 0")
  void boxes() {
    // commons-geometry 1.0, RegionBSPTree3D.
    long two = 2 * ONE;
    Program program =
        builder()
            .begin()
            .box(1, -ONE, -ONE, -ONE, ONE, ONE, ONE)
            .box(2, 0, 0, 0, two, two, two)
            .difference()
            .close()
            .end()
            .build();
    for (Traversal t : List.of(Traversal.exact(UNITS, 4), Traversal.ideal(UNITS))) {
      List<String> lines = lines(t, program, along(.5, .5, -5));
      assertTrue(lines.get(3).contains("[4.0 m1 -z, 5.0 m2 -z')"), lines.get(3));
      assertTrue(lines.get(4).endsWith(": [], height 0, best 4.0 m1 -z"), lines.get(4));
    }
  }

  @Test
  @DisplayName("D9 octahedron of 8 half-spaces, line x = y = 1/4: z = -1/2, 1/2")
  void hull() {
    // Unit-free normals: the level is in units of their length, so (1,1,1) and 1 will do.
    Program.Builder b = builder().begin();
    for (int k = 0; k < 8; k++) {
      b.halfSpace(
          k, (k & 1) == 0 ? ONE : -ONE, (k & 2) == 0 ? ONE : -ONE, (k & 4) == 0 ? ONE : -ONE, ONE);
      if (k > 0) {
        b.intersection();
      }
    }
    List<String> lines =
        lines(Traversal.exact(UNITS, 4), b.close().end().build(), along(.25, .25, -5));
    assertTrue(lines.get(15).contains("[4.5 m4, 5.5 m0)"), lines.get(15));
  }

  @Test
  void insideAtTheOriginFindsTheExitAndTiesKeepTheEarlier() {
    Program program =
        builder()
            .begin()
            .sphere(1, 0, 0, 0, ONE)
            .close()
            .begin()
            .sphere(2, 0, 0, 0, ONE)
            .close()
            .end()
            .build();
    List<String> lines = lines(Traversal.exact(UNITS, 4), program, along(0, 0, 0));
    assertTrue(lines.get(6).endsWith("best 1.0 m1 inward"), lines.get(6));
  }

  @Test
  void anyHitEndsTheRayBeforeItsLimitOnly() {
    Program program =
        builder()
            .begin()
            .sphere(1, 0, 0, 0, ONE)
            .close()
            .begin()
            .sphere(2, 0, 0, -2 * ONE, ONE)
            .close()
            .end()
            .build();
    Rays rays = along(0, 0, -5);
    Traversal exact = Traversal.exact(UNITS, 4);
    rays.anyHit(0, 5 * ONE);
    assertEquals(3, lines(exact, program, rays).size());
    rays.anyHit(0, 4 * ONE);
    assertEquals(6, lines(exact, program, rays).size(), "not at the limit itself");
    rays.anyHit(0, 2 * ONE);
    assertEquals(7, lines(exact, program, rays).size());
  }

  @Test
  @DisplayName("C15 culling changes no hit and never retires more solids; F7 nor does a predictor")
  void cullingAndPredictionChangeNoHit() {
    Random random = new Random(15);
    Program.Builder plain = builder();
    Program.Builder culled = builder();
    for (int k = 0; k < 40; k++) {
      long[] s = {code(spread(random)), code(spread(random)), code(spread(random)), ONE};
      // Wider than what an inverse's LSB makes of distances of 30.
      long w = ONE + 128;
      Program.Label past = culled.label();
      culled.skip(past, s[0] - w, s[1] - w, s[2] - w, s[0] + w, s[1] + w, s[2] + w);
      for (Program.Builder b : List.of(plain, culled)) {
        b.begin().sphere(k, s).sphere(100 + k, s[0], s[1], s[2], ONE / 2).difference().close();
      }
      culled.place(past);
    }
    Rays rays = Rays.of(FORMATS, 3000);
    for (int i = 0; i < rays.capacity(); i++) {
      double[] d = {random.nextGaussian(), random.nextGaussian(), random.nextGaussian()};
      double length = Math.sqrt(d[0] * d[0] + d[1] * d[1] + d[2] * d[2]);
      long[] origin = {code(spread(random)), code(spread(random)), code(spread(random))};
      rays.nearest(
          i,
          16,
          origin,
          new long[] {code(d[0] / length), code(d[1] / length), code(d[2] / length)});
    }
    long[] all = new long[1];
    List<String> expected = hits(plain.end().build(), rays, null, all);
    Program fast = culled.end().build();
    for (Predictor.Policy policy : Predictor.Policy.values()) {
      long[] solids = new long[1];
      ExecutorTiming timing = new ExecutorTiming(20, 64, Predictor.of(policy, 4));
      assertEquals(expected, hits(fast, rays, timing, solids));
      assertTrue(solids[0] < all[0] / 4, solids[0] + " of " + all[0]);
    }
    assertTrue(expected.stream().filter(hit -> !hit.equals("none")).count() > 300);
  }

  @Test
  void aLineThatPassesASphereByLeavesNothingAndOneBehindLeavesItsSpan() {
    Program program = builder().begin().sphere(1, 0, 0, 0, ONE).close().end().build();
    RayRules plain = RayRules.plain();
    for (Traversal t : List.of(Traversal.exact(UNITS, 4, plain), Traversal.ideal(UNITS, plain))) {
      assertTrue(lines(t, program, along(0, 2, -5)).get(1).contains(": [], height 1"));
      assertTrue(lines(t, program, along(0, 0, 5)).get(1).contains("[-6.0 m1, -4.0 m1)"));
    }
    // Of a negative radius: its distances are those of the positive one, and it is not reached.
    Program negative = builder().begin().sphere(1, 0, 0, 0, -ONE).close().end().build();
    List<String> lines = lines(Traversal.exact(UNITS, 4), negative, along(0, 0, -5));
    assertTrue(lines.get(1).contains(": [], height 1"), lines.get(1));
  }

  @Test
  void combinationsCostTheirEndsAndOverflowStaysKnown() {
    long[] a = {0, 0, 0, ONE};
    long[] b = {0, 0, ONE / 2, ONE};
    Program program =
        builder()
            .begin()
            .sphere(1, a)
            .sphere(2, b)
            .union()
            .close()
            .begin()
            .sphere(1, a)
            .sphere(2, 0, 0, 0, ONE / 2)
            .difference()
            .close()
            .begin()
            .sphere(1, a)
            .sphere(1, a)
            .intersection()
            .close()
            .end()
            .build();
    List<Integer> costs = new ArrayList<>();
    List<Boolean> overflows = new ArrayList<>();
    Traversal.exact(UNITS, 1)
        .run(
            program,
            along(0, 0, -5),
            0,
            1,
            null,
            r -> {
              costs.add(r.cost());
              overflows.add(r.hasOverflowed());
            });
    // Four, four and two different distances; the shell has two spans, and its list holds one.
    assertEquals(List.of(1, 1, 1, 5, 1, 1, 1, 1, 5, 1, 1, 1, 1, 3, 1, 1), costs);
    assertEquals(8, overflows.indexOf(true));
    assertEquals(15, overflows.lastIndexOf(true));
    assertEquals(8, overflows.stream().filter(o -> o).count());
  }

  @Test
  @DisplayName("F7 predictor off, fixed, inverted or learning: the same retirements, other cycles")
  void predictionChangesCyclesAlone() {
    Random random = new Random(7);
    Program program =
        Culling.of(FORMATS, 64)
            .culled(new RandomScenes(random, 4, true).scene(20, 2, false))
            .program(FORMATS, new ProgramLimits(4096, 8, 256));
    Rays rays = CullingTable.towards(60, 7);
    Map<Predictor.Policy, List<String>> retired = new EnumMap<>(Predictor.Policy.class);
    Set<Long> cycles = new HashSet<>();
    for (Predictor.Policy policy : Predictor.Policy.values()) {
      ExecutorTiming timing = new ExecutorTiming(20, 64, Predictor.of(policy, 4));
      List<String> lines = new ArrayList<>();
      long[] all = new long[1];
      Traversal.exact(UNITS, 16)
          .run(
              program,
              rays,
              0,
              rays.capacity(),
              timing,
              r -> {
                lines.add(r.toString().replaceFirst(", cycle \\d+$", ""));
                all[0] += r.isLast() ? timing.cycles() : 0;
              });
      retired.put(policy, lines);
      cycles.add(all[0]);
    }
    retired.values().forEach(lines -> assertEquals(retired.get(Predictor.Policy.NONE), lines));
    assertEquals(Predictor.Policy.values().length, cycles.size(), "all take other times");
  }

  private static double spread(Random random) {
    return random.nextDouble() * 20 - 10;
  }

  private static List<String> hits(
      Program program, Rays rays, ExecutorTiming timing, long[] solids) {
    List<String> hits = new ArrayList<>();
    Traversal.exact(UNITS, 4)
        .run(
            program,
            rays,
            0,
            rays.capacity(),
            timing,
            r -> {
              solids[0] += r.operation().kind().isSolid() ? 1 : 0;
              if (r.isLast()) {
                hits.add(CullingTable.hit(r));
              }
            });
    return hits;
  }
}
