package dev.plumbline.lockstep;

import dev.plumbline.cosim.Watch;
import dev.plumbline.rtl.Signal;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * Some bits side by side of signals inside a DUT, over the rows of a window. Rows lie together in
 * memory, since many signals are looked at in few rows.
 */
final class SignalSlices {
  private final List<Signal> signals;
  private final List<String> names;
  private final int[] firstWord; // of a row, by signal
  private final long[][] rows; // row, word
  private final int[] first; // signal that has the same in every row
  private final boolean[] constant;
  private final Map<Integer, List<Integer>> same = new HashMap<>(); // by the first of them
  private final Map<String, Integer> byName = new HashMap<>();

  /** What was recorded. */
  static SignalSlices of(Watch watch) {
    List<long[]> columns = new ArrayList<>();
    for (int g = 0; g < watch.signals().size(); g++) {
      for (int word = 0; word < watch.signals().get(g).words(); word++) {
        columns.add(watch.column(g, word));
      }
    }
    return new SignalSlices(watch.signals(), watch.names(), columns, watch.rows());
  }

  /** Of each signal a column of every word. */
  SignalSlices(List<Signal> signals, List<String> names, List<long[]> columns, int count) {
    this.signals = signals;
    this.names = names;
    this.firstWord = new int[signals.size()];
    this.rows = new long[count][columns.size()];
    this.first = new int[signals.size()];
    this.constant = new boolean[signals.size()];
    Map<List<Integer>, List<Integer>> alike = new HashMap<>(); // by what columns come down to
    int word = 0;
    for (int g = 0; g < signals.size(); g++) {
      firstWord[g] = word;
      byName.put(names.get(g), g);
      List<Integer> print = new ArrayList<>(List.of(signals.get(g).width()));
      boolean changes = false;
      for (int w = 0; w < signals.get(g).words(); w++, word++) {
        long[] column = columns.get(word);
        for (int row = 0; row < count; row++) {
          rows[row][word] = column[row];
          changes |= column[row] != column[0];
        }
        print.add(Arrays.hashCode(column));
      }
      constant[g] = !changes;
      first[g] = g;
      List<Integer> others = alike.computeIfAbsent(print, key -> new ArrayList<>());
      for (int other : others) {
        if (first[g] == g && isAlike(columns, g, other)) {
          first[g] = other;
        }
      }
      if (first[g] == g) {
        others.add(g);
      }
      same.computeIfAbsent(first[g], key -> new ArrayList<>()).add(g);
    }
  }

  /** Takes for alike only what is so in another window as well. */
  void apartAsIn(SignalSlices other) {
    Map<List<Integer>, Integer> firsts = new HashMap<>(); // by the first ones in both
    same.clear();
    for (int g = 0; g < count(); g++) {
      first[g] = firsts.merge(List.of(first[g], other.first[g]), g, (there, here) -> there);
      same.computeIfAbsent(first[g], key -> new ArrayList<>()).add(g);
    }
  }

  private boolean isAlike(List<long[]> columns, int g, int other) {
    for (int w = 0; w < signals.get(g).words(); w++) {
      if (!Arrays.equals(columns.get(firstWord[g] + w), columns.get(firstWord[other] + w))) {
        return false;
      }
    }
    return true;
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
    return rows.length;
  }

  /** The first signal that has the same bits in every row; maybe itself. */
  int firstAlike(int g) {
    return first[g];
  }

  /** All that have the same bits as one that is the first of them. */
  List<Integer> alike(int g) {
    return same.get(g);
  }

  /** 64 bits of a signal in a row; what is above its own is of no meaning. */
  long word(int g, int word, int row) {
    return rows[row][firstWord[g] + word];
  }

  /** Up to 64 bits of a signal in a row, from a bit on. */
  long bits(int g, int offset, int width, int row) {
    long[] words = rows[row];
    int at = firstWord[g] + (offset >>> 6);
    int shift = offset & 63;
    long value = words[at] >>> shift;
    if (shift + width > Long.SIZE) {
      value |= words[at + 1] << (Long.SIZE - shift);
    }
    return width == Long.SIZE ? value : value & ((1L << width) - 1);
  }

  /** Whether two signals have the same bits, each in a row of its own. */
  boolean isSame(int g, int row, int other, int otherRow) {
    for (int w = 0; w < signals.get(g).words(); w++) {
      if (rows[row][firstWord[g] + w] != rows[otherRow][firstWord[other] + w]) {
        return false;
      }
    }
    return true;
  }

  /** Whether a signal never changes. */
  boolean isConstant(int g) {
    return constant[g];
  }
}
