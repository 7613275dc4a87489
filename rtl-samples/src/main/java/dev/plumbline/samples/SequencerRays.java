package dev.plumbline.samples;

import dev.plumbline.models.light.RayTracer;
import dev.plumbline.models.light.Surfaces;
import dev.plumbline.models.traversal.Rays;
import java.util.Arrays;

/**
 * What stands for the executor in the model of {@link SequencerBench}: answers what the case says,
 * one pixel at a time, and keeps what was asked.
 */
final class SequencerRays implements RayTracer {
  private static final String[] ASKED = {
    "origin_x", "origin_y", "origin_z", "direction_x", "direction_y", "direction_z",
    "inverse_x", "inverse_y", "inverse_z", "parallel_x", "parallel_y", "parallel_z"
  };
  private static final int AXES = 3;
  private static final int INVERSE = 6;
  private static final int PARALLEL = 9;
  private static final int FIRST_BOX = 4;
  private static final int LAST_BOX = 5;

  private static final int KINDS = 4;

  /** Rays of a pixel, in the order in which they are asked. */
  enum Kind {
    PRIMARY,
    SHADOW,
    MIRROR,
    MIRROR_SHADOW;

    boolean isShadow() {
      return this == SHADOW || this == MIRROR_SHADOW;
    }
  }

  private final long[][] asked = new long[KINDS][INVERSE + AXES];
  private final boolean[] hits = new boolean[KINDS];
  private final long[] distances = new long[KINDS];
  private final int[] solids = new int[KINDS];
  private final int[] faces = new int[KINDS];
  private boolean traced;
  private boolean mirrored;

  /** A pixel begins. */
  void begin() {
    traced = false;
    mirrored = false;
    for (long[] ray : asked) {
      Arrays.fill(ray, 0);
    }
  }

  void meets(Kind kind, boolean hit, long distance, int solid, int face) {
    hits[kind.ordinal()] = hit;
    distances[kind.ordinal()] = distance;
    solids[kind.ordinal()] = solid;
    faces[kind.ordinal()] = face;
  }

  /** Origin, direction and, but for shadow rays, inverse of what was asked. */
  int copy(Kind kind, long[] into, int from) {
    int count = kind.isShadow() ? INVERSE : INVERSE + AXES;
    System.arraycopy(asked[kind.ordinal()], 0, into, from, count);
    return from + count;
  }

  @Override
  public void trace(Rays rays, int count, Surfaces into) {
    if (count == 0) {
      return;
    }
    boolean shadow = rays.column("any_hit")[0] == 1;
    Kind kind =
        shadow
            ? (mirrored ? Kind.MIRROR_SHADOW : Kind.SHADOW)
            : (traced ? Kind.MIRROR : Kind.PRIMARY);
    traced = true;
    mirrored |= kind == Kind.MIRROR;
    int k = kind.ordinal();
    for (int i = 0; i < INVERSE + AXES; i++) {
      boolean parallel = i >= INVERSE && rays.column(ASKED[i - INVERSE + PARALLEL])[0] == 1;
      asked[k][i] = parallel ? 0 : rays.column(ASKED[i])[0];
    }
    into.hit[0] = hits[k];
    boolean tells = hits[k] && !shadow;
    boolean isBox = solids[k] == FIRST_BOX || solids[k] == LAST_BOX;
    into.distance[0] = tells ? distances[k] : 0;
    into.address[0] = tells ? AXES * solids[k] + 1 : 0;
    into.face[0] = tells && isBox ? faces[k] : 0;
  }
}
