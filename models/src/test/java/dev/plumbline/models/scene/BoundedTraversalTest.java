package dev.plumbline.models.scene;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;

/** Admissible hits against the exact traversal of choices of ends: all that there are, or some. */
class BoundedTraversalTest {
  private static final BoundedTraversal BOUNDED =
      BoundedTraversal.of(SceneUnits.budgeted(OpenEnds.FORMATS), 0);
  private final Traversal exact = Traversal.exact(SceneUnits.of(OpenEnds.FORMATS), 64);

  private static AdmissibleHits hits(OpenEnds ends) {
    BOUNDED.prepare(ends.program, ends.low, ends.high);
    return BOUNDED.walk(ends.rays, 0, 0);
  }

  private static String which(long seed, OpenEnds ends, AdmissibleHits hits) {
    return "seed " + seed + "\n" + ends + "\n" + hits;
  }

  @Test
  void everyChoiceIsAdmissibleAndNothingElseIs() {
    int cases = 0;
    int open = 0;
    int several = 0;
    double followed = 0;
    for (long seed = 0; followed < 1e6; seed++) {
      Random random = new Random(seed);
      OpenEnds ends = new OpenEnds(random, exact, 1 + random.nextInt(4), 1 + random.nextInt(2));
      if (ends.choices() > 60_000) {
        continue;
      }
      followed += ends.everyChoice();
      AdmissibleHits hits = hits(ends);
      assertTrue(hits.isComplete());
      assertEquals(ends.missed, hits.isMissAdmissible(), which(seed, ends, hits));
      requireSeen(seed, ends, hits);
      requireNothingElse(seed, ends, hits);
      for (int a = 0; a < ends.program.length(); a++) {
        // A ray that ends at any hit before a skip tells nothing of it.
        boolean told = ends.rays.column("any_hit")[0] == 0;
        assertTrue(hits.mayTake(a) == ends.taken.contains(a) || !told, which(seed, ends, hits));
        assertTrue(hits.mayPass(a) == ends.passed.contains(a) || !told, which(seed, ends, hits));
      }
      cases++;
      open += hits.isSettled() ? 0 : 1;
      several += hits.count() > 2 ? 1 : 0;
    }
    assertTrue(cases > 150 && open > 60 && several > 15, cases + " " + open + " " + several);
  }

  private static void requireSeen(long seed, OpenEnds ends, AdmissibleHits hits) {
    ends.seen.forEach(
        (surface, distances) -> {
          for (long distance : distances) {
            assertTrue(
                admits(hits, surface, distance),
                () -> surface + " at " + distance + ", " + which(seed, ends, hits));
          }
        });
  }

  private static boolean admits(AdmissibleHits hits, String surface, long distance) {
    boolean turned = surface.contains("'");
    boolean inward = surface.endsWith("inward");
    int material = Integer.parseInt(surface.replaceAll("\\D.*", ""));
    return hits.admits(distance, material, turned, inward);
  }

  /** Every step of the grid in an interval, or the point that it is, was seen. */
  private static void requireNothingElse(long seed, OpenEnds ends, AdmissibleHits hits) {
    for (int i = 0; i < hits.count(); i++) {
      String surface = OpenEnds.surface(hits.material(i), hits.isTurned(i), hits.isInward(i));
      TreeSet<Long> seen = ends.seen.getOrDefault(surface, new TreeSet<>());
      if (hits.least(i) == hits.greatest(i)) {
        assertTrue(seen.contains(hits.least(i)), () -> which(seed, ends, hits));
      }
      long step = OpenEnds.GRID;
      for (long at = hits.least(i);
          at < hits.greatest(i);
          at = Math.floorDiv(at, step) * step + step) {
        Set<Long> cell = seen.subSet(at, true, Math.floorDiv(at, step) * step + step, true);
        assertFalse(cell.isEmpty(), () -> surface + ", " + which(seed, ends, hits));
      }
    }
  }

  @Test
  void whatChoicesOfLargeProgramsGiveIsAdmissibleEvenWhereNotAllAreFollowed() {
    int answers = 0;
    int incomplete = 0;
    for (long seed = 1_000_000; seed < 1_000_150; seed++) {
      Random random = new Random(seed);
      OpenEnds ends =
          new OpenEnds(
              random, exact, 1 + random.nextInt(seed % 5 == 0 ? 60 : 12), 1 + random.nextInt(3));
      for (int i = 0; i < 200; i++) {
        ends.anyChoice();
      }
      AdmissibleHits hits = hits(ends);
      assertTrue(hits.isMissAdmissible() || !ends.missed, which(seed, ends, hits));
      requireSeen(seed, ends, hits);
      answers += ends.seen.size();
      incomplete += hits.isComplete() ? 0 : 1;
    }
    assertTrue(answers > 250 && incomplete > 0, answers + " surfaces, " + incomplete);
  }

  @Test
  void refusesANegativeMargin() {
    SceneUnits units = SceneUnits.budgeted(OpenEnds.FORMATS);
    assertEquals(
        "bounded traversal with a margin of -1 last places: it has to be 0 or more",
        assertThrows(IllegalArgumentException.class, () -> BoundedTraversal.of(units, -1))
            .getMessage());
  }
}
