package dev.plumbline.models.datapath;

import java.math.BigInteger;

/** A run of a code's bits as an unsigned integer. */
final class Field extends BitsOnlyStep {
  private final int high;
  private final int low;

  Field(Value value, int high, int low) {
    super(
        new Range(
            BigInteger.ZERO, BigInteger.ONE.shiftLeft(high - low + 1).subtract(BigInteger.ONE)),
        0,
        value);
    this.high = high;
    this.low = low;
  }

  @Override
  Loop bits(Columns columns, Value result) {
    Lane x = columns.lane(operand(0));
    Lane out = columns.lane(result);
    long mask = range().max().longValue();
    long maskHigh = range().max().shiftRight(64).longValue();
    return x.wide() || low > 63
        ? n -> wide(x, low, maskHigh, mask, out, n)
        : n -> narrow(x, low, maskHigh, mask, out, n);
  }

  private static void narrow(Lane x, int low, long maskHigh, long mask, Lane out, int count) {
    for (int i = 0; i < count; i++) {
      out.set(i, (x.low[i] >> 63) & maskHigh, (x.low[i] >> low) & mask);
    }
  }

  private static void wide(Lane x, int low, long maskHigh, long mask, Lane out, int count) {
    for (int i = 0; i < count; i++) {
      long top = x.high(i);
      out.set(i, Wide.rightHigh(top, low) & maskHigh, Wide.rightLow(top, x.low[i], low) & mask);
    }
  }

  @Override
  String formula() {
    return operand(0).name() + "[" + high + ":" + low + "]";
  }
}
