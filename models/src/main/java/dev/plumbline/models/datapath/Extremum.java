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
    if (larger && operand(1).isZero()) {
      return positive(a, out);
    }
    Range both = operand(0).range().hull(operand(1).range());
    return larger ? larger(a, b, both, out) : smaller(a, b, both, out);
  }

  /** The codes that are not negative, zero for the others. */
  private static Loop positive(Lane x, Lane out) {
    if (!x.wide()) {
      return positive(x.low, x.low, out.low);
    }
    Loop low = positive(x.low, x.high, out.low);
    return out.wide() ? Loop.all(low, positive(x.high, x.high, out.high)) : low;
  }

  private static Loop positive(long[] x, long[] signs, long[] out) {
    return Loop.of(n -> positive(x, signs, out, n), out, "$0 & ~sign($1)", x, signs);
  }

  private static void positive(long[] x, long[] signs, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = x[i] & ~(signs[i] >> 63);
    }
  }

  /** The smaller codes of two lanes, both within a range. */
  static Loop smaller(Lane a, Lane b, Range both, Lane out) {
    if (Lane.anyWide(a, b) || out.wide()) {
      return wide(a, b, 0, both, out);
    }
    return both.roomy()
        ? Loop.of(
            n -> smallerByDifference(a.low, b.low, out.low, n),
            out.low,
            "$0 + (($1 - $0) & sign($1 - $0))",
            a.low,
            b.low)
        : Loop.of(
            n -> smaller(a.low, b.low, out.low, n),
            out.low,
            "chosen($0 < $1, $0, $1)",
            a.low,
            b.low);
  }

  /** The larger codes of two lanes, both within a range. */
  static Loop larger(Lane a, Lane b, Range both, Lane out) {
    if (Lane.anyWide(a, b) || out.wide()) {
      return wide(a, b, -1, both, out);
    }
    return both.roomy()
        ? Loop.of(
            n -> largerByDifference(a.low, b.low, out.low, n),
            out.low,
            "$1 - (($1 - $0) & sign($1 - $0))",
            a.low,
            b.low)
        : Loop.of(
            n -> larger(a.low, b.low, out.low, n),
            out.low,
            "chosen($0 < $1, $1, $0)",
            a.low,
            b.low);
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

  /** The smaller for a mask of zero, the larger for one of all ones. */
  private static Loop wide(Lane a, Lane b, long larger, Range both, Lane out) {
    if (!both.roomyInTwoWords() || a == out || b == out) {
      return n -> wide(a, b, larger, out, n);
    }
    long[] aHigh = a.upper();
    long[] bHigh = b.upper();
    // Which of them it is stands in the result's last column until that has the result: the loop
    // that tells it would not run in vectors with the choice in it.
    long[] mask = out.wide() ? out.high : out.low;
    Loop low = chosen(mask, a.low, b.low, out.low);
    Loop high = out.wide() ? chosen(mask, aHigh, bHigh, mask) : Loop.NOTHING;
    return Loop.all(
        a.extended(),
        b.extended(),
        Loop.of(
            n -> firsts(a.low, aHigh, b.low, bHigh, larger, mask, n),
            mask,
            "less($0, $1, $2, $3) ^ $4",
            aHigh,
            a.low,
            bHigh,
            b.low,
            larger),
        low,
        high);
  }

  /** All ones where the first of two is taken. */
  private static void firsts(
      long[] a, long[] aHigh, long[] b, long[] bHigh, long larger, long[] mask, int count) {
    for (int i = 0; i < count; i++) {
      mask[i] = Wide.lessMask(aHigh[i], a[i], bHigh[i], b[i]) ^ larger;
    }
  }

  private static Loop chosen(long[] mask, long[] first, long[] other, long[] out) {
    return Loop.of(
        n -> chosen(mask, first, other, out, n), out, "chosen($0, $1, $2)", mask, first, other);
  }

  private static void chosen(long[] mask, long[] first, long[] other, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = (first[i] & mask[i]) | (other[i] & ~mask[i]);
    }
  }

  private static void wide(Lane a, Lane b, long larger, Lane out, int count) {
    for (int i = 0; i < count; i++) {
      boolean less = Wide.less(a.high(i), a.low[i], b.high(i), b.low[i]);
      Lane chosen = less == (larger == 0) ? a : b;
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
