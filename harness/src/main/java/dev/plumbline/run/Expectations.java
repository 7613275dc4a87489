package dev.plumbline.run;

import dev.plumbline.models.fixed.Format;

/**
 * The lowest and highest codes allowed for every checked output, as columns, and whether a code of
 * the DUT lies between them. Where a check is for equality both are the same column.
 */
final class Expectations {
  final OutputCheck[] checks;
  final long[][][] low; // check, word, entry
  final long[][][] high;

  Expectations(OutputCheck[] checks, int entries) {
    this.checks = checks;
    this.low = new long[checks.length][][];
    this.high = new long[checks.length][][];
    for (int c = 0; c < checks.length; c++) {
      low[c] = new long[checks[c].words()][entries];
      high[c] = checks[c].equal() ? low[c] : new long[checks[c].words()][entries];
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
    for (int i = from; i < to; i++) {
      lowest[i] = Math.max(least, lowest[i] - down);
      highest[i] = Math.min(most, highest[i] + down);
    }
  }

  /** Whether the code at a row of a check's output columns lies outside the bounds at an entry. */
  boolean isOutside(int c, int entry, long[][] got, int row) {
    return compare(c, got, row, low[c], entry) < 0 || compare(c, got, row, high[c], entry) > 0;
  }

  /** Whether a result is wrong in a check: by its bounds, or by its code where a flag is 0. */
  boolean isWrong(int c, int entry, long[][][] got, int row) {
    if (checks[c].isDecided(got, row)) {
      return isOutside(c, entry, got[c], row);
    }
    return checks[c].counts(got, row) && got[c][0][row] != checks[c].otherwise();
  }

  /** Whether a result is right in every check that counts for it. */
  boolean holds(int entry, long[][][] got, int row) {
    for (int c = 0; c < checks.length; c++) {
      if (isWrong(c, entry, got, row)) {
        return false;
      }
    }
    return true;
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

  /** How far apart the bounds are, in LSB; the largest long stands for more. */
  long width(int c, int entry) {
    long[][] lowest = low[c];
    long[][] highest = high[c];
    long width = highest[0][entry] - lowest[0][entry];
    if (lowest.length > 1) {
      long borrow = Long.compareUnsigned(highest[0][entry], lowest[0][entry]) < 0 ? 1 : 0;
      if (highest[1][entry] - lowest[1][entry] - borrow != 0) {
        return Long.MAX_VALUE;
      }
    }
    return width < 0 ? Long.MAX_VALUE : width;
  }
}
