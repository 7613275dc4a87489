package dev.plumbline.samples;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.stimulus.Stimulus;

/** Rays as the orrery's display casts them: from in front of a box, mostly at it. */
final class OrreryRays {
  private static final int ORIGIN = 0;
  private static final int INVERSE = 3;
  private static final int PARALLEL = 6;
  private static final int MIN = 9;
  private static final int MAX = 12;

  private OrreryRays() {}

  /**
   * Cases for the inverse form of the box test, operands in its order.
   *
   * <p>A box of up to eight units a side near the middle; an origin around or inside it; a ray at a
   * point in or just beside the box. One component in eight is zero, which makes the axis parallel,
   * and then the origin is often exactly in a face.
   */
  static Stimulus boxes(Format word) {
    long unit = 1L << word.fractionBits();
    return Stimulus.drawn((stream, codes) -> draw(stream, codes, word, unit));
  }

  private static void draw(RandomStream stream, long[] codes, Format word, long unit) {
    for (int axis = 0; axis < 3; axis++) {
      long centre = within(stream, 16 * unit);
      long half = stream.below((int) (4 * unit));
      long origin = within(stream, 32 * unit);
      long target = centre + within(stream, half + half / 4 + 2);
      boolean parallel = stream.below(8) == 0;
      if (parallel && stream.below(2) == 0) {
        origin = stream.below(2) == 0 ? centre - half : centre + half;
      }
      codes[ORIGIN + axis] = origin;
      codes[MIN + axis] = centre - half;
      codes[MAX + axis] = centre + half;
      codes[PARALLEL + axis] = parallel ? 1 : 0;
      codes[INVERSE + axis] = parallel ? stream.next() : inverse(target - origin, word, unit);
    }
  }

  /** The reciprocal of a component; the ray's unit is the distance to its target. */
  private static long inverse(long component, Format word, long unit) {
    long most = (1L << (word.width() - 1)) - 1;
    return component == 0 ? most : Math.max(-most, Math.min(most, unit * unit / component));
  }

  /** From -most to most. */
  private static long within(RandomStream stream, long most) {
    return stream.below((int) (2 * most + 1)) - most;
  }
}
