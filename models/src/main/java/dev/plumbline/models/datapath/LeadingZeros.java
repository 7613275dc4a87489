package dev.plumbline.models.datapath;

import java.math.BigInteger;

/** How many bits of a code, counted from the top of a width, are zero before the first one. */
final class LeadingZeros extends BitsOnlyStep {
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
    Lane x = columns.lane(operand(0));
    long[] out = columns.lane(result).low;
    return x.wide() ? n -> wide(x, width, out, n) : n -> narrow(x.low, width, out, n);
  }

  private static void narrow(long[] x, int width, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = width - 64L + Long.numberOfLeadingZeros(x[i]);
    }
  }

  private static void wide(Lane x, int width, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      long high = x.high(i);
      int zeros =
          high != 0 ? Long.numberOfLeadingZeros(high) : 64 + Long.numberOfLeadingZeros(x.low[i]);
      out[i] = width - 128L + zeros;
    }
  }

  @Override
  String formula() {
    return "leading zeros of " + operand(0).name() + " in " + width + " bits";
  }
}
