package dev.plumbline.models.datapath;

/** The exact product; of a value with itself, the square, which is never negative. */
final class Multiply extends Step {
  private final boolean square;

  Multiply(Value a, Value b) {
    super(range(a, b), a.fractionBits() + b.fractionBits(), a, b);
    square = a == b;
  }

  private static Range range(Value a, Value b) {
    Range left = a == b ? a.range().magnitude() : a.range();
    return left.times(a == b ? left : b.range());
  }

  @Override
  Loop bits(Columns columns, Value result) {
    return loop(columns.lane(operand(0)), columns.lane(operand(1)), columns.lane(result));
  }

  @Override
  Loop bounds(BoundColumns columns, Value result) {
    return square ? squareBounds(columns, result) : productBounds(columns, result);
  }

  private Loop squareBounds(BoundColumns columns, Value result) {
    Value x = operand(0);
    Lane low = columns.scratch(0, x.range().magnitude().columnBits() > 64);
    Lane high = columns.scratch(1, low.wide());
    return Loop.all(
        Absolute.bounds(columns, columns.low(x), columns.high(x), x.range().magnitude(), low, high),
        loop(low, low, columns.low(result)),
        loop(high, high, columns.high(result)));
  }

  /** The least and the greatest of the products of the ends; two where one operand is a point. */
  private Loop productBounds(BoundColumns columns, Value result) {
    Value a = operand(columns.point(operand(1)) ? 1 : 0);
    Value b = operand(columns.point(operand(1)) ? 0 : 1);
    boolean wide = columns.low(result).wide();
    Lane p = columns.scratch(0, wide);
    Lane q = columns.scratch(1, wide);
    Range all = result.range();
    Lane outLow = columns.low(result);
    Lane outHigh = columns.high(result);
    Loop ends =
        Loop.all(
            loop(columns.low(a), columns.low(b), p),
            loop(columns.low(a), columns.high(b), q),
            Extremum.smaller(p, q, all, outLow),
            Extremum.larger(p, q, all, outHigh));
    if (columns.point(a)) {
      return ends;
    }
    Lane r = columns.scratch(2, wide);
    return Loop.all(
        ends,
        loop(columns.high(a), columns.low(b), p),
        loop(columns.high(a), columns.high(b), q),
        Extremum.smaller(p, q, all, r),
        Extremum.smaller(outLow, r, all, outLow),
        Extremum.larger(p, q, all, r),
        Extremum.larger(outHigh, r, all, outHigh));
  }

  private static Loop loop(Lane a, Lane b, Lane out) {
    if (!out.wide()) {
      return n -> narrow(a.low, b.low, out.low, n);
    }
    return Lane.anyWide(a, b)
        ? n -> wide(a, b, out, n)
        : n -> widening(a.low, b.low, out.low, out.high, n);
  }

  private static void narrow(long[] a, long[] b, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = a[i] * b[i];
    }
  }

  private static void widening(long[] a, long[] b, long[] low, long[] high, int count) {
    for (int i = 0; i < count; i++) {
      long x = a[i];
      long y = b[i];
      low[i] = x * y;
      high[i] = Math.multiplyHigh(x, y);
    }
  }

  private static void wide(Lane a, Lane b, Lane out, int count) {
    for (int i = 0; i < count; i++) {
      long x = a.low[i];
      long y = b.low[i];
      out.set(i, Wide.unsignedMultiplyHigh(x, y) + a.high(i) * y + x * b.high(i), x * y);
    }
  }

  @Override
  Loop ideal(IdealColumns columns, Value result) {
    double[] a = columns.of(operand(0));
    double[] b = columns.of(operand(1));
    double[] out = columns.of(result);
    return count -> {
      for (int i = 0; i < count; i++) {
        out[i] = a[i] * b[i];
      }
    };
  }

  @Override
  String formula() {
    return operand(0).name() + " * " + operand(1).name();
  }
}
