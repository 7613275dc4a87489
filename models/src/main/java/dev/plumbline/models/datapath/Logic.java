package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;

/** And, or, not of single bits. */
final class Logic extends Step {
  enum Kind {
    AND,
    OR,
    NOT
  }

  private final Kind kind;

  Logic(Kind kind, Value... operands) {
    super(Range.BIT, 0, operands);
    this.kind = kind;
  }

  @Override
  Format declaredFormat() {
    return Format.bit();
  }

  @Override
  Loop bits(Columns columns, Value result) {
    Lane a = columns.lane(operand(0));
    Lane out = columns.lane(result);
    return switch (kind) {
      case AND -> and(a, columns.lane(operand(1)), out);
      case OR -> or(a, columns.lane(operand(1)), out);
      case NOT -> not(a, out);
    };
  }

  @Override
  Loop bounds(BoundColumns columns, Value result) {
    Value a = operand(0);
    Lane low = columns.low(result);
    Lane high = columns.high(result);
    if (kind == Kind.NOT) {
      return Loop.all(not(columns.high(a), low), not(columns.low(a), high));
    }
    Value b = operand(1);
    return kind == Kind.AND
        ? Loop.all(
            and(columns.low(a), columns.low(b), low), and(columns.high(a), columns.high(b), high))
        : Loop.all(
            or(columns.low(a), columns.low(b), low), or(columns.high(a), columns.high(b), high));
  }

  static Loop and(Lane a, Lane b, Lane out) {
    return Loop.of(n -> and(a.low, b.low, out.low, n), out.low, "$0 & $1", a.low, b.low);
  }

  private static Loop or(Lane a, Lane b, Lane out) {
    return Loop.of(n -> or(a.low, b.low, out.low, n), out.low, "$0 | $1", a.low, b.low);
  }

  private static Loop not(Lane a, Lane out) {
    return Loop.of(n -> not(a.low, out.low, n), out.low, "$0 ^ 1", a.low);
  }

  private static void and(long[] a, long[] b, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = a[i] & b[i];
    }
  }

  private static void or(long[] a, long[] b, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = a[i] | b[i];
    }
  }

  private static void not(long[] a, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = a[i] ^ 1;
    }
  }

  @Override
  Loop ideal(IdealColumns columns, Value result) {
    double[] a = columns.of(operand(0));
    double[] b = columns.of(operand(kind == Kind.NOT ? 0 : 1));
    double[] out = columns.of(result);
    return switch (kind) {
      case AND ->
          count -> {
            for (int i = 0; i < count; i++) {
              out[i] = Math.min(a[i], b[i]);
            }
          };
      case OR ->
          count -> {
            for (int i = 0; i < count; i++) {
              out[i] = Math.max(a[i], b[i]);
            }
          };
      case NOT ->
          count -> {
            for (int i = 0; i < count; i++) {
              out[i] = 1 - a[i];
            }
          };
    };
  }

  @Override
  String formula() {
    return switch (kind) {
      case AND -> operand(0).name() + " and " + operand(1).name();
      case OR -> operand(0).name() + " or " + operand(1).name();
      case NOT -> "not " + operand(0).name();
    };
  }
}
