package dev.plumbline.models.datapath;

import java.math.BigInteger;
import java.util.List;

/**
 * The codes of one value for a block of cases: one column when they fit a signed word, else two.
 *
 * <p>Narrow loops work on {@link #low} directly; wide loops read through {@link #high(int)}, which
 * sign-extends a narrow lane, and so take any mix.
 */
final class Lane {
  final long[] low;

  /** The upper words; null in a narrow lane. */
  final long[] high;

  private long[] signs; // of a narrow lane, once a wide loop has asked for them

  Lane(int capacity, boolean wide) {
    low = new long[capacity];
    high = wide ? new long[capacity] : null;
  }

  boolean wide() {
    return high != null;
  }

  long high(int i) {
    return high == null ? low[i] >> 63 : high[i];
  }

  /**
   * The upper words as a column, for loops without a branch; those of a narrow lane are what {@link
   * #extended} leaves there.
   */
  long[] upper() {
    if (high != null) {
      return high;
    }
    if (signs == null) {
      signs = new long[low.length];
    }
    return signs;
  }

  /** What makes {@link #upper} hold the upper words of this lane's codes as they are now. */
  Loop extended() {
    if (high != null) {
      return Loop.NOTHING;
    }
    long[] out = upper();
    return Loop.of(n -> signs(low, out, n), out, "sign($0)", low);
  }

  private static void signs(long[] codes, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = codes[i] >> 63;
    }
  }

  /** Adds the columns of its words to others. */
  void addWordsTo(List<long[]> columns) {
    columns.add(low);
    if (high != null) {
      columns.add(high);
    }
  }

  void set(int i, long highWord, long lowWord) {
    low[i] = lowWord;
    if (high != null) {
      high[i] = highWord;
    }
  }

  Lane copy() {
    Lane copy = new Lane(low.length, wide());
    copy.fill(this);
    return copy;
  }

  /** Takes the codes of another lane as large as this. */
  void fill(Lane other) {
    System.arraycopy(other.low, 0, low, 0, low.length);
    if (high != null) {
      System.arraycopy(other.high, 0, high, 0, high.length);
    }
  }

  void fill(BigInteger code) {
    long lowWord = code.longValue();
    long highWord = code.shiftRight(64).longValue();
    for (int i = 0; i < low.length; i++) {
      set(i, highWord, lowWord);
    }
  }

  static boolean anyWide(Lane a, Lane b) {
    return a.wide() || b.wide();
  }
}
