package dev.plumbline.run;

import dev.plumbline.verdict.Mismatch;
import java.util.Arrays;

/** What a checker counts in one segment. */
public final class Tally {
  /** Most mismatches of which the row is kept. */
  static final int KEPT = 8;

  final long[] compared; // by output
  final WidthTally[] widths; // by output; null where one code only is allowed
  final DeviationTally[] deviations; // by output; null where it is not measured
  public long cases;
  public long mismatches;
  private final long[] rows = new long[KEPT];
  private final Mismatch.Kind[] kinds = new Mismatch.Kind[KEPT];

  Tally(OutputCheck[] checks) {
    this(checks.length);
    for (int c = 0; c < checks.length; c++) {
      widths[c] = checks[c].equal() ? null : new WidthTally();
      deviations[c] = checks[c].isMeasured() ? new DeviationTally() : null;
    }
  }

  /** Of so many outputs, for each of which one code only is allowed. */
  public Tally(int outputs) {
    compared = new long[outputs];
    widths = new WidthTally[outputs];
    deviations = new DeviationTally[outputs];
  }

  /** Counts how often an output was compared. */
  public void compared(int output, long times) {
    compared[output] += times;
  }

  public void mismatch(long row, Mismatch.Kind kind) {
    if (mismatches < KEPT) {
      rows[(int) mismatches] = row;
      kinds[(int) mismatches] = kind;
    }
    mismatches++;
  }

  /** Takes back what was counted beyond so many mismatches. */
  void cutTo(long count) {
    mismatches = Math.min(mismatches, count);
  }

  /** Rows of the first mismatches, ascending. */
  public long[] rows() {
    return Arrays.copyOf(rows, kept());
  }

  /** What the checker took them for, at first sight. */
  Mismatch.Kind[] kinds() {
    return Arrays.copyOf(kinds, kept());
  }

  private int kept() {
    return (int) Math.min(mismatches, KEPT);
  }
}
