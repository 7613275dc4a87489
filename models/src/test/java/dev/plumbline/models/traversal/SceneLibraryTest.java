package dev.plumbline.models.traversal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.scene.CullingTable;
import dev.plumbline.models.solid.Box;
import dev.plumbline.models.solid.BoxSlab;
import dev.plumbline.models.span.Distances;
import dev.plumbline.models.span.SpanList;
import dev.plumbline.models.unit.Reciprocal;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.apache.commons.geometry.euclidean.threed.Vector3D;
import org.apache.commons.geometry.euclidean.threed.line.Line3D;
import org.apache.commons.geometry.euclidean.threed.line.LinecastPoint3D;
import org.apache.commons.geometry.euclidean.threed.line.Lines3D;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

/** Whole objects against a library that nobody here wrote: commons-geometry 1.0. */
class SceneLibraryTest {
  private static final SceneFormats FORMATS = CullingTable.FORMATS;
  private static final long SEED = 1010;
  private static final int SCENES = 40;
  private static final int RAYS = 30;

  /** Ends nearer to each other than this are left to other tests: the library merges them. */
  private static final double APART = 1e-3;

  private final Random random = new Random(SEED);

  /** With boxes that are given directions, since the library knows no rounded inverses. */
  private final Traversal ideal;

  private final BoundedTraversal bounded;

  SceneLibraryTest() {
    Reciprocal reciprocal = Reciprocal.between(FORMATS.direction(), FORMATS.word());
    Box box = Box.of(FORMATS.word());
    ideal =
        Traversal.ideal(
            units(
                SceneUnits.of(FORMATS),
                BoxSlab.of(FORMATS.word()).withFaces().fromDirection(reciprocal)),
            RayRules.plain()); // ends behind the origin are compared as well
    Datapath budgeted = box.budgetedFromDirection(reciprocal, box.budget(FORMATS.word()));
    bounded = BoundedTraversal.of(units(SceneUnits.budgeted(FORMATS), budgeted), 0);
  }

  private static SceneUnits units(SceneUnits units, Datapath box) {
    return new SceneUnits(FORMATS, units.sphere(), units.halfSpace(), box);
  }

  /** A ray and what the library finds for its line. */
  private final class Cast {
    final Rays rays = Rays.of(FORMATS, 1);
    final Vector3D direction;
    final List<LinecastPoint3D> points;

    /** Distances of the points from the ray's origin, in lengths of its direction. */
    final double[] at;

    Cast(LibrarySolid solid) {
      double[] d = CullingTable.direction(random);
      long[] codes = CullingTable.unit(d);
      long[] from = new long[3];
      for (int axis = 0; axis < 3; axis++) {
        from[axis] = CullingTable.code(random.nextDouble() * 3 - 1.5 - 8 * d[axis]);
      }
      rays.nearest(0, 0, from, codes);
      direction = LibrarySolid.vector(codes[0], codes[1], codes[2]);
      Vector3D origin = LibrarySolid.vector(from[0], from[1], from[2]);
      Line3D line = Lines3D.fromPointAndDirection(origin, direction, LibrarySolid.PRECISION);
      points = solid.region.linecast(line.span());
      at = new double[points.size()];
      for (int i = 0; i < at.length; i++) {
        // Abscissas count from the line's point that is nearest to the library's origin.
        at[i] = (points.get(i).getAbscissa() - line.abscissa(origin)) / direction.norm();
      }
    }

    boolean isClear() {
      for (int i = 0; i < at.length; i++) {
        if (Math.abs(at[i]) < APART || (i > 0 && at[i] - at[i - 1] < APART)) {
          return false;
        }
      }
      return true;
    }

    /** The index of the nearest point ahead; their number when there is none. */
    int nearest() {
      int i = 0;
      while (i < at.length && at[i] <= 0) {
        i++;
      }
      return i;
    }
  }

  @Test
  @DisplayName("D10: random boxes, half-spaces and hulls agree with RegionBSPTree3D, end by end")
  void agreesWithCommonsGeometry() {
    int together = 0;
    int ends = 0;
    int hits = 0;
    for (int i = 0; i < SCENES; i++) {
      LibrarySolid solid = new LibrarySolid(random, 1 + random.nextInt(4));
      for (int k = 0; k < RAYS; k++) {
        Cast cast = new Cast(solid);
        if (!cast.isClear()) {
          together++;
          continue;
        }
        String which = "seed " + SEED + ", scene " + i + ", ray " + k + "\n" + solid.program;
        List<End> ours = ends(solid.program, cast.rays);
        assertEquals(cast.at.length, ours.size(), which);
        for (int end = 0; end < cast.at.length; end++) {
          assertEquals(cast.at[end], ours.get(end).distance(), 1e-6, which);
          Vector3D normal = cast.points.get(end).getNormal();
          assertTrue(ours.get(end).isOf(solid, normal), which + normal + ours.get(end));
        }
        requireAdmissible(solid, cast, which);
        ends += ours.size();
        hits += cast.nearest() < cast.at.length ? 1 : 0;
      }
    }
    assertTrue(together < SCENES * RAYS / 50, together + " rays left out");
    assertTrue(ends > SCENES * RAYS / 2 && hits > SCENES * RAYS / 3, ends + " ends, " + hits);
  }

  /** An end of the object's spans. */
  private record End(double distance, int surface, boolean reversed) {
    boolean isOf(LibrarySolid solid, Vector3D normal) {
      int material = SurfaceNumber.material(surface, solid.program);
      return solid.isNormal(normal, material, 1 << SurfaceNumber.face(surface), reversed);
    }
  }

  /** The ends of the object's spans in reals, for ever left out. */
  private List<End> ends(Program program, Rays rays) {
    List<End> ends = new ArrayList<>();
    ideal.run(
        program,
        rays,
        0,
        1,
        null,
        r -> {
          SpanList top = r.top();
          if (r.operation().kind() != OperationKind.CLOSE && r.height() == 1) {
            ends.clear();
            for (int end = 0; end < 2 * top.count(); end++) {
              if (!top.isOpen(end)) {
                double distance = Distances.reals().toReal(top.distance(end));
                ends.add(new End(distance, top.surface(end), top.isReversed(end)));
              }
            }
          }
        });
    return ends;
  }

  /** The library is hardware of unknown insides: its hit is admissible, with its normal. */
  private void requireAdmissible(LibrarySolid solid, Cast cast, String which) {
    int nearest = cast.nearest();
    bounded.run(
        solid.program,
        cast.rays,
        0,
        1,
        hits -> {
          boolean found = nearest == cast.at.length && hits.isMissAdmissible();
          for (int hit = 0; nearest < cast.at.length && hit < hits.count(); hit++) {
            Vector3D normal = cast.points.get(nearest).getNormal();
            double codes = cast.at[nearest] * (1 << 16);
            found |=
                hits.least(hit) <= Math.ceil(codes)
                    && Math.floor(codes) <= hits.greatest(hit)
                    && hits.isInward(hit) == normal.dot(cast.direction) > 0
                    && solid.isNormal(
                        normal, hits.material(hit), hits.faces(hit), hits.isReversed(hit));
          }
          assertTrue(found, () -> which + hits);
        });
  }
}
