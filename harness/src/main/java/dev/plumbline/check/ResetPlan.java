package dev.plumbline.check;

import dev.plumbline.stimulus.RandomStream;
import java.util.Arrays;

/** When a stretch is reset: at its start, and at random in mid-stream. */
final class ResetPlan {
  private final RandomStream stream;
  private final int length;
  private final int meanGap; // 0: never again after the start
  private final boolean none;
  private long toGo; // cycles left of what is going on
  private boolean asserted = true;

  ResetPlan(Contract.Reset reset, double chance, long seed) {
    this.stream = RandomStream.of(seed);
    this.none = reset.port() == null;
    this.length = reset.cycles();
    this.meanGap = chance > 0 ? (int) Math.max(1, Math.min(1 << 30, Math.rint(1 / chance))) : 0;
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
      if (toGo == 0) {
        asserted = !asserted;
        toGo = asserted ? length : gap();
      }
      int end = row + (int) Math.min(rows - row, toGo);
      Arrays.fill(column, row, end, asserted ? 1 : 0);
      any |= asserted;
      toGo -= end - row;
      row = end;
    }
    return any;
  }

  private long gap() {
    return meanGap == 0 ? Long.MAX_VALUE : 1 + stream.below(2 * meanGap - 1);
  }
}
