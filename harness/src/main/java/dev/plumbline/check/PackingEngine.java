package dev.plumbline.check;

import dev.plumbline.models.fixed.Format;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * Gives operands that are only some bits of a port, or that read its bits by another sign, columns
 * of their own: packed into the port's before rows run, taken from the port's afterwards.
 */
final class PackingEngine implements Engine {
  private final Engine inner;
  private final Map<String, long[][]> own = new HashMap<>();
  private final List<Part> inputs = new ArrayList<>();
  private final List<Part> outputs = new ArrayList<>();

  /** Columns of an operand and of the port it is part of. */
  private static final class Part {
    final PortRef port;
    final Format format;
    final long[][] own;
    final long[][] whole;

    Part(PortRef port, Format format, long[][] own, long[][] whole) {
      this.port = port;
      this.format = format;
      this.own = own;
      this.whole = whole;
    }
  }

  PackingEngine(Engine inner, Binding binding) {
    this.inner = inner;
    for (int i = 0; i < binding.inputs().size(); i++) {
      Format format = binding.contract().reference().inputs().get(i).format();
      add(inputs, binding.inputs().get(i), format);
    }
    for (int c = 0; c < binding.checks().length; c++) {
      add(outputs, binding.outputs().get(c), binding.checks()[c].operand().format());
    }
  }

  private void add(List<Part> parts, PortRef port, Format format) {
    if (isPlain(port, format)) {
      return;
    }
    long[][] whole = new long[port.port().words()][];
    for (int word = 0; word < whole.length; word++) {
      whole[word] = inner.column(port.column(), word);
    }
    long[][] columns = new long[format.words()][whole[0].length];
    own.put(port.text(), columns);
    parts.add(new Part(port, format, columns, whole));
  }

  static boolean isPlain(PortRef port, Format format) {
    return port.isWhole() && port.signed() == format.signed();
  }

  @Override
  public long[] column(String port, int word) {
    long[][] columns = own.get(port);
    return columns == null ? inner.column(port, word) : columns[word];
  }

  @Override
  public void run(int rows) {
    pack(rows);
    inner.run(rows);
    unpack(rows);
  }

  @Override
  public int runStream(int rows, int cases) {
    pack(cases);
    int accepted = inner.runStream(rows, cases);
    unpack(rows);
    return accepted;
  }

  private void pack(int count) {
    for (Part part : inputs) {
      for (int word = 0; word < part.own.length; word++) {
        int bits = Math.min(64, part.port.width() - 64 * word);
        int at = part.port.low() + 64 * word;
        long mask = bits == 64 ? -1 : (1L << bits) - 1;
        deposit(part.own[word], part.whole, at, mask, count);
      }
    }
  }

  /** Replaces bits of a port, from one position on; they may straddle two words. */
  private static void deposit(long[] from, long[][] whole, int at, long mask, int count) {
    int shift = at & 63;
    long[] low = whole[at >> 6];
    for (int row = 0; row < count; row++) {
      low[row] = (low[row] & ~(mask << shift)) | ((from[row] & mask) << shift);
    }
    if (shift != 0 && mask >>> (64 - shift) != 0) {
      long[] high = whole[(at >> 6) + 1];
      for (int row = 0; row < count; row++) {
        high[row] = (high[row] & ~(mask >>> (64 - shift))) | ((from[row] & mask) >>> (64 - shift));
      }
    }
  }

  private void unpack(int count) {
    for (Part part : outputs) {
      for (int word = 0; word < part.own.length; word++) {
        int bits = Math.min(64, part.port.width() - 64 * word);
        int at = part.port.low() + 64 * word;
        int shift = at & 63;
        long[] low = part.whole[at >> 6];
        boolean straddles = shift + bits > 64;
        long[] high = straddles ? part.whole[(at >> 6) + 1] : low;
        int drop = 64 - bits;
        long[] to = part.own[word];
        for (int row = 0; row < count; row++) {
          long raw = low[row] >>> shift;
          if (straddles) {
            raw |= high[row] << (64 - shift);
          }
          to[row] = part.format.signed() ? (raw << drop) >> drop : (raw << drop) >>> drop;
        }
      }
    }
  }

  @Override
  public int[] caseAtRow() {
    return inner.caseAtRow();
  }

  @Override
  public String text() {
    return inner.text();
  }

  @Override
  public void close() {
    inner.close();
  }
}
