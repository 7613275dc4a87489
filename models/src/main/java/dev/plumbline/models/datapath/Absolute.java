package dev.plumbline.models.datapath;

/** The magnitude of a value, exact. */
final class Absolute extends Step {
  Absolute(Value value) {
    super(value.range().magnitude(), value.fractionBits(), value);
  }

  @Override
  Loop bits(Columns columns, Value result) {
    return loop(columns.lane(operand(0)), columns.lane(result));
  }

  @Override
  Loop bounds(BoundColumns columns, Value result) {
    Value x = operand(0);
    return bounds(
        columns,
        columns.low(x),
        columns.high(x),
        result.range(),
        columns.low(result),
        columns.high(result));
  }

  /** The magnitudes of an interval, all within a range; works in scratch lanes 4 and 5. */
  static Loop bounds(
      BoundColumns columns, Lane low, Lane high, Range range, Lane outLow, Lane outHigh) {
    Lane a = columns.scratch(4, outLow.wide());
    Lane b = columns.scratch(5, outLow.wide());
    return Loop.all(
        loop(low, a),
        loop(high, b),
        Extremum.smaller(a, b, range, outLow),
        Extremum.larger(a, b, range, outHigh),
        n -> zeroAcross(low, high, outLow, n));
  }

  /** An interval with zero inside has zero as its least magnitude. */
  private static void zeroAcross(Lane low, Lane high, Lane out, int count) {
    for (int i = 0; i < count; i++) {
      if (low.high(i) < 0 && high.high(i) >= 0) {
        out.set(i, 0, 0);
      }
    }
  }

  private static Loop loop(Lane x, Lane out) {
    return Lane.anyWide(x, out) ? n -> wide(x, out, n) : n -> narrow(x.low, out.low, n);
  }

  private static void narrow(long[] x, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      long sign = x[i] >> 63;
      out[i] = (x[i] ^ sign) - sign;
    }
  }

  private static void wide(Lane x, Lane out, int count) {
    for (int i = 0; i < count; i++) {
      long low = x.low[i];
      long high = x.high(i);
      long sign = high >> 63;
      long outLow = (low ^ sign) - sign;
      out.set(i, (high ^ sign) + (sign & (low == 0 ? 1 : 0)), outLow);
    }
  }

  @Override
  Loop ideal(IdealColumns columns, Value result) {
    double[] x = columns.of(operand(0));
    double[] out = columns.of(result);
    return count -> {
      for (int i = 0; i < count; i++) {
        out[i] = Math.abs(x[i]);
      }
    };
  }

  @Override
  String formula() {
    return "|" + operand(0).name() + "|";
  }
}
