package dev.plumbline.report;

import java.util.List;

/**
 * Counts as bars, one below the other: a histogram of deviations by powers of two, cases by
 * coverage point.
 *
 * @param title what is counted
 * @param bars in their order
 */
record Bars(String title, List<Bar> bars) {
  /**
   * A bar.
   *
   * @param label what was counted
   * @param count 0 or more
   */
  record Bar(String label, long count) {}

  Bars {
    bars = List.copyOf(bars);
  }
}
