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
    long firstDraw = seed + RandomStream.STEP;
    if (perDraw == 1) {
      words(firstDraw, row, drop, signed, columns[0], idle, count);
    } else if (signed) {
      signedHalves(firstDraw, row, drop, columns[0], idle, count);
    } else {
      halves(firstDraw, row, drop, columns[0], idle, count);
    }
    row += rows;
  }

  // The upper half of a draw is for one row, the lower half for the next.

  private static void signedHalves(
      long firstDraw, long row, int drop, long[] column, int[] idle, int count) {
    for (int i = 0; i < count; i++) {
      long number = row + idle[i];
      long draw = RandomStream.mix(firstDraw + (number >>> 1) * RandomStream.STEP);
      column[idle[i]] = (draw << (number << 5 & 32)) >> drop;
    }
  }

  private static void halves(
      long firstDraw, long row, int drop, long[] column, int[] idle, int count) {
    for (int i = 0; i < count; i++) {
      long number = row + idle[i];
      long draw = RandomStream.mix(firstDraw + (number >>> 1) * RandomStream.STEP);
      column[idle[i]] = (draw << (number << 5 & 32)) >>> drop;
    }
  }

  private static void words(
      long firstDraw, long row, int drop, boolean signed, long[] column, int[] idle, int count) {
    for (int i = 0; i < count; i++) {
      long draw = RandomStream.mix(firstDraw + (row + idle[i]) * RandomStream.STEP);
      column[idle[i]] = signed ? draw >> drop : draw >>> drop;
    }
  }
}
