package dev.plumbline.window;

import java.util.Arrays;

/**
 * Notes what a segment answers, result by result, so that runs from different initial states can be
 * compared: when a result is valid, and its outputs where they count.
 */
public final class StateNotes {
  private final int stride;
  private long[] notes = new long[1 << 14];
  private int used;
  private int end;

  /** Notes of up to so many words a result. */
  public StateNotes(int words) {
    this.stride = 2 + words;
  }

  /** Begins a result of one of several kinds. */
  public void begin(long row, int kind) {
    used = end;
    end += stride;
    if (end > notes.length) {
      notes = Arrays.copyOf(notes, 2 * end);
    }
    notes[used++] = row;
    notes[used++] = kind;
  }

  /** Notes a word of the result. */
  public void add(long word) {
    notes[used++] = word;
  }

  /** The first cycle in which another run answered otherwise; -1 when there is none. */
  public long firstDifference(StateNotes other) {
    int at = Arrays.mismatch(notes, 0, end, other.notes, 0, other.end);
    if (at < 0) {
      return -1;
    }
    int result = at / stride * stride;
    return Math.min(rowOf(result), other.rowOf(result));
  }

  /**
   * Whether another run answers otherwise in its first results only, fewer than some, and the same
   * from then on.
   */
  public boolean differsAtFirstOnly(StateNotes other, int most) {
    int after = most * stride;
    return end == other.end
        && end >= 2 * after
        && firstDifference(other) >= 0
        && Arrays.equals(notes, after, end, other.notes, after, end);
  }

  private long rowOf(int result) {
    return result < end ? notes[result] : Long.MAX_VALUE;
  }
}
