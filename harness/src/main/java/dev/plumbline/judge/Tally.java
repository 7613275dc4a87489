package dev.plumbline.judge;

import dev.plumbline.drive.OutputCheck;
import dev.plumbline.verdict.Mismatch;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** What a checker counts in one segment. */
public final class Tally {
  /** Most mismatches of which the row is kept. */
  static final int KEPT = 8;

  public final long[] compared; // by output
  public final WidthTally[] widths; // by output; null where one code only is allowed
  public final DeviationTally[] deviations; // by output; null where it is not measured
  public final CycleTally promisedCycles = new CycleTally(); // of cases whose own are promised
  public final CycleTally takenCycles = new CycleTally();
  public long cases;
  public long mismatches;
  private final long[] rows = new long[KEPT];
  private final Mismatch.Kind[] kinds = new Mismatch.Kind[KEPT];
  private final List<Group> groups = new ArrayList<>(); // in the order of their first mismatch
  private int[] groupOf = new int[0]; // by mismatch
  private long[] rowOf = new long[0]; // by mismatch

  /**
   * Mismatches that are alike at first sight.
   *
   * @param kind what the checker took them for
   * @param output the first output that is wrong; -1 where it is no output
   */
  public record Group(Mismatch.Kind kind, int output) {}

  public Tally(OutputCheck[] checks) {
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
    mismatch(row, kind, -1);
  }

  void mismatch(long row, Mismatch.Kind kind, int output) {
    int at = (int) mismatches;
    if (at == groupOf.length) {
      groupOf = Arrays.copyOf(groupOf, 2 * at + KEPT);
      rowOf = Arrays.copyOf(rowOf, 2 * at + KEPT);
    }
    Group group = new Group(kind, output);
    if (!groups.contains(group)) {
      groups.add(group);
    }
    groupOf[at] = groups.indexOf(group);
    rowOf[at] = row;
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
  public Mismatch.Kind[] kinds() {
    return Arrays.copyOf(kinds, kept());
  }

  /** Every group with the rows of its mismatches, in the order of their first. */
  public Map<Group, List<Long>> groups() {
    Map<Group, List<Long>> byGroup = new LinkedHashMap<>();
    for (int i = 0; i < mismatches; i++) {
      byGroup.computeIfAbsent(groups.get(groupOf[i]), group -> new ArrayList<>()).add(rowOf[i]);
    }
    return byGroup;
  }

  /** The group of the first mismatch. */
  public Optional<Group> firstGroup() {
    return mismatches == 0 ? Optional.empty() : Optional.of(groups.get(groupOf[0]));
  }

  private int kept() {
    return (int) Math.min(mismatches, KEPT);
  }
}
