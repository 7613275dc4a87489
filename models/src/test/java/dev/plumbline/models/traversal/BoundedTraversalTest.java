package dev.plumbline.models.traversal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.Program;
import java.util.BitSet;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.FieldSource;

/** Admissible hits against the exact traversal of choices of ends: all that there are, or some. */
class BoundedTraversalTest {
  /** Boxes that are passed over open more than every choice tells. */
  private static final List<RayRules> RULES =
      List.of(RayRules.standard().withPassingMargin(RayRules.NEVER), RayRules.plain());

  private static final List<RayRules> PASSING =
      List.of(
          RULES.get(0),
          RULES.get(1),
          RayRules.standard().withPassingMargin(0),
          RayRules.plain().withPassingMargin(0));

  private static final BoundedTraversal BOUNDED = bounded(RayRules.plain());

  private static BoundedTraversal bounded(RayRules rules) {
    return BoundedTraversal.of(SceneUnits.budgeted(OpenEnds.FORMATS), 0, rules);
  }

  private static Traversal exact(RayRules rules) {
    return Traversal.exact(SceneUnits.of(OpenEnds.FORMATS), 64, rules);
  }

  private static AdmissibleHits hits(BoundedTraversal bounded, OpenEnds ends) {
    bounded.prepare(ends.program, ends.low, ends.high);
    return bounded.walk(ends.rays, 0, 0);
  }

  private static String which(long seed, OpenEnds ends, AdmissibleHits hits) {
    return "seed " + seed + "\n" + ends + "\n" + hits;
  }

  @ParameterizedTest
  @FieldSource("RULES")
  void everyChoiceIsAdmissibleAndNothingElseIs(RayRules rules) {
    BoundedTraversal bounded = bounded(rules);
    Traversal exact = exact(rules);
    int cases = 0;
    int open = 0;
    int several = 0;
    double followed = 0;
    for (long seed = 0; followed < 3e5; seed++) {
      Random random = new Random(seed);
      OpenEnds ends = new OpenEnds(random, rules, exact, 1 + random.nextInt(5), random.nextInt(3));
      if (ends.choices() > 5_000) {
        continue;
      }
      followed += ends.everyChoice();
      AdmissibleHits hits = hits(bounded, ends);
      assertTrue(hits.isComplete());
      assertEquals(ends.missed, hits.isMissAdmissible(), which(seed, ends, hits));
      requireSeen(seed, ends, hits);
      requireNothingElse(seed, ends, hits);
      for (int a = 0; a < ends.program.length(); a++) {
        // A ray that ends at any hit before a skip leaves it undecided.
        boolean decided = ends.rays.column("any_hit")[0] == 0;
        assertTrue(hits.mayTake(a) == ends.taken.contains(a) || !decided, which(seed, ends, hits));
        assertTrue(hits.mayPass(a) == ends.passed.contains(a) || !decided, which(seed, ends, hits));
      }
      cases++;
      open += hits.isUnambiguous() ? 0 : 1;
      several += hits.count() > 2 ? 1 : 0;
    }
    assertTrue(cases > 100 && open > 40 && several > 10, cases + " " + open + " " + several);
  }

  private static void requireSeen(long seed, OpenEnds ends, AdmissibleHits hits) {
    ends.seen.forEach(
        (surface, distances) ->
            distances.stream()
                .forEach(
                    distance ->
                        assertTrue(
                            OpenEnds.admits(hits, surface, distance),
                            () -> surface + " at " + distance + ", " + which(seed, ends, hits))));
  }

  /** Every step of the grid in an interval, or the point that it is, was seen. */
  private static void requireNothingElse(long seed, OpenEnds ends, AdmissibleHits hits) {
    for (int i = 0; i < hits.count(); i++) {
      int surface = OpenEnds.surface(hits.material(i), hits.isReversed(i), hits.isInward(i));
      BitSet seen = ends.seen.getOrDefault(surface, new BitSet());
      int from = (int) hits.least(i);
      do {
        int to = (int) Math.min(hits.greatest(i), from - from % OpenEnds.GRID + OpenEnds.GRID);
        int next = seen.nextSetBit(from);
        assertTrue(next >= 0 && next <= to, () -> surface + ", " + which(seed, ends, hits));
        from = to;
      } while (from < hits.greatest(i));
    }
  }

  @ParameterizedTest
  @FieldSource("PASSING")
  void whatChoicesOfLargeProgramsGiveIsAdmissibleEvenWhereNotAllAreFollowed(RayRules rules) {
    BoundedTraversal bounded = bounded(rules);
    Traversal exact = exact(rules);
    int results = 0;
    int passed = 0;
    int incomplete = 0;
    for (long seed = 1_000_000; seed < 1_000_130; seed++) {
      Random random = new Random(seed);
      OpenEnds ends =
          new OpenEnds(
              random,
              rules,
              exact,
              1 + random.nextInt(seed % 5 == 0 ? 60 : 12),
              1 + random.nextInt(3));
      for (int i = 0; i < 200; i++) {
        ends.anyChoice();
      }
      AdmissibleHits hits = hits(bounded, ends);
      assertTrue(hits.isMissAdmissible() || !ends.missed, which(seed, ends, hits));
      requireSeen(seed, ends, hits);
      for (int skip : ends.taken) {
        assertTrue(hits.mayTake(skip), which(seed, ends, hits));
        passed += ends.low.hit[skip] ? 1 : 0;
      }
      results += ends.seen.size();
      incomplete += hits.isComplete() ? 0 : 1;
    }
    assertTrue(results > 150 && incomplete > 0, results + " surfaces, " + incomplete);
    assertEquals(rules.passesOver(), passed > 0, passed + " boxes passed over");
  }

  /** Boxes of known intervals: least entry, greatest entry, least exit, greatest exit of each. */
  private static String result(Program.Builder b, Rays rays, long[]... boxes) {
    Program program = b.end().build();
    EndColumns low = new EndColumns();
    EndColumns high = new EndColumns();
    low.makeRoom(program.length());
    high.makeRoom(program.length());
    int box = 0;
    for (int address = 0; address < program.length(); address++) {
      if (program.at(address).kind() == OperationKind.BOX) {
        low.entry[address] = boxes[box][0];
        high.entry[address] = boxes[box][1];
        low.exit[address] = boxes[box][2];
        high.exit[address] = boxes[box++][3];
      }
    }
    BOUNDED.prepare(program, low, high);
    return BOUNDED.walk(rays, 0, 0).toString();
  }

  private static Program.Builder builder() {
    return Program.builder(OpenEnds.FORMATS, OpenEnds.LIMITS);
  }

  private static Program.Builder box(Program.Builder b, int material) {
    return b.box(material, 0, 0, 0, 1, 1, 1);
  }

  private static long[] ends(long... ends) {
    return ends;
  }

  @Test
  void aSurfaceThatAnotherHidesForAWhileHasTwoIntervals() {
    Rays rays = Rays.of(OpenEnds.FORMATS, 1);
    Program.Builder b = box(box(builder().begin(), 1), 2).union().close();
    String result = result(b, rays, ends(-9, -9, 1, 50), ends(20, 20, 30, 30));
    assertEquals(
        "ray 0: 1 box m1 inward 1.0 to 20.0, or 2 box m2 inward 30.0 to 30.0,"
            + " or 1 box m1 inward 30.0 to 50.0",
        result);
  }

  @Test
  void aSurfaceAtTheLimitEndsNoRay() {
    Rays rays = Rays.of(OpenEnds.FORMATS, 1);
    rays.anyHit(0, 10);
    Program.Builder b = box(builder().begin(), 1).close();
    box(b.begin(), 2).close();
    box(b.begin(), 3).close();
    long[][] boxes = {ends(10, 10, 20, 20), ends(5, 5, 7, 7), ends(3, 3, 4, 4)};
    assertEquals("ray 0: 4 box m2 5.0 to 5.0", result(b, rays, boxes));
    rays.anyHit(0, 11);
    b = box(builder().begin(), 1).close();
    box(b.begin(), 2).close();
    assertEquals(
        "ray 0: 1 box m1 10.0 to 10.0", result(b, rays, ends(10, 10, 20, 20), ends(5, 5, 7, 7)));
  }

  @Test
  void whatLiesJustBehindALaterObjectIsNotSeen() {
    // Of two ends at 10 the left one is seen, and what lies behind 10 the other object hides.
    Rays rays = Rays.of(OpenEnds.FORMATS, 1);
    Program.Builder b = box(box(builder().begin(), 1), 2).intersection().close();
    box(b.begin(), 3).close();
    long[][] boxes = {ends(10, 10, 20, 20), ends(9, 12, 20, 20), ends(10, 10, 30, 30)};
    assertEquals("ray 0: 1 box m1 10.0 to 10.0, or 6 box m3 10.0 to 10.0", result(b, rays, boxes));
  }

  @Test
  void aSpanThatEndsWhereAnotherBeginsNeverMeetsIt() {
    Rays rays = Rays.of(OpenEnds.FORMATS, 1);
    Program.Builder b = box(box(builder().begin(), 1), 2).intersection().close();
    assertEquals("ray 0: a miss", result(b, rays, ends(5, 10, 3, 10), ends(10, 10, 20, 20)));
  }

  @Test
  void refusesASphereWithoutAStepForWhetherItIsMet() {
    SceneUnits units = SceneUnits.of(OpenEnds.FORMATS);
    String message =
        assertThrows(
                IllegalArgumentException.class,
                () -> new SceneUnits(OpenEnds.FORMATS, units.box(), units.halfSpace(), units.box()))
            .getMessage();
    assertTrue(message.startsWith("Sphere of a scene by \"box_slab\": its steps"), message);
  }

  @Test
  void refusesABoxWithCrossedFaces() {
    Program program = builder().begin().box(1, 0, 3, 0, 1, 2, 1).close().end().build();
    Rays rays = Rays.of(OpenEnds.FORMATS, 1);
    assertEquals(
        "Bounds of \"box 0 3 0 1 2 1 material 1\" at address 1: min_y is above max_y,"
            + " which executors take one way or another; put the faces in order.",
        assertThrows(
                IllegalArgumentException.class, () -> BOUNDED.run(program, rays, 0, 1, h -> {}))
            .getMessage());
  }

  @Test
  void refusesANegativeMargin() {
    SceneUnits units = SceneUnits.budgeted(OpenEnds.FORMATS);
    assertEquals(
        "Bounded traversal with a margin of -1 LSB: it has to be 0 or more.",
        assertThrows(IllegalArgumentException.class, () -> BoundedTraversal.of(units, -1))
            .getMessage());
  }
}
