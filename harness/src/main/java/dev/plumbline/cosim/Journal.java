package dev.plumbline.cosim;

import java.nio.LongBuffer;
import java.util.Arrays;
import java.util.function.Consumer;

/**
 * How a DUT was driven by hand, call by call, so that it can be done again: the inputs that
 * changed, then the cycles that were run on them.
 */
final class Journal {
  private static final int SETTLE = -1;
  private static final int FEW = 256;

  /** 32 MB; enough for a million busy cycles. */
  private static final int MOST = 1 << 22;

  private final int columns;
  private final long[] inputs;
  private long[] entries = {}; // count of cycles or SETTLE, changes, then column and value of each
  private int size;
  private int latest = -1; // where the latest entry begins
  private String gap = "";

  Journal(int columns) {
    this.columns = columns;
    this.inputs = new long[columns];
  }

  /** What the journal lacks, in words; empty when it is whole. */
  String gap() {
    return gap;
  }

  /** Says that the DUT was driven in another way. */
  void interrupt(String why) {
    gap = gap.isEmpty() ? why : gap;
    entries = new long[0];
    size = 0;
  }

  void cycles(LongBuffer slots, boolean[] input, long count) {
    if (gap.isEmpty() && latest >= 0 && entries[latest] >= 0 && !changed(slots, input)) {
      entries[latest] += count;
    } else {
      add(slots, input, count);
    }
  }

  void settle(LongBuffer slots, boolean[] input) {
    add(slots, input, SETTLE);
  }

  private boolean changed(LongBuffer slots, boolean[] input) {
    for (int i = 0; i < columns; i++) {
      if (input[i] && inputs[i] != slots.get(i)) {
        return true;
      }
    }
    return false;
  }

  private void add(LongBuffer slots, boolean[] input, long what) {
    if (!gap.isEmpty()) {
      return;
    }
    int most = size + 2 + 2 * columns;
    if (most > MOST) {
      interrupt("it was driven through too many changes of its inputs");
      return;
    }
    if (most > entries.length) {
      entries = Arrays.copyOf(entries, Math.max(most + FEW, 2 * size));
    }
    latest = size;
    size += 2;
    for (int i = 0; i < columns; i++) {
      if (input[i] && inputs[i] != slots.get(i)) {
        inputs[i] = slots.get(i);
        entries[size++] = i;
        entries[size++] = inputs[i];
      }
    }
    entries[latest] = what;
    entries[latest + 1] = (size - latest - 2L) / 2;
  }

  /** How far something that is driven by this journal has come. */
  static final class Position {
    private int entry;
    private long cycles; // of that entry
  }

  /** Does to a model what was done since a position. */
  void repeat(Position from, LiveDesign to) {
    LongBuffer slots = to.slots();
    while (from.entry < size) {
      int changes = (int) entries[from.entry + 1];
      for (int i = 0; i < changes; i++) {
        int at = from.entry + 2 + 2 * i;
        slots.put((int) entries[at], entries[at + 1]);
      }
      long count = entries[from.entry];
      int status = count == SETTLE ? to.settle() : cycles(to, count - from.cycles);
      if (status != LiveDesign.OK) {
        from.entry = size;
        return; // it ended again
      }
      if (from.entry == latest && count != SETTLE) {
        from.cycles = count; // it may yet become longer
        return;
      }
      from.cycles = 0;
      from.entry += 2 + 2 * changes;
    }
  }

  /** How many cycles were run. */
  long cycles() {
    long all = 0;
    for (int at = 0; at < size; at += 2 + 2 * (int) entries[at + 1]) {
      all += Math.max(0, entries[at]);
    }
    return all;
  }

  /** Does all of it again, a cycle at a time; whether the model ended is passed after each. */
  void repeat(LiveDesign to, Consumer<Boolean> afterCycle) {
    LongBuffer slots = to.slots();
    for (int at = 0; at < size; at += 2 + 2 * (int) entries[at + 1]) {
      for (int i = 0; i < (int) entries[at + 1]; i++) {
        slots.put((int) entries[at + 2 + 2 * i], entries[at + 3 + 2 * i]);
      }
      if (entries[at] == SETTLE && to.settle() != LiveDesign.OK) {
        return;
      }
      for (long cycle = 0; cycle < entries[at]; cycle++) {
        boolean ended = to.cycle(1) != LiveDesign.OK;
        afterCycle.accept(ended);
        if (ended) {
          return;
        }
      }
    }
  }

  private static int cycles(LiveDesign to, long count) {
    return count == 0 ? LiveDesign.OK : to.cycle(count);
  }
}
