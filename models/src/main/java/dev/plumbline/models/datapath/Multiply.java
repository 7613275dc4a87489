package dev.plumbline.models.datapath;

import dev.plumbline.models.rows.RowCode;

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
  boolean balanced() {
    return !square && (operand(0).balanced() || operand(1).balanced());
  }

  @Override
  Loop bits(Columns columns, Value result) {
    return loop(columns.lane(operand(0)), columns.lane(operand(1)), columns.lane(result));
  }

  @Override
  Loop bounds(BoundColumns columns, Value result) {
    if (square) {
      return squareBounds(columns, result);
    }
    Value balanced = operand(operand(0).balanced() ? 0 : 1);
    Value other = operand(operand(0).balanced() ? 1 : 0);
    return balanced.balanced() && !result.wide() && other.range().columnBits() < Long.SIZE
        ? balancedBounds(columns, balanced, other, result)
        : productBounds(columns, result);
  }

  /** As far as the greatest magnitude of the other goes, either way. */
  private Loop balancedBounds(BoundColumns columns, Value balanced, Value other, Value result) {
    Lane most = columns.high(other);
    Loop magnitudes = Loop.NOTHING;
    if (other.min().signum() < 0 && !other.balanced()) {
      most = columns.scratch(0, false);
      magnitudes = Absolute.greatest(columns, other, most);
    }
    long[] low = columns.low(result).low;
    long[] high = columns.high(result).low;
    return Loop.all(
        magnitudes,
        loop(most, columns.high(balanced), isMagnitudeHalf(), columns.high(result)),
        Negate.narrow(high, low));
  }

  private Loop squareBounds(BoundColumns columns, Value result) {
    Value x = operand(0);
    Lane low = columns.scratch(0, x.range().magnitude().columnBits() > 64);
    Lane high = columns.scratch(1, low.wide());
    return Loop.all(
        Absolute.bounds(columns, x, low, high),
        loop(low, low, isMagnitudeHalf(), columns.low(result)),
        loop(high, high, isMagnitudeHalf(), columns.high(result)));
  }

  /**
   * The products of the ends that lie furthest out. Where the sign of one operand is known, or it
   * is a point, that sign tells which; else the least and the greatest of all four are taken.
   */
  private Loop productBounds(BoundColumns columns, Value result) {
    Value a = operand(steadier(columns));
    Value b = operand(1 - steadier(columns));
    Lane outLow = columns.low(result);
    Lane outHigh = columns.high(result);
    boolean notNegative = a.min().signum() >= 0;
    if (notNegative && b.min().signum() >= 0) {
      return Loop.all(
          loop(columns.low(a), columns.low(b), outLow),
          loop(columns.high(a), columns.high(b), outHigh));
    }
    if (columns.point(a)) {
      Lane x = columns.low(a);
      if (notNegative) {
        return Loop.all(loop(x, columns.low(b), outLow), loop(x, columns.high(b), outHigh));
      }
      Lane other = columns.scratch(0, b.wide());
      return Loop.all(
          bySign(x, columns.high(b), columns.low(b), other),
          loop(x, other, outLow),
          bySign(x, columns.low(b), columns.high(b), other),
          loop(x, other, outHigh));
    }
    if (notNegative) {
      Lane factor = columns.scratch(0, a.wide());
      return Loop.all(
          bySign(columns.low(b), columns.high(a), columns.low(a), factor),
          loop(factor, columns.low(b), outLow),
          bySign(columns.high(b), columns.low(a), columns.high(a), factor),
          loop(factor, columns.high(b), outHigh));
    }
    return anySigns(columns, a, b, result);
  }

  /** The operand that is a point, or never negative. */
  private int steadier(BoundColumns columns) {
    if (columns.point(operand(0)) || columns.point(operand(1))) {
      return columns.point(operand(0)) ? 0 : 1;
    }
    return operand(0).min().signum() >= 0 ? 0 : 1;
  }

  /**
   * Over either end of one operand, the least product is that with the end of the other that its
   * sign asks for, and the greatest that with the opposite end: of the two that remain each way,
   * the one further out.
   */
  private Loop anySigns(BoundColumns columns, Value a, Value b, Value result) {
    Lane factor = columns.scratch(0, a.wide());
    Lane p = columns.scratch(1, columns.low(result).wide());
    Lane q = columns.scratch(2, columns.low(result).wide());
    Range all = result.range();
    return Loop.all(
        bySign(columns.low(b), columns.high(a), columns.low(a), factor),
        loop(factor, columns.low(b), p),
        bySign(columns.high(b), columns.high(a), columns.low(a), factor),
        loop(factor, columns.high(b), q),
        Extremum.smaller(p, q, all, columns.low(result)),
        bySign(columns.low(b), columns.low(a), columns.high(a), factor),
        loop(factor, columns.low(b), p),
        bySign(columns.high(b), columns.low(a), columns.high(a), factor),
        loop(factor, columns.high(b), q),
        Extremum.larger(p, q, all, columns.high(result)));
  }

  /** The codes of one lane where those of the first are negative, else those of the other. */
  private static Loop bySign(Lane sign, Lane whenNegative, Lane otherwise, Lane out) {
    long[] signs = sign.wide() ? sign.high : sign.low;
    Loop low = bySign(signs, whenNegative.low, otherwise.low, out.low);
    return out.wide()
        ? Loop.all(low, bySign(signs, whenNegative.high, otherwise.high, out.high))
        : low;
  }

  /** The same of columns. */
  static Loop bySign(long[] sign, long[] whenNegative, long[] otherwise, long[] out) {
    return Loop.of(
        n -> bySign(sign, whenNegative, otherwise, out, n),
        out,
        "chosen(sign($0), $1, $2)",
        sign,
        whenNegative,
        otherwise);
  }

  private static void bySign(
      long[] sign, long[] whenNegative, long[] otherwise, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      long mask = -(sign[i] >>> 63); // AVX2 shifts no sign
      out[i] = (whenNegative[i] & mask) | (otherwise[i] & ~mask);
    }
  }

  private Loop loop(Lane a, Lane b, Lane out) {
    return loop(a, b, isHalf(operand(0).range()) && isHalf(operand(1).range()), out);
  }

  private boolean isMagnitudeHalf() {
    return isHalf(operand(0).range().magnitude())
        && isHalf(operand(1).range().magnitude())
        && isHalf(operand(0).range())
        && isHalf(operand(1).range());
  }

  /** Whether codes fit half a word, whose products take a single instruction in vectors. */
  private static boolean isHalf(Range range) {
    return range.columnBits() <= Integer.SIZE;
  }

  private static Loop loop(Lane a, Lane b, boolean halves, Lane out) {
    if (!out.wide()) {
      return Loop.of(
          n -> narrow(a.low, b.low, out.low, n),
          out.low,
          halves ? "product_of_halves($0, $1)" : "$0 * $1",
          a.low,
          b.low);
    }
    if (!Lane.anyWide(a, b)) {
      return Loop.of(
          n -> widening(a.low, b.low, out.low, out.high, n),
          code -> {
            code.set(out.low, "$0 * $1", a.low, b.low);
            code.set(out.high, "upper_product($0, $1)", a.low, b.low);
          });
    }
    Lane x = a.wide() ? b : a;
    Lane y = a.wide() ? a : b;
    Loop high =
        Loop.of(
            n -> highs(x.low, y.low, out.high, n), out.high, "upper_product($0, $1)", x.low, y.low);
    Loop wide =
        x.wide()
            ? n -> wide(x.low, x.high, y.low, y.high, out.low, out.high, n)
            : n -> wide(x.low, y.low, y.high, out.low, out.high, n);
    return Loop.all(high, Loop.of(wide, code -> tellWide(code, x, y, out)));
  }

  private static void tellWide(RowCode code, Lane x, Lane y, Lane out) {
    code.set(out.high, "$0 + $1 * ($2 - sign($3))", out.high, x.low, y.high, y.low);
    if (x.wide()) {
      code.set(out.high, "$0 + $1 * ($2 - sign($3))", out.high, y.low, x.high, x.low);
    }
    code.set(out.low, "$0 * $1", x.low, y.low);
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

  // The upper words of products of lower words are apart from the rest, which runs in vectors.
  // Lower words are taken with their signs; the upper ones make up for that.

  private static void highs(long[] a, long[] b, long[] high, int count) {
    for (int i = 0; i < count; i++) {
      high[i] = Math.multiplyHigh(a[i], b[i]);
    }
  }

  private static void wide(
      long[] a, long[] b, long[] bHigh, long[] out, long[] outHigh, int count) {
    for (int i = 0; i < count; i++) {
      long x = a[i];
      long y = b[i];
      outHigh[i] += x * (bHigh[i] - (y >> 63));
      out[i] = x * y;
    }
  }

  private static void wide(
      long[] a, long[] aHigh, long[] b, long[] bHigh, long[] out, long[] outHigh, int count) {
    for (int i = 0; i < count; i++) {
      long x = a[i];
      long y = b[i];
      outHigh[i] += x * (bHigh[i] - (y >> 63)) + y * (aHigh[i] - (x >> 63));
      out[i] = x * y;
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
