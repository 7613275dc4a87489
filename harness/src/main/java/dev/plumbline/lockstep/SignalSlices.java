package dev.plumbline.lockstep;

import dev.plumbline.cosim.Watch;
import dev.plumbline.rtl.Signal;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** Some bits side by side of signals inside a DUT, over the rows of a window. */
final class SignalSlices {
  private final Watch watch;
  private final List<Signal> signals;
  private final List<String> names;
  private final long[][][] columns; // signal, word
  private final Map<String, Integer> byName = new HashMap<>();

  SignalSlices(Watch watch) {
    this.watch = watch;
    this.signals = watch.signals();
    this.names = watch.names();
    this.columns = new long[signals.size()][][];
    for (int g = 0; g < columns.length; g++) {
      columns[g] = new long[signals.get(g).words()][];
      for (int w = 0; w < columns[g].length; w++) {
        columns[g][w] = watch.column(g, w);
      }
      byName.put(names.get(g), g);
    }
  }

  int count() {
    return signals.size();
  }

  Signal signal(int g) {
    return signals.get(g);
  }

  String name(int g) {
    return names.get(g);
  }

  /** Its place; -1 where no signal has that name. */
  int find(String name) {
    return byName.getOrDefault(name, -1);
  }

  int rows() {
    return watch.rows();
  }

  /** Up to 64 bits of a signal in a row, from a bit on. */
  long bits(int g, int offset, int width, int row) {
    long[][] words = columns[g];
    int at = offset >>> 6;
    int shift = offset & 63;
    long value = words[at][row] >>> shift;
    if (shift + width > Long.SIZE && at + 1 < words.length) {
      value |= words[at + 1][row] << (Long.SIZE - shift);
    }
    return width == Long.SIZE ? value : value & ((1L << width) - 1);
  }

  /** Whether two signals have the same bits, each in a row of its own. */
  boolean isSame(int g, int row, int other, int otherRow) {
    for (int w = 0; w < columns[g].length; w++) {
      if (columns[g][w][row] != columns[other][w][otherRow]) {
        return false;
      }
    }
    return true;
  }

  /** Whether a signal never changes. */
  boolean isConstant(int g) {
    for (long[] word : columns[g]) {
      for (long value : word) {
        if (value != word[0]) {
          return false;
        }
      }
    }
    return true;
  }
}
