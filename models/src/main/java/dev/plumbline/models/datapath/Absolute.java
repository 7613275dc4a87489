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
    return bounds(columns, operand(0), columns.low(result), columns.high(result));
  }

  /** The magnitudes of an interval; works in scratch lanes 4 and 5 where they take two words. */
  static Loop bounds(BoundColumns columns, Value x, Lane outLow, Lane outHigh) {
    Lane low = columns.low(x);
    Lane high = columns.high(x);
    if (x.range().columnBits() < Long.SIZE) {
      Loop least =
          Loop.of(
              n -> least(low.low, high.low, outLow.low, n),
              outLow.low,
              "least_magnitude($0, $1)",
              low.low,
              high.low);
      return Loop.all(least, greatest(columns, x, outHigh));
    }
    Range range = x.range().magnitude();
    Lane a = columns.scratch(4, outLow.wide());
    Lane b = columns.scratch(5, outLow.wide());
    return Loop.all(
        loop(low, a),
        loop(high, b),
        Extremum.smaller(a, b, range, outLow),
        Extremum.larger(a, b, range, outHigh),
        n -> zeroAcross(low, high, outLow, n));
  }

  /** The greatest magnitudes of an interval of 63 bits at most. */
  static Loop greatest(BoundColumns columns, Value x, Lane out) {
    Lane low = columns.low(x);
    Lane high = columns.high(x);
    return Loop.of(
        n -> greatest(low.low, high.low, out.low, n),
        out.low,
        "greatest_magnitude($0, $1)",
        low.low,
        high.low);
  }

  // Of codes that leave a bit for the sum of two.

  private static void least(long[] low, long[] high, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      long sum = low[i] + high[i];
      long nearer = (sum & ~(sum >> 63)) - high[i]; // the low end, or the high one turned
      out[i] = nearer & ~(nearer >> 63);
    }
  }

  private static void greatest(long[] low, long[] high, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      long sum = low[i] + high[i];
      out[i] = high[i] - (sum & (sum >> 63)); // the high end, or the low one turned
    }
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
    return Lane.anyWide(x, out)
        ? n -> wide(x, out, n)
        : Loop.of(n -> narrow(x.low, out.low, n), out.low, "($0 ^ sign($0)) - sign($0)", x.low);
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
