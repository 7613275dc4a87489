package dev.plumbline.judge;

import dev.plumbline.drive.OutputCheck;
import dev.plumbline.models.fixed.Format;

/**
 * The lowest and highest codes allowed for every checked output, as columns, and whether a code of
 * the DUT lies between them. Where a check is for equality both are the same column.
 */
public final class Expectations {
  final OutputCheck[] checks;
  public final long[][][] low; // check, word, entry
  public final long[][][] high;
  final long[][] middle; // check, entry: before the tolerance, where there is one; else null

  Expectations(OutputCheck[] checks, int entries) {
    this.checks = checks;
    this.low = new long[checks.length][][];
    this.high = new long[checks.length][][];
    this.middle = new long[checks.length][];
    for (int c = 0; c < checks.length; c++) {
      low[c] = new long[checks[c].words()][entries];
      high[c] = checks[c].equal() ? low[c] : new long[checks[c].words()][entries];
      middle[c] = checks[c].tolerance() == 0 ? null : new long[entries];
    }
  }

  /** Widens the bounds of a check by its tolerance, up to the ends of its format. */
  void applyTolerance(int c, int from, int to) {
    long tolerance = checks[c].tolerance();
    if (tolerance == 0) {
      return;
    }
    Format format = checks[c].operand().format(); // of up to 62 bits: no sum overflows
    long least = format.minCode().longValueExact();
    long most = format.maxCode().longValueExact();
    long down = Math.min(tolerance, most - least);
    long[] lowest = low[c][0];
    long[] highest = high[c][0];
    long[] before = middle[c];
    for (int i = from; i < to; i++) {
      before[i] = lowest[i] + ((highest[i] - lowest[i]) >> 1);
      lowest[i] = Math.max(least, lowest[i] - down);
      highest[i] = Math.min(most, highest[i] + down);
    }
  }

  /** Whether the code at a row of a check's output columns lies outside the bounds at an entry. */
  boolean isOutside(int c, int entry, long[][] got, int row) {
    return compare(c, got, row, low[c], entry) < 0 || compare(c, got, row, high[c], entry) > 0;
  }

  /** Whether a result is wrong in a check: by its bounds, or by its code where a flag is 0. */
  public boolean isWrong(int c, int entry, long[][][] got, int row) {
    if (checks[c].isDecided(got, row)) {
      return isOutside(c, entry, got[c], row);
    }
    return checks[c].counts(got, row) && got[c][0][row] != checks[c].otherwise();
  }

  /** Whether a result is right in every check that counts for it. */
  public boolean holds(int entry, long[][][] got, int row) {
    return firstWrong(entry, got, row) < 0;
  }

  /** The first check in which a result is wrong; -1 when it is right. */
  int firstWrong(int entry, long[][][] got, int row) {
    for (int c = 0; c < checks.length; c++) {
      if (isWrong(c, entry, got, row)) {
        return c;
      }
    }
    return -1;
  }

  private int compare(int c, long[][] left, int leftAt, long[][] right, int rightAt) {
    int top = left.length - 1;
    Format format = checks[c].operand().format();
    int order =
        format.signed()
            ? Long.compare(left[top][leftAt], right[top][rightAt])
            : Long.compareUnsigned(left[top][leftAt], right[top][rightAt]);
    for (int word = top - 1; order == 0 && word >= 0; word--) {
      order = Long.compareUnsigned(left[word][leftAt], right[word][rightAt]);
    }
    return order;
  }

  /**
   * How far a narrow code is from the code that is expected, or from the middle of the range that
   * is allowed, in LSB; a tolerance shifts neither.
   */
  long deviation(int c, int entry, long code) {
    long least = low[c][0][entry];
    long from = middle[c] != null ? middle[c][entry] : least + ((high[c][0][entry] - least) >> 1);
    return code - from;
  }

  /** The same of a column of codes at the entries of the same numbers; 0 where a mask is. */
  void deviations(int c, long[] codes, long[] mask, long[] out, int count) {
    if (middle[c] != null) {
      deviations(codes, middle[c], middle[c], mask, out, count);
    } else {
      deviations(codes, low[c][0], high[c][0], mask, out, count);
    }
  }

  private static void deviations(
      long[] codes, long[] low, long[] high, long[] mask, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = (codes[i] - low[i] - ((high[i] - low[i]) >> 1)) & mask[i];
    }
  }

  /** How far apart the bounds are, in LSB; the largest long stands for more. */
  long width(int c, int entry) {
    return difference(high[c], entry, low[c], entry);
  }

  /**
   * How far the farther bound is from a code, in LSB: any more of an error added to it, whichever
   * way, would lie outside. The largest long stands for more; -1 where the code itself is outside.
   */
  long farther(int c, int entry, long[][] got, int row) {
    return isOutside(c, entry, got, row)
        ? -1
        : Math.max(difference(high[c], entry, got, row), difference(got, row, low[c], entry));
  }

  /** Whether the bounds take in more than half of all codes: there is nothing to judge by. */
  boolean isOpen(int c, int entry) {
    int bits = checks[c].operand().format().width();
    long apart = high[c][0][entry] - low[c][0][entry];
    if (bits > Long.SIZE) {
      long most = top(high[c], entry, low[c], entry);
      return Long.compareUnsigned(most, 1L << (bits - Long.SIZE - 1)) >= 0;
    }
    return Long.compareUnsigned(apart, 1L << (bits - 1)) >= 0;
  }

  /** The least width, as {@link #width} gives it, of bounds that may be open. */
  long leastOpen(int c) {
    int bits = checks[c].operand().format().width();
    return bits < Long.SIZE ? 1L << (bits - 1) : Long.MAX_VALUE;
  }

  /** Takes the result at a row into a sample. */
  void sample(int c, int entry, long[][] got, int row, WidthTally widths) {
    long farther = farther(c, entry, got, row);
    if (farther < 0) {
      widths.sampleWrong(width(c, entry));
    } else {
      widths.sample(width(c, entry), farther, isOpen(c, entry));
    }
  }

  private static long difference(long[][] more, int moreAt, long[][] less, int lessAt) {
    long difference = more[0][moreAt] - less[0][lessAt];
    boolean isLarge = difference < 0 || (more.length > 1 && top(more, moreAt, less, lessAt) != 0);
    return isLarge ? Long.MAX_VALUE : difference;
  }

  /** The upper word of a difference of two words. */
  private static long top(long[][] more, int moreAt, long[][] less, int lessAt) {
    long borrow = Long.compareUnsigned(more[0][moreAt], less[0][lessAt]) < 0 ? 1 : 0;
    return more[1][moreAt] - less[1][lessAt] - borrow;
  }
}
