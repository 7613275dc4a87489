package dev.plumbline.models.datapath;

import java.math.BigInteger;

/**
 * A run of a code's bits as an unsigned integer. Ideally that is the floor of the real code over
 * the weight of its lowest bit, less whole turns; none beyond what a double counts.
 */
final class Field extends Step {
  private static final double COUNTED = 0x1p53;

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

  int high() {
    return high;
  }

  int low() {
    return low;
  }

  @Override
  Loop bits(Columns columns, Value result) {
    return loop(columns.lane(operand(0)), columns.lane(result));
  }

  private Loop loop(Lane x, Lane out) {
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

  /** The bits of both ends, or anything where the bits above the field change on the way. */
  @Override
  Loop bounds(BoundColumns columns, Value result) {
    Lane least = columns.low(operand(0));
    Lane most = columns.high(operand(0));
    Lane outLow = columns.low(result);
    Lane outHigh = columns.high(result);
    Clamp whole = new Clamp(range());
    int above = Math.min(high + 1, 127);
    Loop turns =
        count -> {
          for (int i = 0; i < count; i++) {
            boolean same =
                Wide.rightLow(least.high(i), least.low[i], above)
                        == Wide.rightLow(most.high(i), most.low[i], above)
                    && Wide.rightHigh(least.high(i), above) == Wide.rightHigh(most.high(i), above);
            if (!same) {
              whole.setMin(outLow, i);
              whole.setMax(outHigh, i);
            }
          }
        };
    return Loop.all(loop(least, outLow), loop(most, outHigh), turns);
  }

  @Override
  Loop ideal(IdealColumns columns, Value result) {
    double[] x = columns.of(operand(0));
    double[] out = columns.of(result);
    double weight = operand(0).format().lsbs() * Math.scalb(1.0, low);
    double most = COUNTED * operand(0).format().lsbs();
    double turn = Math.scalb(1.0, high - low + 1);
    return count -> {
      for (int i = 0; i < count; i++) {
        double floor = Math.floor(x[i] / weight);
        double field = floor - Math.floor(floor / turn) * turn;
        out[i] = Math.abs(x[i]) < most ? field : Double.NaN;
      }
    };
  }

  @Override
  String formula() {
    return operand(0).name() + "[" + high + ":" + low + "]";
  }
}
