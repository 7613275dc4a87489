package dev.plumbline.models.span;

import dev.plumbline.models.fixed.Format;

/**
 * What the distances of a {@link SpanList} stand for: codes of a word, or reals.
 *
 * <p>The algebra of spans only compares distances, so that one list serves both: a real stands in
 * it as a whole number that keeps the order of reals (minus zero just below zero, so it is taken as
 * zero). The two outermost numbers, "for ever", are the lowest and the highest code of the word, or
 * the infinities.
 */
public final class Distances {
  private final Format word;
  private final long lowest;
  private final long highest;

  private Distances(Format word, long lowest, long highest) {
    this.word = word;
    this.lowest = lowest;
    this.highest = highest;
  }

  /**
   * Distances that are codes.
   *
   * @param word their format, signed, up to 64 bits
   * @return a scale
   * @throws IllegalArgumentException when the format is not signed or too wide
   */
  public static Distances codes(Format word) {
    if (!word.signed() || word.width() > Long.SIZE) {
      throw new IllegalArgumentException(
          "Distances in " + word + ": they have to be signed and of 64 bits at most.");
    }
    return new Distances(word, word.minCode().longValue(), word.maxCode().longValue());
  }

  /**
   * Distances that are reals.
   *
   * @return a scale
   */
  public static Distances reals() {
    return new Distances(
        null, sortable(Double.NEGATIVE_INFINITY), sortable(Double.POSITIVE_INFINITY));
  }

  /**
   * The number that means "from for ever".
   *
   * @return the lowest of all
   */
  public long lowest() {
    return lowest;
  }

  /**
   * The number that means "for ever".
   *
   * @return the highest of all
   */
  public long highest() {
    return highest;
  }

  /**
   * The number that stands for a real; codes are rounded down.
   *
   * @param real a distance; not NaN
   * @return its place in the order; saturated
   * @throws IllegalArgumentException for NaN
   */
  public long of(double real) {
    if (Double.isNaN(real)) {
      throw new IllegalArgumentException("Distance NaN: it has to be a number or an infinity.");
    }
    if (word == null) {
      return sortable(real);
    }
    double places = Math.floor(real / word.lsbs());
    return Math.max(lowest, Math.min(highest, (long) places));
  }

  /**
   * The real that a number stands for.
   *
   * @param distance from a list of this scale
   * @return in real units; an infinity where it means for ever
   */
  public double toReal(long distance) {
    if (distance == lowest) {
      return Double.NEGATIVE_INFINITY;
    }
    if (distance == highest) {
      return Double.POSITIVE_INFINITY;
    }
    return word == null
        ? Double.longBitsToDouble(distance < 0 ? distance ^ Long.MAX_VALUE : distance)
        : distance * word.lsbs();
  }

  /** Negative doubles in two's complement sort the wrong way round; zero has one number. */
  private static long sortable(double real) {
    long bits = Double.doubleToLongBits(real + 0.0);
    return bits < 0 ? bits ^ Long.MAX_VALUE : bits;
  }
}
