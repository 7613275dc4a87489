package dev.plumbline.models.datapath;

/** The exact difference of two aligned values. */
final class Subtract extends Step {
  Subtract(Value a, Value b) {
    super(a.range().minus(b.range()), a.fractionBits(), a, b);
  }

  @Override
  boolean balanced() {
    return operand(0).balanced() && operand(1).balanced();
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
        loop(columns.low(a), columns.high(b), columns.low(result)),
        loop(columns.high(a), columns.low(b), columns.high(result)));
  }

  private static Loop loop(Lane a, Lane b, Lane out) {
    if (!out.wide()) {
      return Loop.of(n -> narrow(a.low, b.low, out.low, n), out.low, "$0 - $1", a.low, b.low);
    }
    long[] aHigh = a.upper();
    long[] bHigh = b.upper();
    return Loop.all(
        a.extended(),
        b.extended(),
        Loop.of(
            n -> wide(a.low, aHigh, b.low, bHigh, out.low, out.high, n),
            code -> {
              code.set(out.high, "$0 - $1 - borrow($2, $3)", aHigh, bHigh, a.low, b.low);
              code.set(out.low, "$0 - $1", a.low, b.low);
            }));
  }

  private static void narrow(long[] a, long[] b, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = a[i] - b[i];
    }
  }

  private static void wide(
      long[] a, long[] aHigh, long[] b, long[] bHigh, long[] out, long[] outHigh, int count) {
    for (int i = 0; i < count; i++) {
      long x = a[i];
      long y = b[i];
      long difference = x - y;
      outHigh[i] = aHigh[i] - bHigh[i] - Wide.borrow(x, y, difference);
      out[i] = difference;
    }
  }

  @Override
  Loop ideal(IdealColumns columns, Value result) {
    double[] a = columns.of(operand(0));
    double[] b = columns.of(operand(1));
    double[] out = columns.of(result);
    return count -> {
      for (int i = 0; i < count; i++) {
        out[i] = a[i] - b[i];
      }
    };
  }

  @Override
  String formula() {
    return operand(0).name() + " - " + operand(1).name();
  }
}
