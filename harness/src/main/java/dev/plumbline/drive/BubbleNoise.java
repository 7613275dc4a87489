package dev.plumbline.drive;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.stimulus.Generator;
import dev.plumbline.stimulus.RandomStream;

/**
 * What an operand has in rows without a case: every code equally likely, row after row as {@link
 * Generator#uniform} draws them, of which only those that are asked for are worked out.
 */
final class BubbleNoise {
  private final long seed;
  private final boolean signed;
  private final int drop; // bits of a draw beyond the format
  private final int perDraw; // as many rows are filled from one draw
  private final Generator.Source wide; // of several words; null where there is one
  private long row; // that comes next

  BubbleNoise(Format format, long seed) {
    this.seed = seed;
    this.signed = format.signed();
    this.drop = Long.SIZE - format.width();
    this.perDraw = format.width() <= 32 ? 2 : 1;
    this.wide = format.words() == 1 ? null : Generator.uniform().open(format, seed);
  }

  /**
   * Fills some of the next rows, at least.
   *
   * @param idle their numbers among these
   * @param count how many they are
   * @param rows how far to move on
   */
  void fill(long[][] columns, int[] idle, int count, int rows) {
    if (wide != null) {
      wide.fill(columns, 0, rows);
      return;
    }
    if (perDraw == 2) {
      halves(row, seed, columns[0], idle, count);
    } else {
      words(row, seed, columns[0], idle, count);
    }
    narrow(columns[0], idle, count);
    row += rows;
  }

  private void narrow(long[] column, int[] idle, int count) {
    int bits = drop;
    if (signed) {
      for (int i = 0; i < count; i++) {
        column[idle[i]] >>= bits;
      }
    } else {
      for (int i = 0; i < count; i++) {
        column[idle[i]] >>>= bits;
      }
    }
  }

  /** The upper half of a draw for one row, the lower half for the next. */
  private static void halves(long first, long seed, long[] column, int[] idle, int count) {
    for (int i = 0; i < count; i++) {
      long number = first + idle[i];
      long draw = RandomStream.mix(seed + ((number >>> 1) + 1) * RandomStream.STEP);
      column[idle[i]] = draw << (number << 5 & 32);
    }
  }

  private static void words(long first, long seed, long[] column, int[] idle, int count) {
    for (int i = 0; i < count; i++) {
      column[idle[i]] = RandomStream.mix(seed + (first + idle[i] + 1) * RandomStream.STEP);
    }
  }
}
