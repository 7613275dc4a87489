package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;

/** A decision on two aligned values; in bounds it is decided only where the intervals part. */
final class Compare extends Step {
  enum Relation {
    LESS("<"),
    AT_MOST("<="),
    EQUAL("==");

    private final String sign;

    Relation(String sign) {
      this.sign = sign;
    }

    String sign() {
      return sign;
    }
  }

  private final Relation relation;

  Compare(Relation relation, Value a, Value b) {
    super(Range.BIT, 0, a, b);
    this.relation = relation;
  }

  Relation relation() {
    return relation;
  }

  @Override
  Format declaredFormat() {
    return Format.bit();
  }

  @Override
  Loop bits(Columns columns, Value result) {
    return loop(relation, columns.lane(operand(0)), columns.lane(operand(1)), columns.lane(result));
  }

  @Override
  Loop bounds(BoundColumns columns, Value result) {
    Value a = operand(0);
    Value b = operand(1);
    Lane low = columns.low(result);
    Lane high = columns.high(result);
    if (relation != Relation.EQUAL) {
      return Loop.all(
          loop(relation, columns.high(a), columns.low(b), low),
          loop(relation, columns.low(a), columns.high(b), high));
    }
    // Equal for certain: neither can exceed the other, so all four ends are one. Equal perhaps: the
    // intervals overlap.
    Lane other = columns.scratch(0, false);
    return Loop.all(
        loop(Relation.AT_MOST, columns.high(a), columns.low(b), low),
        loop(Relation.AT_MOST, columns.high(b), columns.low(a), other),
        Logic.and(low, other, low),
        loop(Relation.AT_MOST, columns.low(a), columns.high(b), high),
        loop(Relation.AT_MOST, columns.low(b), columns.high(a), other),
        Logic.and(high, other, high));
  }

  private Loop loop(Relation asked, Lane a, Lane b, Lane out) {
    boolean inOrder = asked == relation; // not a part of whether both are equal, of either order
    if (inOrder && asked == Relation.LESS && operand(1).isZero() && !a.wide()) {
      return Loop.of(n -> sign(a.low, 0, out.low, n), out.low, "srl($0, 63)", a.low);
    }
    if (inOrder && asked == Relation.AT_MOST && operand(0).isZero() && !b.wide()) {
      return Loop.of(n -> sign(b.low, -1, out.low, n), out.low, "srl(~$0, 63)", b.low);
    }
    return loop(asked, a, b, operand(0).range().hull(operand(1).range()), out.low);
  }

  /** Whether the codes of one lane are less than those of another, both within a range. */
  static Loop less(Lane a, Lane b, Range both, long[] out) {
    return loop(Relation.LESS, a, b, both, out);
  }

  private static Loop loop(Relation asked, Lane a, Lane b, Range both, long[] out) {
    if (Lane.anyWide(a, b)) {
      return both.roomyInTwoWords() && asked != Relation.EQUAL
          ? wideByDifference(asked, a, b, out)
          : switch (asked) {
            case LESS -> n -> less(a, b, out, n);
            case AT_MOST -> n -> atMost(a, b, out, n);
            case EQUAL -> n -> equal(a, b, out, n);
          };
    }
    boolean roomy = both.roomy();
    return switch (asked) {
      case LESS ->
          roomy
              ? Loop.of(
                  n -> lessByDifference(a.low, b.low, out, n),
                  out,
                  "srl($0 - $1, 63)",
                  a.low,
                  b.low)
              : Loop.of(n -> less(a.low, b.low, out, n), out, "($0 < $1) & 1", a.low, b.low);
      case AT_MOST ->
          roomy
              ? Loop.of(
                  n -> atMostByDifference(a.low, b.low, out, n),
                  out,
                  "srl($1 - $0, 63) ^ 1",
                  a.low,
                  b.low)
              : Loop.of(n -> atMost(a.low, b.low, out, n), out, "($0 <= $1) & 1", a.low, b.low);
      case EQUAL -> Loop.of(n -> equal(a.low, b.low, out, n), out, "($0 == $1) & 1", a.low, b.low);
    };
  }

  /** Whether codes are negative, or where all bits are turned, whether they are not. */
  private static void sign(long[] x, long turned, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = (x[i] ^ turned) >>> 63;
    }
  }

  // The sign of the difference is the result; unlike a comparison of longs, this runs in vectors.

  private static void lessByDifference(long[] a, long[] b, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = (a[i] - b[i]) >>> 63;
    }
  }

  private static void atMostByDifference(long[] a, long[] b, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = ((b[i] - a[i]) >>> 63) ^ 1;
    }
  }

  private static Loop wideByDifference(Relation asked, Lane a, Lane b, long[] out) {
    // At most: the other is not less.
    boolean less = asked == Relation.LESS;
    Lane left = less ? a : b;
    Lane right = less ? b : a;
    long no = less ? 0 : 1;
    long[] leftHigh = left.upper();
    long[] rightHigh = right.upper();
    return Loop.all(
        left.extended(),
        right.extended(),
        Loop.of(
            n -> wideByDifference(left.low, leftHigh, right.low, rightHigh, no, out, n),
            out,
            "(less($0, $1, $2, $3) & 1) ^ $4",
            leftHigh,
            left.low,
            rightHigh,
            right.low,
            no));
  }

  private static void wideByDifference(
      long[] a, long[] aHigh, long[] b, long[] bHigh, long no, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = (Wide.lessMask(aHigh[i], a[i], bHigh[i], b[i]) & 1) ^ no;
    }
  }

  private static void less(long[] a, long[] b, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = a[i] < b[i] ? 1 : 0;
    }
  }

  private static void atMost(long[] a, long[] b, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = a[i] <= b[i] ? 1 : 0;
    }
  }

  private static void equal(long[] a, long[] b, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      long difference = a[i] ^ b[i];
      out[i] = ((difference | -difference) >>> 63) ^ 1;
    }
  }

  private static void less(Lane a, Lane b, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = Wide.less(a.high(i), a.low[i], b.high(i), b.low[i]) ? 1 : 0;
    }
  }

  private static void atMost(Lane a, Lane b, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = Wide.less(b.high(i), b.low[i], a.high(i), a.low[i]) ? 0 : 1;
    }
  }

  private static void equal(Lane a, Lane b, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = ((a.low[i] ^ b.low[i]) | (a.high(i) ^ b.high(i))) == 0 ? 1 : 0;
    }
  }

  @Override
  Loop ideal(IdealColumns columns, Value result) {
    double[] a = columns.of(operand(0));
    double[] b = columns.of(operand(1));
    double[] out = columns.of(result);
    return switch (relation) {
      case LESS ->
          count -> {
            for (int i = 0; i < count; i++) {
              out[i] = a[i] < b[i] ? 1 : unknown(a[i], b[i]);
            }
          };
      case AT_MOST ->
          count -> {
            for (int i = 0; i < count; i++) {
              out[i] = a[i] <= b[i] ? 1 : unknown(a[i], b[i]);
            }
          };
      case EQUAL ->
          count -> {
            for (int i = 0; i < count; i++) {
              out[i] = a[i] == b[i] ? 1 : unknown(a[i], b[i]);
            }
          };
    };
  }

  /** No, or NaN when an operand has no ideal. */
  private static double unknown(double a, double b) {
    return Double.isNaN(a) || Double.isNaN(b) ? Double.NaN : 0;
  }

  @Override
  String formula() {
    return operand(0).name() + " " + relation.sign + " " + operand(1).name();
  }
}
