package dev.plumbline.cosim;

import dev.plumbline.rtl.Port;
import java.math.BigInteger;
import java.nio.LongBuffer;
import java.util.ArrayList;
import java.util.List;

/** Keeps the words of all ports of the last cycles; allocates once, at the first. */
final class TraceRing {
  private static final int ROWS = 64;

  /** Ports with more words than that, such as whole memories, are not worth the copying. */
  private static final int MOST_WORDS = 1024;

  private final PortColumns columns;
  private final boolean[] driven;
  private final int words;
  private final int kept;
  private long[] values = {};
  private final long[] cycles;
  private long count;

  TraceRing(PortColumns columns, boolean[] driven) {
    this(columns, driven, ROWS);
  }

  /** Keeps so many rows. */
  TraceRing(PortColumns columns, boolean[] driven, int rows) {
    this.kept = rows;
    this.cycles = new long[rows];
    this.columns = columns;
    this.driven = driven;
    this.words = columns.count();
  }

  void add(long cycle, LongBuffer slots) {
    if (words > MOST_WORDS) {
      return;
    }
    if (values.length == 0) {
      values = new long[kept * words];
    }
    int at = (int) (count++ % kept);
    cycles[at] = cycle;
    slots.get(0, values, at * words, words);
  }

  Trace trace() {
    List<PortColumns.Slice> shown =
        columns.ports().stream()
            .filter(place -> place.port().unpacked().isEmpty() && !driven[place.first()])
            .toList();
    List<Trace.Row> rows = new ArrayList<>();
    for (long n = Math.max(0, count - kept); n < count; n++) {
      int at = (int) (n % kept);
      rows.add(
          new Trace.Row(
              cycles[at], shown.stream().map(place -> value(place, at * words)).toList()));
    }
    return new Trace(shown.stream().map(PortColumns.Slice::port).toList(), rows);
  }

  private BigInteger value(PortColumns.Slice place, int row) {
    Port port = place.port();
    BigInteger bits = BigInteger.ZERO;
    for (int word = place.count() - 1; word >= 0; word--) {
      long part = values[row + place.first() + word];
      bits = bits.shiftLeft(Long.SIZE).or(new BigInteger(Long.toUnsignedString(part)));
    }
    BigInteger code = bits.mod(BigInteger.ONE.shiftLeft(port.width()));
    boolean negative = port.signed() && code.testBit(port.width() - 1);
    return negative ? code.subtract(BigInteger.ONE.shiftLeft(port.width())) : code;
  }
}
