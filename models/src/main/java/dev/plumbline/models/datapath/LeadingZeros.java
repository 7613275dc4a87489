package dev.plumbline.models.datapath;

import java.math.BigInteger;

/**
 * How many bits of a code, counted from the top of a width, are zero before the first one. It never
 * rises with the code; ideally it is the width where the real code is below 1, else what its
 * exponent leaves.
 */
final class LeadingZeros extends Step {
  private final int width;

  LeadingZeros(Value value, int width) {
    super(
        new Range(
            BigInteger.valueOf(width - value.max().bitLength()),
            BigInteger.valueOf(width - value.min().bitLength())),
        0,
        value);
    this.width = width;
  }

  @Override
  Loop bits(Columns columns, Value result) {
    return loop(columns.lane(operand(0)), width, columns.lane(result));
  }

  @Override
  Loop bounds(BoundColumns columns, Value result) {
    return Loop.all(
        loop(columns.high(operand(0)), width, columns.low(result)),
        loop(columns.low(operand(0)), width, columns.high(result)));
  }

  private static Loop loop(Lane x, int width, Lane to) {
    long[] out = to.low;
    return x.wide() ? n -> wide(x, width, out, n) : n -> narrow(x.low, width, out, n);
  }

  private static void narrow(long[] x, int width, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = width - 64L + Long.numberOfLeadingZeros(x[i]);
    }
  }

  private static void wide(Lane x, int width, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = of(x.high(i), x.low[i], width);
    }
  }

  static long of(long high, long low, int width) {
    int zeros = high != 0 ? Long.numberOfLeadingZeros(high) : 64 + Long.numberOfLeadingZeros(low);
    return width - 128L + zeros;
  }

  /** Of a real code that is not negative. */
  static double of(double code, int width) {
    return code < 1 ? width : width - 1 - Math.getExponent(code);
  }

  @Override
  Loop ideal(IdealColumns columns, Value result) {
    double[] x = columns.of(operand(0));
    double[] out = columns.of(result);
    double lsb = operand(0).format().lsbs();
    return count -> {
      for (int i = 0; i < count; i++) {
        out[i] = Double.isNaN(x[i]) ? Double.NaN : of(x[i] / lsb, width);
      }
    };
  }

  @Override
  String formula() {
    return "leading zeros of " + operand(0).name() + " in " + width + " bits";
  }
}
