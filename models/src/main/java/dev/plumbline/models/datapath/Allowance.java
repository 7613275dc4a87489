package dev.plumbline.models.datapath;

import java.math.BigInteger;

/** The value itself in bits and reals; in bounds it may be a declared number of codes off. */
final class Allowance extends Step {
  private final BigInteger codes;

  /**
   * @param codes how far off either way, in LSBs of the value; 0 or more
   */
  Allowance(Value value, BigInteger codes) {
    super(
        new Range(value.min().subtract(codes), value.max().add(codes)),
        value.fractionBits(),
        value);
    this.codes = codes;
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
    Value x = operand(0);
    return Loop.all(
        shifted(columns.low(x), codes.negate(), columns.low(result)),
        shifted(columns.high(x), codes, columns.high(result)));
  }

  private static Loop shifted(Lane x, BigInteger by, Lane out) {
    long low = by.longValue();
    long high = by.shiftRight(64).longValueExact();
    if (!out.wide()) {
      return n -> narrow(x.low, low, out.low, n);
    }
    return count -> {
      for (int i = 0; i < count; i++) {
        long code = x.low[i];
        long sum = code + low;
        out.set(i, x.high(i) + high + Wide.carry(code, low, sum), sum);
      }
    };
  }

  private static void narrow(long[] x, long by, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = x[i] + by;
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
    return operand(0).name() + ", " + codes + " LSBs off either way";
  }
}
