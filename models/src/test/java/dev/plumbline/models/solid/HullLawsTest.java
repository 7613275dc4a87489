package dev.plumbline.models.solid;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assertions.fail;

import dev.plumbline.models.Evaluated;
import dev.plumbline.models.datapath.Datapath;
import java.util.Random;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Hulls of three faces: exact and ideal inside both bounds, other builds inside the budget. */
class HullLawsTest {
  private static final int FACES = 3;
  private static final int CASES = 20_000;
  private static final long SEED = 53;

  /** Origin, direction, then a normal and a level for each face. */
  private static long[][] cases(PlaneFormats formats) {
    long[][] hull = new long[6 + 4 * FACES][];
    for (int face = 0; face < FACES; face++) {
      long[][] plane = new PlaneCases(SEED + face, formats.word, formats.direction).columns(CASES);
      if (face == 0) {
        System.arraycopy(plane, 0, hull, 0, 6);
      }
      System.arraycopy(plane, 6, hull, 6 + 4 * face, 4);
    }
    return hull;
  }

  /** The columns of one face as a half-space takes them. */
  private static long[][] plane(long[][] hull, int face) {
    long[][] plane = new long[PlaneCases.INPUTS][];
    System.arraycopy(hull, 0, plane, 0, 6);
    System.arraycopy(hull, 6 + 4 * face, plane, 6, 4);
    return plane;
  }

  @ParameterizedTest
  @EnumSource
  void exactAndIdealLieInBothBounds(PlaneFormats formats) {
    Hull hull = Hull.of(FACES, formats.word, formats.direction);
    long[][] cases = cases(formats);
    Evaluated.lawsHold(hull.datapath(), cases, .01);
    Evaluated.lawsHold(hull.budgeted(), cases, .01);
    new Bounds(hull.budgeted(), cases).requireBitsOf(hull.datapath(), cases);
  }

  @ParameterizedTest
  @EnumSource
  void otherOrdersAndRoundingsLieInTheBudgetedBounds(PlaneFormats formats) {
    Datapath budgeted = Hull.of(FACES, formats.word, formats.direction).budgeted();
    long[][] cases = cases(formats);
    Bounds bounds = new Bounds(budgeted, cases);
    Random random = new Random(SEED);
    int hits = 0;
    for (int i = 0; i < CASES; i++) {
      long entry = Long.MIN_VALUE;
      long exit = Long.MAX_VALUE;
      long inside = 1;
      for (int face = 0; face < FACES; face++) {
        OtherPlane other = OtherPlane.any(random, formats.word);
        other.run(plane(cases, face), i, formats.direction);
        entry = Math.max(entry, other.outputs.get("entry"));
        exit = Math.min(exit, other.outputs.get("exit"));
        inside &= other.outputs.get("inside");
      }
      long hit = entry <= exit && exit >= 0 ? 1 : 0;
      hits += (int) hit;
      if (!bounds.holds("entry", i, entry)
          || !bounds.holds("exit", i, exit)
          || !bounds.holds("inside", i, inside)
          || !bounds.holds("hit", i, hit)) {
        fail(
            "hit "
                + hit
                + ", entry "
                + entry
                + ", exit "
                + exit
                + " for "
                + Evaluated.describe(budgeted, cases, i));
      }
    }
    assertTrue(hits > CASES / 20, hits + " hits");
  }

  /** What each face settles on its own settles the hull's inside, and a miss of one is a miss. */
  @ParameterizedTest
  @EnumSource
  void whatTheFacesDecidesIsDecided(PlaneFormats formats) {
    Hull hull = Hull.of(FACES, formats.word, formats.direction);
    long[][] cases = cases(formats);
    long highest = formats.word.maxCode().longValueExact();
    int decided = 0;
    for (boolean budgeted : new boolean[] {false, true}) {
      Bounds bounds = new Bounds(budgeted ? hull.budgeted() : hull.datapath(), cases);
      for (int i = 0; i < CASES; i++) {
        boolean insideAll = true;
        boolean missed = false;
        boolean known = true;
        for (int face = 0; face < FACES; face++) {
          ExactPlane plane = new ExactPlane(formats, plane(cases, face), i, budgeted);
          insideAll &= plane.inside();
          known &= plane.heightDecided();
          missed |= plane.mustMiss();
        }
        if (known) {
          assertEquals(insideAll, bounds.is("inside", i));
        }
        if (missed) {
          assertEquals(false, bounds.is("hit", i));
        }
        if (known && insideAll) {
          assertTrue(bounds.is("hit", i) && bounds.high("entry", i) < highest);
        }
        decided += known || missed ? 1 : 0;
      }
    }
    assertTrue(decided > CASES, decided + " decided");
  }
}
