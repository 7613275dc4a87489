package dev.plumbline.samples;

import dev.plumbline.models.light.RayTracer;
import dev.plumbline.models.light.Surfaces;
import dev.plumbline.models.traversal.Rays;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.Map;

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

  /** One of them: what was asked, and what is answered. */
  private static final class Asked {
    final long[] codes = new long[INVERSE + AXES];
    boolean hit;
    long distance;
    int solid;
    int face;
  }

  private final Map<Kind, Asked> asked = new EnumMap<>(Kind.class);
  private boolean traced;
  private boolean mirrored;

  SequencerRays() {
    for (Kind kind : Kind.values()) {
      asked.put(kind, new Asked());
    }
  }

  /** A pixel begins. */
  void begin() {
    traced = false;
    mirrored = false;
    asked.values().forEach(ray -> Arrays.fill(ray.codes, 0));
  }

  void meets(Kind kind, boolean hit, long distance, int solid, int face) {
    Asked ray = asked.get(kind);
    ray.hit = hit;
    ray.distance = distance;
    ray.solid = solid;
    ray.face = face;
  }

  /** Origin, direction and, but for shadow rays, inverse of what was asked. */
  int copy(Kind kind, long[] into, int from) {
    int count = kind.isShadow() ? INVERSE : INVERSE + AXES;
    System.arraycopy(asked.get(kind).codes, 0, into, from, count);
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
    Asked ray = asked.get(kind);
    for (int i = 0; i < INVERSE + AXES; i++) {
      boolean parallel = i >= INVERSE && rays.column(ASKED[i - INVERSE + PARALLEL])[0] == 1;
      ray.codes[i] = parallel ? 0 : rays.column(ASKED[i])[0];
    }
    into.hit[0] = ray.hit;
    boolean tells = ray.hit && !shadow;
    boolean isBox = ray.solid == FIRST_BOX || ray.solid == LAST_BOX;
    into.distance[0] = tells ? ray.distance : 0;
    into.address[0] = tells ? AXES * ray.solid + 1 : 0;
    into.face[0] = tells && isBox ? ray.face : 0;
  }
}
