package dev.plumbline.models.traversal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.solid.BoxSlab;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** Start, limit, any hit, and boxes of small directions: by geometry, in numbers worked by hand. */
class RayRulesTest {
  private static final SceneFormats FORMATS =
      SceneFormats.of(Format.signed(16, 16), Format.signed(2, 16));
  private static final SceneUnits UNITS = SceneUnits.of(FORMATS);
  private static final ProgramLimits LIMITS = new ProgramLimits(256, 4, 16);
  private static final long ONE = 1L << 16;
  private static final long[] AHEAD = {0, 0, ONE};

  private static Program.Builder builder() {
    return Program.builder(FORMATS, LIMITS);
  }

  /** A sphere whose nearest surface is at a distance in front of the origin, along z. */
  private static Program.Builder sphereAt(Program.Builder b, int material, long distance) {
    return b.sphere(material, 0, 0, distance * ONE + ONE / 2, ONE / 2);
  }

  private static Rays ray(long start, long... direction) {
    Rays rays = Rays.of(FORMATS, 1);
    rays.nearest(0, start, new long[3], direction);
    return rays;
  }

  /** The last retirement of a ray, as text. */
  private static String last(Traversal traversal, Program program, Rays rays) {
    List<String> lines = new ArrayList<>();
    traversal.run(program, rays, 0, 1, null, r -> lines.add(r.toString()));
    return lines.get(lines.size() - 1);
  }

  private static String standard(Program program, Rays rays) {
    return last(Traversal.exact(UNITS, 4), program, rays);
  }

  private static String plain(Program program, Rays rays) {
    return last(Traversal.exact(UNITS, 4, RayRules.plain()), program, rays);
  }

  @Test
  void anyHitWithLimit5AndOneSphereAt8IsNoHit() {
    Program program = sphereAt(builder().begin(), 1, 8).close().end().build();
    Rays rays = ray(0, AHEAD);
    rays.anyHit(0, 5 * ONE);
    assertEquals("ray 0, 3 end: [], height 0, no hit", standard(program, rays));
    assertEquals("ray 0, 3 end: [], height 0, best 8.0 m1", plain(program, rays));
    rays.anyHit(0, 8 * ONE + 1);
    assertEquals("ray 0, 2 close: [], height 0, best 8.0 m1", standard(program, rays));
    rays.anyHit(0, 8 * ONE);
    assertEquals("ray 0, 3 end: [], height 0, no hit", standard(program, rays));
  }

  @Test
  void limitCountsForTheNearestSurfaceToo() {
    Program program = sphereAt(builder().begin(), 1, 8).close().end().build();
    Rays rays = ray(0, AHEAD);
    assertEquals("ray 0, 3 end: [], height 0, best 8.0 m1", standard(program, rays));
    rays.column("limit")[0] = 8 * ONE;
    assertEquals("ray 0, 3 end: [], height 0, no hit", standard(program, rays));
    assertEquals("ray 0, 3 end: [], height 0, best 8.0 m1", plain(program, rays));
    rays.column("limit")[0] = 8 * ONE + 1;
    assertEquals("ray 0, 3 end: [], height 0, best 8.0 m1", standard(program, rays));
  }

  @Test
  void fourSpheresBehindUseUpNoPlaceOfFour() {
    Program.Builder b = sphereAt(builder().begin(), 1, -9);
    int material = 2;
    for (long distance : new long[] {-7, -5, -3, 3}) {
      b = sphereAt(b, material++, distance).union();
    }
    Program program = b.close().end().build();
    assertEquals("ray 0, 11 end: [], height 0, best 3.0 m5", standard(program, ray(0, AHEAD)));
    assertEquals("ray 0, 11 end: [], height 0, no hit, overflow", plain(program, ray(0, AHEAD)));
  }

  @Test
  void startWithinASolidClipsItsSpanAndIsNoSurface() {
    Program program = sphereAt(builder().begin(), 1, 3).close().end().build();
    List<String> lines = new ArrayList<>();
    Traversal.exact(UNITS, 4)
        .run(program, ray(3 * ONE + 9, AHEAD), 0, 1, null, r -> lines.add(r.toString()));
    assertEquals(
        "ray 0, 1 sphere 0 0 229376 32768 material 1: [3.0001373291015625 m1, 4.0 m1), height 1,"
            + " no hit",
        lines.get(1));
    assertEquals("ray 0, 3 end: [], height 0, best 4.0 m1 inward", lines.get(3));
    assertTrue(standard(program, ray(4 * ONE, AHEAD)).endsWith("no hit"), "not at the exit");
  }

  @Test
  void negativeStartAgreesWithCullingBoxes() {
    Random random = new Random(4);
    int seen = 0;
    for (int i = 0; i < 500; i++) {
      long at = random.nextInt(20) - 10L;
      Program plain = sphereAt(builder().begin(), 1, at).close().end().build();
      Program.Builder b = builder();
      Program.Label past = b.label();
      b.skip(past, -ONE, -ONE, at * ONE, ONE, ONE, (at + 1) * ONE);
      Program culled = sphereAt(b.begin(), 1, at).close().place(past).end().build();
      Rays rays = ray(-random.nextInt((int) (16 * ONE)), AHEAD);
      String found = standard(plain, rays).replaceFirst("^.*height 0, ", "");
      assertEquals(found, standard(culled, rays).replaceFirst("^.*height 0, ", ""), "at " + at);
      assertEquals(at >= 1 || at == 0, found.startsWith("best"), found + " at " + at);
      seen += found.startsWith("best") ? 1 : 0;
    }
    assertTrue(seen > 100, seen + " seen");
    // Without the rule the box behind is missed, and its sphere is not.
    Program behind = sphereAt(builder().begin(), 1, -5).close().end().build();
    assertTrue(plain(behind, ray(-8 * ONE, AHEAD)).endsWith("best -5.0 m1"));
  }

  @Test
  void directionOfOneCodeDoesNotMissABoxThatTheRayMeets() {
    // Along (65536, 0, 1) z reaches 0.1 at t = 6553.6 only; the inverse, 65536, does not fit.
    Program program =
        builder()
            .begin()
            .box(1, 4000 * ONE, -ONE, -ONE, 5000 * ONE, ONE, ONE / 10)
            .close()
            .end()
            .build();
    Rays rays = ray(0, ONE, 0, 1);
    assertEquals("ray 0, 3 end: [], height 0, best 4000.0 m1 -x", standard(program, rays));
    SceneUnits strict =
        new SceneUnits(
            FORMATS,
            UNITS.sphere(),
            UNITS.halfSpace(),
            BoxSlab.of(FORMATS.word()).fromInverse(FORMATS.inverse()));
    assertTrue(last(Traversal.exact(strict, 4), program, rays).endsWith("no hit"), "as given");
    // Both ways are admissible.
    BoundedTraversal.of(SceneUnits.budgeted(FORMATS), SceneUnits.MARGIN)
        .run(
            program,
            rays,
            0,
            1,
            hits -> {
              assertTrue(hits.admits(4000 * ONE, 1, 0, false, false), hits.toString());
              assertTrue(hits.isMissAdmissible(), hits.toString());
            });
  }

  @Test
  void cullingWithTheDefaultMarginMissesNothing21Away() {
    // The ray enters by x = 21 and leaves by the plane of y that it meets there, at most one code
    // beyond: a hit, in whole numbers 21 dy <= y dx.
    SceneUnits narrow =
        new SceneUnits(
            FORMATS,
            UNITS.sphere(),
            UNITS.halfSpace(),
            BoxSlab.of(FORMATS.word()).fromInverse(FORMATS.inverse()));
    Random random = new Random(21);
    int missed = 0;
    for (int i = 0; i < 1000; i++) {
      long dx = ONE / 2 + random.nextInt((int) ONE / 2);
      long dy = ONE / 2 + random.nextInt((int) (dx - ONE / 2) + 1);
      long y = (21 * ONE * dy + dx - 1) / dx;
      Program.Builder b = builder();
      Program.Label past = b.label();
      b.skip(past, 21 * ONE, -ONE, -ONE, 22 * ONE, y, ONE);
      Program program = sphereAt(b.begin(), 1, 3).close().place(past).end().build();
      assertTrue(!takes(UNITS, program, ray(0, dx, dy, 0)), dx + " " + dy);
      missed += takes(narrow, program, ray(0, dx, dy, 0)) ? 1 : 0;
    }
    assertTrue(missed > 100, missed + " missed with a margin of 2");
  }

  private static boolean takes(SceneUnits units, Program program, Rays rays) {
    boolean[] taken = new boolean[1];
    Traversal.exact(units, 4)
        .run(
            program,
            rays,
            0,
            1,
            null,
            r -> taken[0] |= r.operation().kind() == OperationKind.SKIP && r.isSkipTaken());
    return taken[0];
  }
}
