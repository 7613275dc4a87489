package dev.plumbline.judge;

import java.util.Arrays;
import java.util.function.IntToLongFunction;

/** How far the results of an output were from the middle of what was allowed, in LSB. */
public final class DeviationTally {
  private final long[] counts = new long[Long.SIZE + 1]; // by bits of the magnitude
  private final long[] others = new long[Long.SIZE + 1]; // the same, to be added to those
  private long measured;
  private long largest;
  private long caseNumber = -1; // in its segment, where that was
  private long segment = -1;

  public void add(long deviation, long ofCase) {
    counts[bits(deviation)]++;
    measured++;
    if (Math.abs(deviation) > Math.abs(largest)) {
      largest = deviation;
      caseNumber = ofCase;
    }
  }

  /**
   * Adds those of consecutive rows, 0 where none was measured, and of how many they were.
   *
   * @param caseAt the case whose result is due at a row, counted in the segment
   */
  void add(long[] deviations, long counted, int rows, IntToLongFunction caseAt) {
    if (most(deviations, rows) > Math.abs(largest)) {
      noteLargest(deviations, rows, caseAt);
    }
    count(deviations, counts, others, rows);
    for (int i = 0; i < counts.length; i++) {
      counts[i] += others[i];
      others[i] = 0;
    }
    counts[0] -= rows - counted;
    measured += counted;
  }

  private static long most(long[] deviations, int rows) {
    long most = 0;
    for (int i = 0; i < rows; i++) {
      most = Math.max(most, Math.abs(deviations[i]));
    }
    return most;
  }

  private void noteLargest(long[] deviations, int rows, IntToLongFunction caseAt) {
    int at = -1;
    for (int i = 0; i < rows; i++) {
      if (Math.abs(deviations[i]) > Math.abs(largest)) {
        largest = deviations[i];
        at = i;
      }
    }
    caseNumber = caseAt.applyAsLong(at);
  }

  /** Row by row in turn: a count that was just stored would have to be waited for. */
  private static void count(long[] deviations, long[] even, long[] odd, int rows) {
    for (int i = 0; i + 1 < rows; i += 2) {
      even[bits(deviations[i])]++;
      odd[bits(deviations[i + 1])]++;
    }
    if ((rows & 1) != 0) {
      even[bits(deviations[rows - 1])]++;
    }
  }

  private static int bits(long deviation) {
    return Long.SIZE - Long.numberOfLeadingZeros(Math.abs(deviation));
  }

  /** Adds those of a later segment. */
  public void add(DeviationTally other, long ofSegment) {
    for (int i = 0; i < counts.length; i++) {
      counts[i] += other.counts[i];
    }
    measured += other.measured;
    if (Math.abs(other.largest) > Math.abs(largest)) {
      largest = other.largest;
      caseNumber = other.caseNumber;
      segment = ofSegment;
    }
  }

  public long measured() {
    return measured;
  }

  public long largest() {
    return largest;
  }

  /** Counted in its segment; -1 where no result was off. */
  public long caseNumber() {
    return caseNumber;
  }

  public long segment() {
    return segment;
  }

  /** By bits of the magnitude, as far as there are any. */
  public long[] histogram() {
    int end = counts.length;
    while (end > 0 && counts[end - 1] == 0) {
      end--;
    }
    return Arrays.copyOf(counts, end);
  }
}
