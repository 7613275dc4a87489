package dev.plumbline.judge;

import java.util.Arrays;

/** How far the results of an output were from the middle of what was allowed, in LSB. */
public final class DeviationTally {
  private final long[] counts = new long[Long.SIZE + 1]; // by bits of the magnitude
  private long measured;
  private long largest;
  private long row = -1; // of its segment, where that was
  private long segment = -1;

  public void add(long deviation, long atRow) {
    long magnitude = Math.abs(deviation);
    counts[Long.SIZE - Long.numberOfLeadingZeros(magnitude)]++;
    measured++;
    if (magnitude > Math.abs(largest)) {
      largest = deviation;
      row = atRow;
    }
  }

  /** Adds those of consecutive rows, 0 where a mask is: there none was measured. */
  void add(long[] deviations, long[] mask, int rows, long firstRow) {
    long most = Math.abs(largest);
    long masked = 0;
    for (int i = 0; i < rows; i++) {
      long magnitude = Math.abs(deviations[i]);
      counts[Long.SIZE - Long.numberOfLeadingZeros(magnitude)]++;
      masked += mask[i] + 1;
      if (magnitude > most) {
        most = magnitude;
        largest = deviations[i];
        row = firstRow + i;
      }
    }
    counts[0] -= masked;
    measured += rows - masked;
  }

  /** Adds those of a later segment. */
  public void add(DeviationTally other, long ofSegment) {
    for (int i = 0; i < counts.length; i++) {
      counts[i] += other.counts[i];
    }
    measured += other.measured;
    if (Math.abs(other.largest) > Math.abs(largest)) {
      largest = other.largest;
      row = other.row;
      segment = ofSegment;
    }
  }

  public long measured() {
    return measured;
  }

  public long largest() {
    return largest;
  }

  /** -1 where no result was off. */
  public long row() {
    return row;
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
