package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;

/**
 * The value itself in bits and reals; in bounds it may be a declared number of codes off, unless
 * parts are given and none of them loses a bit in a format.
 */
final class Allowance extends Step {
  private final BigInteger codes;
  private final Format grid;

  /**
   * @param codes how far off either way, in LSB of the value; 0 or more
   * @param grid the format that the parts are held against
   */
  Allowance(Value value, BigInteger codes, Format grid, Value... parts) {
    super(
        new Range(value.min().subtract(codes), value.max().add(codes)),
        value.fractionBits(),
        Stream.concat(Stream.of(value), Stream.of(parts)).toArray(Value[]::new));
    this.codes = codes;
    this.grid = grid;
  }

  private List<Value> parts() {
    return operands().subList(1, operands().size());
  }

  @Override
  boolean exact() {
    return false;
  }

  @Override
  Loop bits(Columns columns, Value result) {
    return Align.loop(columns.lane(operand(0)), 0, columns.lane(result));
  }

  @Override
  Loop bounds(BoundColumns columns, Value result) {
    List<Value> parts = parts();
    if (parts.isEmpty()) {
      long[] everywhere = new long[columns.capacity()];
      Arrays.fill(everywhere, -1);
      return widened(columns, everywhere, result);
    }
    long[] rounds = columns.scratch(0, false).low;
    List<Loop> loops = new ArrayList<>();
    for (Value part : parts) {
      loops.add(lost(columns, part, loops.isEmpty(), rounds));
    }
    loops.add(count -> masks(rounds, count));
    loops.add(widened(columns, rounds, result));
    return Loop.all(loops.toArray(new Loop[0]));
  }

  private Loop widened(BoundColumns columns, long[] where, Value result) {
    Value x = operand(0);
    return Loop.all(
        shifted(columns.low(x), codes.negate(), where, columns.low(result)),
        shifted(columns.high(x), codes, where, columns.high(result)));
  }

  /** Not zero where a part is no single code, or has bits below the grid. */
  private Loop lost(BoundColumns columns, Value part, boolean first, long[] out) {
    Lane low = columns.low(part);
    Lane high = columns.high(part);
    int bits = Math.max(part.fractionBits() - grid.fractionBits(), 0);
    BigInteger mask = BigInteger.ONE.shiftLeft(bits).subtract(BigInteger.ONE);
    long maskLow = mask.longValue();
    long maskHigh = mask.shiftRight(64).longValue();
    long kept = first ? 0 : -1;
    if (!Lane.anyWide(low, high) && maskHigh == 0) {
      return count -> {
        for (int i = 0; i < count; i++) {
          out[i] = (out[i] & kept) | (low.low[i] ^ high.low[i]) | (low.low[i] & maskLow);
        }
      };
    }
    return count -> {
      for (int i = 0; i < count; i++) {
        long apart = (low.low[i] ^ high.low[i]) | (low.high(i) ^ high.high(i));
        long below = (low.low[i] & maskLow) | (low.high(i) & maskHigh);
        out[i] = (out[i] & kept) | apart | below;
      }
    };
  }

  /** All ones for what is not zero. */
  private static void masks(long[] codes, int count) {
    for (int i = 0; i < count; i++) {
      codes[i] = (codes[i] | -codes[i]) >> 63;
    }
  }

  private static Loop shifted(Lane x, BigInteger by, long[] where, Lane out) {
    long low = by.longValue();
    long high = by.shiftRight(64).longValueExact();
    if (!out.wide()) {
      return n -> narrow(x.low, low, where, out.low, n);
    }
    return count -> {
      for (int i = 0; i < count; i++) {
        long code = x.low[i];
        long add = low & where[i];
        long sum = code + add;
        out.set(i, x.high(i) + (high & where[i]) + Wide.carry(code, add, sum), sum);
      }
    };
  }

  private static void narrow(long[] x, long by, long[] where, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = x[i] + (by & where[i]);
    }
  }

  @Override
  Loop ideal(IdealColumns columns, Value result) {
    double[] x = columns.of(operand(0));
    double[] out = columns.of(result);
    return count -> System.arraycopy(x, 0, out, 0, count);
  }

  @Override
  String formula() {
    String off = operand(0).name() + ", " + codes + " LSB off either way";
    return parts().isEmpty()
        ? off
        : off + " unless exact: " + String.join(", ", parts().stream().map(Value::name).toList());
  }
}
