package dev.plumbline.run;

import java.util.Arrays;

/**
 * Notes what a segment answers, row by row, so that runs from different initial states can be
 * compared: valid where it is held to account, outputs where they count.
 */
final class StateComparison implements SegmentRunner.Watcher {
  private final OutputCheck[] checks;
  private final int excused; // first rows of a design without reset
  private final int stride; // words noted a row
  private long[] notes = new long[1 << 14];
  private int used;

  StateComparison(Binding binding) {
    this.checks = binding.checks();
    this.excused =
        binding.contract().reset().port() == null ? binding.contract().flow().mostLatency() : 0;
    int words = 1;
    for (OutputCheck check : checks) {
      words += check.words();
    }
    this.stride = words;
  }

  @Override
  public void block(long firstRow, Feed feed, Checker checker) {
    if (used + feed.rows * stride > notes.length) {
      notes = Arrays.copyOf(notes, 2 * (used + feed.rows * stride));
    }
    Hookup dut = feed.to;
    for (int row = 0; row < feed.rows; row++) {
      boolean watched = feed.reset[row] == 0 && firstRow + row >= excused;
      notes[used++] = watched && dut.outValid != null ? dut.outValid[row] : 0;
      boolean due = watched && checker.entry(row) >= 0;
      for (int c = 0; c < checks.length; c++) {
        boolean counts = due && checks[c].counts(dut.outputs, row);
        for (long[] column : dut.outputs[c]) {
          notes[used++] = counts ? column[row] : 0;
        }
      }
    }
  }

  /** The first cycle in which another run answered otherwise; -1 when there is none. */
  long firstDifference(StateComparison other) {
    int at = Arrays.mismatch(notes, 0, used, other.notes, 0, other.used);
    return at < 0 ? -1 : at / stride;
  }
}
