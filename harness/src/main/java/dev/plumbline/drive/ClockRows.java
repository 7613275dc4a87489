package dev.plumbline.drive;

import dev.plumbline.cosim.Clocking;
import java.util.List;

/**
 * At which rows the clocks of cases and of results rise, where a row ends at each rise of any
 * clock. It goes through the rows of a segment once.
 */
final class ClockRows {
  private final long[] periods;
  private final int ofCases;
  private final int ofResults;
  private final long[]
      atStart; // next rise of each clock, at the row that the latest block began at
  private final long[] rises;

  /** Cases and results by number of their clock. */
  ClockRows(Clocking clocking, int ofCases, int ofResults) {
    List<Clocking.Signal> signals = clocking.signals();
    this.periods = signals.stream().mapToLong(Clocking.Signal::period).toArray();
    this.atStart = signals.stream().mapToLong(Clocking.Signal::phase).toArray();
    this.rises = atStart.clone();
    this.ofCases = ofCases;
    this.ofResults = ofResults;
  }

  /**
   * Fills which clocks rise at the rows of a block.
   *
   * @param before rows that were run of the block before
   * @param cases true where that of the cases rises
   * @param results true where that of the results does
   */
  void block(int before, int rows, boolean[] cases, boolean[] results) {
    System.arraycopy(atStart, 0, rises, 0, rises.length);
    for (int row = 0; row < before; row++) {
      next();
    }
    System.arraycopy(rises, 0, atStart, 0, rises.length);
    for (int row = 0; row < rows; row++) {
      long time = soonest();
      cases[row] = rises[ofCases] == time;
      results[row] = rises[ofResults] == time;
      next();
    }
  }

  private long soonest() {
    long time = Long.MAX_VALUE;
    for (long rise : rises) {
      time = Math.min(time, rise);
    }
    return time;
  }

  private void next() {
    long time = soonest();
    for (int clock = 0; clock < rises.length; clock++) {
      if (rises[clock] == time) {
        rises[clock] += periods[clock];
      }
    }
  }
}
