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
  boolean balanced() {
    return operand(0).balanced();
  }

  @Override
  Loop bits(Columns columns, Value result) {
    return Align.loop(columns.lane(operand(0)), 0, columns.lane(result));
  }

  @Override
  Loop bounds(BoundColumns columns, Value result) {
    Value x = operand(0);
    List<Value> parts = parts();
    if (parts.isEmpty() && !result.wide()) {
      return Loop.all(
          plus(columns.low(x).low, codes.negate(), columns.low(result).low),
          plus(columns.high(x).low, codes, columns.high(result).low));
    }
    long[] where = parts.isEmpty() ? new long[columns.capacity()] : columns.scratch(0, false).low;
    Arrays.fill(where, -1);
    List<Loop> loops = new ArrayList<>();
    for (Value part : parts) {
      loops.add(lost(columns, part, loops.isEmpty(), where));
    }
    loops.add(shifted(columns.low(x), codes.negate(), where, columns.low(result)));
    loops.add(shifted(columns.high(x), codes, where, columns.high(result)));
    return Loop.all(loops.toArray(new Loop[0]));
  }

  private static Loop plus(long[] x, BigInteger codes, long[] out) {
    return Add.plus(x, codes.longValueExact(), out);
  }

  /** All ones where a part is no single code, or has bits below the grid. */
  private Loop lost(BoundColumns columns, Value part, boolean first, long[] out) {
    Lane low = columns.low(part);
    Lane high = columns.high(part);
    int bits = Math.max(part.fractionBits() - grid.fractionBits(), 0);
    BigInteger mask = BigInteger.ONE.shiftLeft(bits).subtract(BigInteger.ONE);
    long maskLow = mask.longValue();
    long maskHigh = mask.shiftRight(64).longValue();
    long kept = first ? 0 : -1;
    if (!Lane.anyWide(low, high) && maskHigh == 0) {
      return lost(low.low, high.low, maskLow, kept, out);
    }
    long[] lowUpper = low.upper();
    long[] highUpper = high.upper();
    return Loop.all(
        low.extended(),
        high.extended(),
        lost(low.low, high.low, maskLow, kept, out),
        lost(lowUpper, highUpper, maskHigh, -1, out));
  }

  /** Together with what was lost before, if that is kept. */
  private static Loop lost(long[] low, long[] high, long mask, long kept, long[] out) {
    String some = kept == 0 ? "" : "$3 | ";
    return Loop.of(
        n -> lost(low, high, mask, kept, out, n),
        out,
        "any(" + some + "($0 ^ $1) | ($0 & $2))",
        low,
        high,
        mask,
        out);
  }

  private static void lost(long[] low, long[] high, long mask, long kept, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      long rest = (out[i] & kept) | (low[i] ^ high[i]) | (low[i] & mask);
      out[i] = (rest | -rest) >> 63;
    }
  }

  private static Loop shifted(Lane x, BigInteger by, long[] where, Lane out) {
    long low = by.longValue();
    long high = by.shiftRight(64).longValueExact();
    if (!out.wide()) {
      return Loop.of(
          n -> narrow(x.low, low, where, out.low, n), out.low, "$0 + ($1 & $2)", x.low, low, where);
    }
    long[] upper = x.upper();
    return Loop.all(
        x.extended(),
        Loop.of(
            n -> wide(x.low, upper, low, high, where, out.low, out.high, n),
            code -> {
              code.set(
                  out.high, "$0 + ($1 & $2) + carry($3, $4 & $2)", upper, high, where, x.low, low);
              code.set(out.low, "$0 + ($1 & $2)", x.low, low, where);
            }));
  }

  private static void wide(
      long[] x,
      long[] upper,
      long by,
      long byHigh,
      long[] where,
      long[] out,
      long[] outHigh,
      int count) {
    for (int i = 0; i < count; i++) {
      long add = by & where[i];
      long sum = x[i] + add;
      outHigh[i] = upper[i] + (byHigh & where[i]) + Wide.carry(x[i], add, sum);
      out[i] = sum;
    }
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
