package dev.plumbline.window;

import dev.plumbline.drive.Binding;
import dev.plumbline.drive.Feed;
import dev.plumbline.judge.Checker;
import dev.plumbline.judge.ContractRunner;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/**
 * What came and what was due, row by row of a segment under a fixed latency, to hold every result
 * to the one that was due some cycles before or later. Rows with a reset, and those near to one,
 * are left out.
 */
public final class Lateness implements ContractRunner.Watcher {
  /** Most cycles that are tried. */
  private static final int FARTHEST = Timing.FARTHEST;

  /** Fewer results than these say nothing. */
  private static final int FEW = 24;

  private final long first;
  private final long last;
  private final int quiet; // rows after a reset
  private final List<Line> lines = new ArrayList<>();
  private long resetAt = Long.MIN_VALUE / 2;

  @SuppressWarnings("ArrayRecordComponent") // words as everywhere here; lines are not compared
  private record Line(
      boolean counts, boolean valid, boolean due, long[][] came, long[][] low, long[][] high) {}

  /**
   * A time at which everything is right that was looked at.
   *
   * @param cycles how many late; below 0 early
   * @param explained results that are wrong where they were due
   * @param near those that are right there
   * @param ofValidAlone whether it is the valid alone, and not its results
   */
  public record Shift(int cycles, int explained, int near, boolean ofValidAlone) {
    /** In words, such as "1 cycle late". */
    public String words() {
      return (ofValidAlone ? "valid, without its results, " : "") + Lateness.words(cycles);
    }
  }

  /** Such as "1 cycle late", or early where they are below 0. */
  public static String words(int cycles) {
    int far = Math.abs(cycles);
    return far + (far == 1 ? " cycle " : " cycles ") + (cycles > 0 ? "late" : "early");
  }

  /** Watches from a row to another, both inclusive. */
  public Lateness(Binding binding, long first, long last) {
    this.first = first;
    this.last = last;
    this.quiet = binding.contract().flow().mostLatency() + FARTHEST;
  }

  @Override
  public boolean wantsMore(long rowsSoFar) {
    return rowsSoFar <= last;
  }

  @Override
  public void block(long firstRow, Feed feed, Checker checker) {
    for (int row = 0; row < feed.rows; row++) {
      long at = firstRow + row;
      resetAt = feed.reset[row] != 0 ? at : resetAt;
      if (at < first || at > last) {
        continue;
      }
      int entry = checker.entry(row);
      boolean valid = feed.to.outValid == null || feed.to.outValid[row] != 0;
      lines.add(
          new Line(
              at > resetAt + quiet,
              valid,
              entry >= 0,
              words(feed.to.outputs, row),
              entry < 0 ? null : words(checker.expected().low, entry),
              entry < 0 ? null : words(checker.expected().high, entry)));
    }
  }

  private static long[][] words(long[][][] columns, int at) {
    long[][] words = new long[columns.length][];
    for (int c = 0; c < words.length; c++) {
      words[c] = new long[columns[c].length];
      for (int word = 0; word < words[c].length; word++) {
        words[c][word] = columns[c][word][at];
      }
    }
    return words;
  }

  /**
   * The time at which every result of an output is right, if it is right at another than its own.
   */
  public Optional<Shift> ofOutput(int output) {
    for (int far = 1; far <= FARTHEST; far++) {
      for (int cycles : new int[] {far, -far}) {
        int explained = 0;
        int near = 0;
        boolean all = true;
        for (int row = 0; row < lines.size() && all; row++) {
          int other = row + cycles;
          if (!isLooked(row, other) || !lines.get(row).due()) {
            continue;
          }
          all = isInside(output, lines.get(other), lines.get(row));
          boolean wrong = !isInside(output, lines.get(row), lines.get(row));
          explained += wrong ? 1 : 0;
          near += wrong ? 0 : 1;
        }
        if (all && explained > 1 && explained + near >= FEW) {
          return Optional.of(new Shift(cycles, explained, near, false));
        }
      }
    }
    return Optional.empty();
  }

  /** The time at which valid is right in every row, with all outputs or without them. */
  public Optional<Shift> ofValid() {
    for (int far = 1; far <= FARTHEST; far++) {
      for (int cycles : new int[] {far, -far}) {
        int explained = 0;
        int near = 0;
        boolean all = true;
        boolean results = true;
        for (int row = 0; row < lines.size() && all; row++) {
          int other = row + cycles;
          if (!isLooked(row, other)) {
            continue;
          }
          Line due = lines.get(row);
          Line came = lines.get(other);
          all = due.due() == came.valid();
          boolean wrong = due.due() != due.valid();
          explained += wrong ? 1 : 0;
          near += wrong ? 0 : 1;
          for (int c = 0; due.due() && c < came.came().length; c++) {
            results &= isInside(c, came, due);
          }
        }
        if (all && explained > 1 && explained + near >= FEW) {
          return Optional.of(new Shift(cycles, explained, near, !results));
        }
      }
    }
    return Optional.empty();
  }

  private boolean isLooked(int row, int other) {
    return other >= 0
        && other < lines.size()
        && lines.get(row).counts()
        && lines.get(other).counts();
  }

  private static boolean isInside(int c, Line came, Line due) {
    long[] code = came.came()[c];
    long[] low = due.low()[c];
    long[] high = due.high()[c];
    if (code.length == 1) {
      return code[0] >= low[0] && code[0] <= high[0];
    }
    return Arrays.equals(code, low) || Arrays.equals(code, high);
  }
}
