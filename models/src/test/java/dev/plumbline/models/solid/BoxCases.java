package dev.plumbline.models.solid;

import dev.plumbline.models.fixed.Format;
import java.util.Random;

/**
 * Rays and boxes in any format: aimed at a point of the box or just beside an edge, parallel to
 * axes, in faces, inside, behind, flat, crossed, and at the ends of the formats.
 */
final class BoxCases {
  private final Random random;
  private final PlaneFormats formats;

  BoxCases(long seed, PlaneFormats formats) {
    this.random = new Random(seed);
    this.formats = formats;
  }

  /** Columns in the order origin, direction, minimum, maximum. */
  long[][] directions(int cases) {
    long[][] columns = new long[12][cases];
    for (int i = 0; i < cases; i++) {
      box(columns, i, 6);
    }
    return columns;
  }

  /** Columns in the order origin, inverse, parallel, minimum, maximum. */
  long[][] inverses(int cases) {
    long[][] columns = new long[15][cases];
    int places = formats.word.fractionBits() + formats.direction.fractionBits();
    for (int i = 0; i < cases; i++) {
      box(columns, i, 9);
      for (int axis = 0; axis < 3; axis++) {
        long direction = columns[3 + axis][i];
        columns[6 + axis][i] = direction == 0 ? 1 : 0;
        columns[3 + axis][i] =
            direction == 0 ? random.nextInt(100) : clamp((1L << places) / direction, formats.word);
      }
    }
    return columns;
  }

  private void box(long[][] columns, int i, int faces) {
    Format word = formats.word;
    boolean anywhere = random.nextInt(6) == 0;
    int bits = anywhere ? word.width() : Math.min(word.width() - 4, word.fractionBits() + 5);
    long t = code(bits);
    for (int axis = 0; axis < 3; axis++) {
      columns[axis][i] = code(bits);
      double unit = Math.scalb(1.0, formats.direction.fractionBits());
      long direction =
          switch (random.nextInt(6)) {
            case 0 -> 0;
            case 1 -> (long) (random.nextBoolean() ? unit : -unit);
            default -> clamp(Math.round(random.nextGaussian() * unit / 2), formats.direction);
          };
      columns[3 + axis][i] = direction;
      // A point of the ray, or one beside it by an LSB or two, in a face or between faces.
      long at = columns[axis][i] + Math.round(t * (direction / unit)) + random.nextInt(3) - 1L;
      long before = random.nextInt(3) == 0 ? 0 : Math.abs(code(bits - 1));
      long after = random.nextInt(3) == 0 ? 0 : Math.abs(code(bits - 1));
      boolean crossed = random.nextInt(20) == 0;
      columns[faces + axis][i] = clamp(at - (crossed ? -after : before), word);
      columns[faces + 3 + axis][i] = clamp(at + (crossed ? -before : after), word);
    }
  }

  private long code(int bits) {
    return random.nextLong() >> (64 - bits);
  }

  private static long clamp(long code, Format format) {
    return Math.min(
        Math.max(code, format.minCode().longValueExact()), format.maxCode().longValueExact());
  }
}
