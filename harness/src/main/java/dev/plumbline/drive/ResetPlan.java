package dev.plumbline.drive;

import dev.plumbline.contract.Reset;
import dev.plumbline.stimulus.RandomStream;
import java.util.Arrays;

/**
 * When a segment is reset: at its start, for as long as the contract says, and at random in
 * mid-stream, half of the time for some cycles longer. Of several resets, asserted together, each
 * has a length of its own.
 */
final class ResetPlan {
  private static final int MOST_MORE = 8; // cycles

  private final RandomStream stream;
  private final int length;
  private final ResetGaps gaps;
  private final boolean none;
  private final int[] lengths; // of each line, of the assertion at hand
  private long toGo; // cycles left of what is going on
  private boolean asserted = true;
  private int whole; // length of the assertion at hand

  /** A length in rows, which are cycles where there is one clock. */
  ResetPlan(Reset reset, int rows, double chance, long seed) {
    this.stream = RandomStream.of(seed);
    this.none = reset.port() == null;
    this.length = rows;
    this.gaps = new ResetGaps(chance, stream);
    this.lengths = new int[1 + reset.further().size()];
    assertAll();
    this.toGo = lengths.length > 1 ? whole : length;
  }

  private void assertAll() {
    whole = 0;
    for (int line = 0; line < lengths.length && lengths.length > 1; line++) {
      lengths[line] = length + more();
      whole = Math.max(whole, lengths[line]);
    }
  }

  /**
   * Fills 1 where a reset is asserted, and for each line where it is, and says whether any is
   * anywhere. There are no lines where there is one reset.
   */
  boolean fill(long[] column, long[][] lines, int rows) {
    if (none) {
      Arrays.fill(column, 0, rows, 0);
      return false;
    }
    boolean any = false;
    int row = 0;
    while (row < rows) {
      goOn();
      int end = row + (int) Math.min(rows - row, toGo);
      Arrays.fill(column, row, end, asserted ? 1 : 0);
      for (int line = 0; line < lines.length; line++) {
        for (int at = row; at < end; at++) {
          boolean isOn = asserted && whole - toGo + (at - row) < lengths[line];
          lines[line][at] = isOn ? 1 : 0;
        }
      }
      any |= asserted;
      toGo -= end - row;
      row = end;
    }
    return any;
  }

  /** Rows to come, up to some, in which reset stays as it is. */
  int steadyRows(int most) {
    if (none) {
      return most;
    }
    goOn();
    return (int) Math.min(most, toGo);
  }

  private void goOn() {
    if (toGo == 0) {
      asserted = !asserted;
      if (asserted) {
        assertAll();
      }
      toGo = !asserted ? gaps.next() : lengths.length > 1 ? whole : length + more();
    }
  }

  private int more() {
    return Math.max(0, stream.below(2 * MOST_MORE + 1) - MOST_MORE);
  }
}
