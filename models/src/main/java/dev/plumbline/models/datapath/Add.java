package dev.plumbline.models.datapath;

/** The exact sum of two aligned values. */
final class Add extends Step {
  Add(Value a, Value b) {
    super(a.range().plus(b.range()), a.fractionBits(), a, b);
  }

  @Override
  Loop bits(Columns columns, Value result) {
    return loop(columns.lane(operand(0)), columns.lane(operand(1)), columns.lane(result));
  }

  @Override
  Loop bounds(BoundColumns columns, Value result) {
    Value a = operand(0);
    Value b = operand(1);
    return Loop.all(
        loop(columns.low(a), columns.low(b), columns.low(result)),
        loop(columns.high(a), columns.high(b), columns.high(result)));
  }

  private static Loop loop(Lane a, Lane b, Lane out) {
    return out.wide() ? n -> wide(a, b, out, n) : n -> narrow(a.low, b.low, out.low, n);
  }

  private static void narrow(long[] a, long[] b, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = a[i] + b[i];
    }
  }

  private static void wide(Lane a, Lane b, Lane out, int count) {
    for (int i = 0; i < count; i++) {
      long x = a.low[i];
      long y = b.low[i];
      long sum = x + y;
      out.set(i, a.high(i) + b.high(i) + Wide.carry(x, y, sum), sum);
    }
  }

  @Override
  Loop ideal(IdealColumns columns, Value result) {
    double[] a = columns.of(operand(0));
    double[] b = columns.of(operand(1));
    double[] out = columns.of(result);
    return count -> {
      for (int i = 0; i < count; i++) {
        out[i] = a[i] + b[i];
      }
    };
  }

  @Override
  String formula() {
    return operand(0).name() + " + " + operand(1).name();
  }
}
