package dev.plumbline.stage;

import dev.plumbline.cosim.Watch;
import dev.plumbline.rtl.Signal;
import java.math.BigInteger;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** What signals inside a DUT had over the rows of a sample. */
final class SignalSample {
  private final Watch watch;
  private final List<Signal> signals;
  private final long[][][] columns; // signal, word
  private final Map<String, Integer> byPath = new HashMap<>();

  SignalSample(Watch watch) {
    this.watch = watch;
    this.signals = watch.signals();
    this.columns = new long[signals.size()][][];
    for (int g = 0; g < columns.length; g++) {
      columns[g] = new long[signals.get(g).words()][];
      for (int w = 0; w < columns[g].length; w++) {
        columns[g][w] = watch.column(g, w);
      }
      if (signals.get(g).unpacked().isEmpty()) {
        byPath.put(signals.get(g).path(), g);
      }
    }
  }

  Watch watch() {
    return watch;
  }

  List<Signal> signals() {
    return signals;
  }

  /** The name of an element too. */
  String name(int g) {
    return watch.names().get(g);
  }

  /** A signal that is no array; -1 where there is none of that name. */
  int find(String path) {
    return byPath.getOrDefault(path, -1);
  }

  long firstRow() {
    return watch.firstCycle();
  }

  int rows() {
    return watch.rows();
  }

  long[][] columns(int g) {
    return columns[g];
  }

  /** The bits in a row; null where it is not in the sample. */
  BigInteger bits(int g, long row) {
    long at = row - firstRow();
    if (at < 0 || at >= rows()) {
      return null;
    }
    BigInteger bits = BigInteger.ZERO;
    for (int w = columns[g].length - 1; w >= 0; w--) {
      bits = bits.shiftLeft(64).or(new BigInteger(Long.toUnsignedString(columns[g][w][(int) at])));
    }
    return bits.mod(BigInteger.ONE.shiftLeft(signals.get(g).width()));
  }

  /** The number in a row, below 0 only where the signal is signed. */
  BigInteger value(int g, long row) {
    BigInteger bits = bits(g, row);
    int width = signals.get(g).width();
    return bits != null && signals.get(g).signed() && bits.testBit(width - 1)
        ? bits.subtract(BigInteger.ONE.shiftLeft(width))
        : bits;
  }
}
