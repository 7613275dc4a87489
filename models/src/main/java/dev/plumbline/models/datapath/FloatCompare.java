package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;

/** A decision on two floating-point numbers; with one that is none the answer is no. */
final class FloatCompare extends Step {
  private final FloatFormat from;
  private final Compare.Relation relation;

  FloatCompare(FloatFormat from, Compare.Relation relation, Value a, Value b) {
    super(Range.BIT, 0, a, b);
    this.from = from;
    this.relation = relation;
  }

  Compare.Relation relation() {
    return relation;
  }

  FloatCompare by(Compare.Relation other) {
    return new FloatCompare(from, other, operand(0), operand(1));
  }

  @Override
  Format declaredFormat() {
    return Format.bit();
  }

  private boolean holds(double a, double b) {
    return switch (relation) {
      case LESS -> a < b;
      case AT_MOST -> a <= b;
      case EQUAL -> a == b;
    };
  }

  @Override
  FloatFormat floatOperands() {
    return from;
  }

  @Override
  Loop bits(Columns columns, Value result) {
    long[] a = columns.lane(operand(0)).low;
    long[] b = columns.lane(operand(1)).low;
    long[] out = columns.lane(result).low;
    return count -> {
      for (int i = 0; i < count; i++) {
        out[i] = holds(from.toReal(a[i]), from.toReal(b[i])) ? 1 : 0;
      }
    };
  }

  @Override
  Loop bounds(BoundColumns columns, Value result) {
    Lane aLow = columns.low(operand(0));
    Lane aHigh = columns.high(operand(0));
    Lane bLow = columns.low(operand(1));
    Lane bHigh = columns.high(operand(1));
    FloatEnds ends = new FloatEnds(from, operand(0));
    long[] low = columns.low(result).low;
    long[] high = columns.high(result).low;
    return count -> {
      for (int i = 0; i < count; i++) {
        boolean point = aLow.low[i] == aHigh.low[i] && bLow.low[i] == bHigh.low[i];
        double a = ends.real(aLow, i);
        double aEnd = ends.real(aHigh, i);
        double b = ends.real(bLow, i);
        double bEnd = ends.real(bHigh, i);
        if (point) {
          low[i] = holds(a, b) ? 1 : 0;
          high[i] = low[i];
        } else if (ends.ordered(aLow, aHigh, i) && ends.ordered(bLow, bHigh, i)) {
          low[i] = must(Math.min(a, aEnd), Math.max(a, aEnd), Math.min(b, bEnd), Math.max(b, bEnd));
          high[i] = may(Math.min(a, aEnd), Math.max(a, aEnd), Math.min(b, bEnd), Math.max(b, bEnd));
        } else {
          low[i] = 0;
          high[i] = 1;
        }
      }
    };
  }

  private long must(double aMin, double aMax, double bMin, double bMax) {
    return relation == Compare.Relation.EQUAL
        ? aMin == aMax && bMin == bMax && aMin == bMin ? 1 : 0
        : holds(aMax, bMin) ? 1 : 0;
  }

  private long may(double aMin, double aMax, double bMin, double bMax) {
    return relation == Compare.Relation.EQUAL
        ? aMin <= bMax && bMin <= aMax ? 1 : 0
        : holds(aMin, bMax) ? 1 : 0;
  }

  @Override
  Loop ideal(IdealColumns columns, Value result) {
    double[] a = columns.of(operand(0));
    double[] b = columns.of(operand(1));
    double[] out = columns.of(result);
    return count -> {
      for (int i = 0; i < count; i++) {
        boolean known = !Double.isNaN(a[i]) && !Double.isNaN(b[i]);
        boolean holds = holds(from.atPosition(a[i]), from.atPosition(b[i]));
        out[i] = known ? (holds ? 1 : 0) : Double.NaN;
      }
    };
  }

  @Override
  String formula() {
    return operand(0).name() + " " + relation.sign() + " " + operand(1).name() + " as " + from;
  }
}
