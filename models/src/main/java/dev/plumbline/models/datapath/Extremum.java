package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;

/** The smaller or the larger of two aligned values. */
final class Extremum extends Step {
  private final boolean larger;

  Extremum(Value a, Value b, boolean larger) {
    super(
        larger ? a.range().larger(b.range()) : a.range().smaller(b.range()),
        a.fractionBits(),
        a,
        b);
    this.larger = larger;
  }

  boolean larger() {
    return larger;
  }

  /** Two values of one format stay in it. */
  @Override
  Format declaredFormat() {
    Format format = operand(0).format();
    return format.equals(operand(1).format()) ? format : null;
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

  private Loop loop(Lane a, Lane b, Lane out) {
    Range both = operand(0).range().hull(operand(1).range());
    return larger ? larger(a, b, both, out) : smaller(a, b, both, out);
  }

  /** The smaller codes of two lanes, both within a range. */
  static Loop smaller(Lane a, Lane b, Range both, Lane out) {
    if (Lane.anyWide(a, b) || out.wide()) {
      return n -> wide(a, b, b, a, out, n);
    }
    return both.roomy()
        ? n -> smallerByDifference(a.low, b.low, out.low, n)
        : n -> smaller(a.low, b.low, out.low, n);
  }

  /** The larger codes of two lanes, both within a range. */
  static Loop larger(Lane a, Lane b, Range both, Lane out) {
    if (Lane.anyWide(a, b) || out.wide()) {
      return n -> wide(b, a, b, a, out, n);
    }
    return both.roomy()
        ? n -> largerByDifference(a.low, b.low, out.low, n)
        : n -> larger(a.low, b.low, out.low, n);
  }

  // The sign of the difference is a mask; unlike min and max of longs, this runs in vectors.

  private static void smallerByDifference(long[] a, long[] b, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      long more = b[i] - a[i];
      out[i] = a[i] + (more & -(more >>> 63));
    }
  }

  private static void largerByDifference(long[] a, long[] b, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      long more = b[i] - a[i];
      out[i] = b[i] - (more & -(more >>> 63));
    }
  }

  private static void smaller(long[] a, long[] b, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = Math.min(a[i], b[i]);
    }
  }

  private static void larger(long[] a, long[] b, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = Math.max(a[i], b[i]);
    }
  }

  /** Takes {@code b} unless {@code left} is below {@code right}, which are a and b or b and a. */
  private static void wide(Lane left, Lane right, Lane b, Lane a, Lane out, int count) {
    for (int i = 0; i < count; i++) {
      Lane chosen = Wide.less(left.high(i), left.low[i], right.high(i), right.low[i]) ? a : b;
      out.set(i, chosen.high(i), chosen.low[i]);
    }
  }

  @Override
  Loop ideal(IdealColumns columns, Value result) {
    double[] a = columns.of(operand(0));
    double[] b = columns.of(operand(1));
    double[] out = columns.of(result);
    if (larger) {
      return count -> {
        for (int i = 0; i < count; i++) {
          out[i] = Math.max(a[i], b[i]);
        }
      };
    }
    return count -> {
      for (int i = 0; i < count; i++) {
        out[i] = Math.min(a[i], b[i]);
      }
    };
  }

  @Override
  String formula() {
    return (larger ? "max(" : "min(") + operand(0).name() + ", " + operand(1).name() + ")";
  }
}
