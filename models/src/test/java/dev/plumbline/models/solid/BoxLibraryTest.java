package dev.plumbline.models.solid;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.Evaluated;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.unit.Reciprocal;
import java.util.Random;
import org.joml.Intersectiond;
import org.joml.Vector2d;
import org.junit.jupiter.api.Test;

/**
 * The exact level against a library that nobody here wrote: JOML 1.10.8, in doubles.
 *
 * <p>JOML is no judge on boundaries (rays through edges go either way there), so that cases within
 * the model's own error of one are left out, and counted.
 */
class BoxLibraryTest {
  private static final Format WORD = Format.signed(16, 16);
  private static final Format DIRECTION = Format.signed(2, 16);
  private static final int CASES = 50_000;
  private static final long SEED = 77;

  @Test
  void agreesWithJomlAwayFromBoundaries() {
    Datapath box = BoxSlab.of(WORD).fromDirection(Reciprocal.between(DIRECTION, WORD));
    long[][] rays = rays();
    Evaluated bits = Evaluated.bits(box, rays);
    Vector2d range = new Vector2d();
    int compared = 0;
    int hits = 0;
    for (int i = 0; i < CASES; i++) {
      double[] o = reals(rays, 0, i, WORD);
      double[] d = reals(rays, 3, i, DIRECTION);
      double[] min = reals(rays, 6, i, WORD);
      double[] max = reals(rays, 9, i, WORD);
      // Rounding, and what the inverse's LSB does to the longest of the distances.
      double error = WORD.lsbs() * 4;
      for (int axis = 0; axis < 3; axis++) {
        double reach = Math.max(Math.abs(min[axis] - o[axis]), Math.abs(max[axis] - o[axis]));
        error = Math.max(error, (reach + 4) * WORD.lsbs());
      }
      boolean clear = clear(o, d, min, max, error);
      if (clear) {
        boolean joml =
            Intersectiond.intersectRayAab(
                o[0], o[1], o[2], d[0], d[1], d[2], min[0], min[1], min[2], max[0], max[1], max[2],
                range);
        String which = Evaluated.describe(box, rays, i) + ", seed " + SEED;
        assertEquals(joml, bits.codes("hit")[i] == 1, which);
        if (joml) {
          assertEquals(range.x, bits.real("entry", i), error, which);
          assertEquals(range.y, bits.real("exit", i), error, which);
          hits++;
        }
        compared++;
      }
    }
    assertTrue(compared > CASES * 9 / 10, compared + " compared");
    assertTrue(hits > compared / 5 && hits < compared * 4 / 5, hits + " hits");
  }

  /** Whether no decision is nearer than the error: order of entry and exit, start, faces. */
  private static boolean clear(double[] o, double[] d, double[] min, double[] max, double error) {
    double near = Double.NEGATIVE_INFINITY;
    double far = Double.POSITIVE_INFINITY;
    for (int axis = 0; axis < 3; axis++) {
      if (d[axis] == 0) {
        if (Math.min(Math.abs(min[axis] - o[axis]), Math.abs(max[axis] - o[axis])) < error) {
          return false;
        }
      } else {
        double first = (min[axis] - o[axis]) / d[axis];
        double second = (max[axis] - o[axis]) / d[axis];
        near = Math.max(near, Math.min(first, second));
        far = Math.min(far, Math.max(first, second));
      }
    }
    return Math.abs(far - near) > 2 * error && Math.abs(far) > 2 * error;
  }

  private static double[] reals(long[][] rays, int from, int i, Format format) {
    return new double[] {
      format.toReal(rays[from][i]),
      format.toReal(rays[from + 1][i]),
      format.toReal(rays[from + 2][i])
    };
  }

  /** Rays that leave from around a box towards somewhere near it; a few along an axis. */
  private static long[][] rays() {
    Random random = new Random(SEED);
    long[][] rays = new long[12][CASES];
    for (int i = 0; i < CASES; i++) {
      double[] aim = new double[3];
      for (int axis = 0; axis < 3; axis++) {
        rays[axis][i] = code(20 * random.nextGaussian(), WORD);
        double centre = 3 * random.nextGaussian();
        double half = .05 + 8 * random.nextDouble();
        rays[6 + axis][i] = code(centre - half, WORD);
        rays[9 + axis][i] = code(centre + half, WORD);
        double at = centre + half * 2.2 * (2 * random.nextDouble() - 1);
        aim[axis] = at - WORD.toReal(rays[axis][i]);
        if (random.nextInt(12) == 0) {
          aim[axis] = 0;
        }
      }
      double length = Math.sqrt(aim[0] * aim[0] + aim[1] * aim[1] + aim[2] * aim[2]);
      for (int axis = 0; axis < 3; axis++) {
        double part = length == 0 ? 1 : aim[axis] / length;
        // A component too small for its inverse saturates; it is taken as parallel.
        rays[3 + axis][i] = Math.abs(part) < 0x1p-10 ? 0 : code(part, DIRECTION);
      }
    }
    return rays;
  }

  private static long code(double value, Format format) {
    return Math.round(Math.scalb(value, format.fractionBits()));
  }
}
