package dev.plumbline.drive;

import dev.plumbline.contract.Beats;
import dev.plumbline.contract.Flow;
import dev.plumbline.cosim.OfferBits;
import dev.plumbline.models.fixed.Format;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * Gives operands that are only some bits of a port, that read its bits by another sign, or that
 * come at one beat of several, columns of their own: packed into the port's before rows run, taken
 * from the port's afterwards. So do controls that mean 1 where their port is 0.
 */
public final class PackingEngine implements Engine {
  private final Engine inner;
  private final Map<String, long[][]> own = new HashMap<>();
  private final List<Part> inputs = new ArrayList<>();
  private final List<Part> outputs = new ArrayList<>();
  private final List<Flip> flips = new ArrayList<>();
  private final long[] always = new long[Feed.PLACES];
  private final long[][] atBeat; // -1 at the rows of each beat; empty where a case is one row
  private final long[] atAny;
  private final int[] beatAt;

  /** Columns of an operand and of the port it is part of. */
  private static final class Part {
    final PortRef port;
    final Format format;
    final long[][] own;
    final long[][] whole;
    final long[] taken; // -1 at the rows that it is packed into

    Part(PortRef port, Format format, long[][] own, long[][] whole, long[] taken) {
      this.port = port;
      this.format = format;
      this.own = own;
      this.whole = whole;
      this.taken = taken;
    }
  }

  /** Columns of a control that means 1 where its port is 0. */
  @SuppressWarnings("ArrayRecordComponent") // columns as everywhere here; they are not compared
  private record Flip(long[] own, long[] whole, boolean isInput, boolean keepsBits) {}

  public PackingEngine(Engine inner, Binding binding) {
    this.inner = inner;
    Flow flow = binding.contract().flow();
    flip(flow.inValid(), true, flow.waits());
    flip(flow.inReady(), false, false);
    flip(flow.outValid(), false, false);
    flip(flow.outReady(), true, false);
    boolean spread = binding.beats().areSeveral();
    Arrays.fill(always, -1);
    this.atBeat = new long[spread ? binding.beats().count() : 0][Feed.BLOCK];
    this.atAny = spread ? new long[Feed.BLOCK] : always;
    this.beatAt = spread ? new int[Feed.BLOCK] : null;
    for (int i = 0; i < binding.inputs().size(); i++) {
      PortRef port = binding.inputs().get(i);
      Format format = binding.contract().reference().inputs().get(i).format();
      if (spread || !isPlain(port, format)) {
        int beat = binding.beat(i);
        long[] taken = !spread || beat == Beats.EVERY ? atAny : atBeat[beat];
        add(inputs, binding.inputColumn(i), port, format, taken);
      }
    }
    for (int c = 0; c < binding.checks().length; c++) {
      PortRef port = binding.outputs().get(c);
      Format format = binding.checks()[c].operand().format();
      if (!isPlain(port, format)) {
        add(outputs, port.text(), port, format, always);
      }
    }
  }

  private void flip(String control, boolean isInput, boolean keepsBits) {
    if (PortRef.isFlipped(control)) {
      long[] whole = inner.column(PortRef.plain(control), 0);
      long[][] column = {new long[whole.length]};
      own.put(control, column);
      flips.add(new Flip(column[0], whole, isInput, keepsBits));
    }
  }

  private void add(List<Part> parts, String name, PortRef port, Format format, long[] taken) {
    long[][] whole = new long[port.port().words()][];
    for (int word = 0; word < whole.length; word++) {
      whole[word] = inner.column(port.column(), word);
    }
    long[][] columns = new long[format.words()][whole[0].length];
    own.put(name, columns);
    parts.add(new Part(port, format, columns, whole, taken));
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
    pack(0, rows);
    flipInputs(rows);
    try {
      inner.run(rows);
    } finally {
      unpack(rows); // where the DUT ended on the way: the rows before
    }
  }

  @Override
  public int runStream(int rows, int first, int changed, int cases) {
    pack(Math.min(changed, cases), cases);
    flipInputs(rows);
    try {
      return inner.runStream(rows, first, changed, cases);
    } finally {
      unpack(rows);
    }
  }

  private void flipInputs(int rows) {
    for (Flip flip : flips) {
      for (int row = 0; flip.isInput && row < rows; row++) {
        flip.whole[row] = flip.own[row] ^ (flip.keepsBits ? OfferBits.LOW : 1);
      }
    }
  }

  private void pack(int from, int count) {
    if (beatAt != null) {
      for (int row = 0; row < count; row++) {
        atAny[row] = ~(beatAt[row] >> 31);
      }
      for (int beat = 0; beat < atBeat.length; beat++) {
        for (int row = 0; row < count; row++) {
          atBeat[beat][row] = beatAt[row] == beat ? -1 : 0;
        }
      }
    }
    for (Part part : inputs) {
      for (int word = 0; word < part.own.length; word++) {
        int bits = Math.min(64, part.port.width() - 64 * word);
        int at = part.port.low() + 64 * word;
        long mask = bits == 64 ? -1 : (1L << bits) - 1;
        deposit(part.own[word], part.whole, at, mask, part.taken, from, count);
      }
    }
  }

  /** Replaces bits of a port, from one position on; they may straddle two words. */
  private static void deposit(
      long[] own, long[][] whole, int at, long mask, long[] taken, int from, int count) {
    int shift = at & 63;
    long[] low = whole[at >> 6];
    for (int row = from; row < count; row++) {
      long some = mask & taken[row];
      low[row] = (low[row] & ~(some << shift)) | ((own[row] & some) << shift);
    }
    if (shift != 0 && mask >>> (64 - shift) != 0) {
      long[] high = whole[(at >> 6) + 1];
      int down = 64 - shift;
      for (int row = from; row < count; row++) {
        long some = mask & taken[row];
        high[row] = (high[row] & ~(some >>> down)) | ((own[row] & some) >>> down);
      }
    }
  }

  private void unpack(int count) {
    for (Flip flip : flips) {
      for (int row = 0; !flip.isInput && row < count; row++) {
        flip.own[row] = flip.whole[row] ^ 1;
      }
    }
    for (Part part : outputs) {
      for (int word = 0; word < part.own.length; word++) {
        int bits = Math.min(64, part.port.width() - 64 * word);
        int at = part.port.low() + 64 * word;
        int shift = at & 63;
        long[] low = part.whole[at >> 6];
        boolean straddles = shift + bits > 64;
        long[] high = straddles ? part.whole[(at >> 6) + 1] : low;
        boolean last = word == part.own.length - 1;
        long[] to = part.own[word];
        for (int row = 0; row < count; row++) {
          long raw = low[row] >>> shift;
          if (straddles) {
            raw |= high[row] << (64 - shift);
          }
          to[row] = last ? part.format.extend(raw) : raw;
        }
      }
    }
  }

  @Override
  public int[] beatAt() {
    return beatAt;
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
