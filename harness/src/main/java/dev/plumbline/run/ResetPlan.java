package dev.plumbline.run;

import dev.plumbline.contract.Reset;
import dev.plumbline.stimulus.RandomStream;
import java.util.Arrays;

/**
 * When a segment is reset: at its start, for as long as the contract says, and at random in
 * mid-stream, half of the time for some cycles longer.
 */
final class ResetPlan {
  private static final int MOST_MORE = 8; // cycles

  private final RandomStream stream;
  private final int length;
  private final ResetGaps gaps;
  private final boolean none;
  private long toGo; // cycles left of what is going on
  private boolean asserted = true;

  ResetPlan(Reset reset, double chance, long seed) {
    this.stream = RandomStream.of(seed);
    this.none = reset.port() == null;
    this.length = reset.cycles();
    this.gaps = new ResetGaps(chance, stream);
    this.toGo = length;
  }

  /** Fills 1 where reset is asserted, and says whether it is anywhere. */
  boolean fill(long[] column, int rows) {
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
      toGo = asserted ? length + more() : gaps.next();
    }
  }

  private int more() {
    return Math.max(0, stream.below(2 * MOST_MORE + 1) - MOST_MORE);
  }
}
