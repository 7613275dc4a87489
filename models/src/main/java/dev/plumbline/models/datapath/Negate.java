package dev.plumbline.models.datapath;

/** The value with the other sign, exact: the most negative code gains a bit. */
final class Negate extends Step {
  Negate(Value value) {
    super(value.range().negated(), value.fractionBits(), value);
  }

  @Override
  Loop bits(Columns columns, Value result) {
    return loop(columns.lane(operand(0)), columns.lane(result));
  }

  @Override
  Loop bounds(BoundColumns columns, Value result) {
    Value x = operand(0);
    return Loop.all(
        loop(columns.high(x), columns.low(result)), loop(columns.low(x), columns.high(result)));
  }

  private static Loop loop(Lane x, Lane out) {
    return out.wide() ? n -> wide(x, out, n) : narrow(x.low, out.low);
  }

  static Loop narrow(long[] x, long[] out) {
    return Loop.of(n -> narrow(x, out, n), out, "-$0", x);
  }

  private static void narrow(long[] x, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = -x[i];
    }
  }

  private static void wide(Lane x, Lane out, int count) {
    for (int i = 0; i < count; i++) {
      long low = x.low[i];
      out.set(i, ~x.high(i) + (low == 0 ? 1 : 0), -low);
    }
  }

  @Override
  Loop ideal(IdealColumns columns, Value result) {
    double[] x = columns.of(operand(0));
    double[] out = columns.of(result);
    return count -> {
      for (int i = 0; i < count; i++) {
        out[i] = -x[i];
      }
    };
  }

  @Override
  String formula() {
    return "-" + operand(0).name();
  }
}
