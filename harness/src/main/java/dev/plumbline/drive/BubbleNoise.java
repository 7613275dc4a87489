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

  BubbleNoise(Format format, long seed) {
    this.seed = seed;
    this.signed = format.signed();
    this.drop = Long.SIZE - format.width();
    this.perDraw = format.width() <= 32 ? 2 : 1;
    this.wide = format.words() == 1 ? null : Generator.uniform().open(format, seed);
  }

  /** Fills the idle rows of the next block, at least. */
  void fill(long[][] columns, IdleRows idle) {
    if (wide != null) {
      wide.fill(columns, 0, idle.of);
      return;
    }
    long[] drawn = idle.drawn;
    // Draws in a loop of their own run in vectors.
    draw(seed + RandomStream.STEP, perDraw == 1 ? idle.whole : idle.half, drawn, idle.count);
    if (perDraw == 1) {
      words(drawn, drop, signed, columns[0], idle.rows, idle.count);
    } else if (signed) {
      signedHalves(drawn, idle.shifts, drop, columns[0], idle.rows, idle.count);
    } else {
      halves(drawn, idle.shifts, drop, columns[0], idle.rows, idle.count);
    }
  }

  private static void draw(long first, long[] turns, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = RandomStream.mix(first + turns[i]);
    }
  }

  // The upper half of a draw is for one row, the lower half for the next.

  private static void signedHalves(
      long[] drawn, long[] shifts, int drop, long[] column, int[] rows, int count) {
    for (int i = 0; i < count; i++) {
      column[rows[i]] = (drawn[i] << shifts[i]) >> drop;
    }
  }

  private static void halves(
      long[] drawn, long[] shifts, int drop, long[] column, int[] rows, int count) {
    for (int i = 0; i < count; i++) {
      column[rows[i]] = (drawn[i] << shifts[i]) >>> drop;
    }
  }

  private static void words(
      long[] drawn, int drop, boolean signed, long[] column, int[] rows, int count) {
    for (int i = 0; i < count; i++) {
      column[rows[i]] = signed ? drawn[i] >> drop : drawn[i] >>> drop;
    }
  }
}
