package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import java.util.List;

/** One of two aligned values, chosen by a bit; under an open bit, the hull of both. */
final class Select extends Step {
  Select(Value condition, Value whenTrue, Value whenFalse) {
    super(
        whenTrue.range().hull(whenFalse.range()),
        whenTrue.fractionBits(),
        condition,
        whenTrue,
        whenFalse);
  }

  /** Two values of one format stay in it. */
  @Override
  Format declaredFormat() {
    Format format = operand(1).format();
    return format.equals(operand(2).format()) ? format : null;
  }

  @Override
  List<Value> handedOn() {
    return operands().subList(1, 3);
  }

  @Override
  Loop bits(Columns columns, Value result) {
    return loop(
        columns.lane(operand(0)),
        columns.lane(operand(1)),
        columns.lane(operand(2)),
        columns.lane(result));
  }

  @Override
  Loop bounds(BoundColumns columns, Value result) {
    Lane must = columns.low(operand(0));
    Lane may = columns.high(operand(0));
    Lane trueLow = columns.low(operand(1));
    Lane trueHigh = columns.high(operand(1));
    Lane falseLow = columns.low(operand(2));
    Lane falseHigh = columns.high(operand(2));
    Lane low = columns.low(result);
    Lane high = columns.high(result);
    if (columns.point(operand(0))) {
      return Loop.all(loop(must, trueLow, falseLow, low), loop(must, trueHigh, falseHigh, high));
    }
    return Loop.all(
        Extremum.smaller(trueLow, falseLow, result.range(), low),
        loop(may, low, falseLow, low),
        loop(must, trueLow, low, low),
        Extremum.larger(trueHigh, falseHigh, result.range(), high),
        loop(may, high, falseHigh, high),
        loop(must, trueHigh, high, high));
  }

  private static Loop loop(Lane condition, Lane whenTrue, Lane whenFalse, Lane out) {
    return out.wide()
        ? n -> wide(condition.low, whenTrue, whenFalse, out, n)
        : n -> narrow(condition.low, whenTrue.low, whenFalse.low, out.low, n);
  }

  private static void narrow(
      long[] condition, long[] whenTrue, long[] whenFalse, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      long mask = -condition[i];
      out[i] = (whenTrue[i] & mask) | (whenFalse[i] & ~mask);
    }
  }

  private static void wide(long[] condition, Lane whenTrue, Lane whenFalse, Lane out, int count) {
    for (int i = 0; i < count; i++) {
      long mask = -condition[i];
      out.set(
          i,
          (whenTrue.high(i) & mask) | (whenFalse.high(i) & ~mask),
          (whenTrue.low[i] & mask) | (whenFalse.low[i] & ~mask));
    }
  }

  @Override
  Loop ideal(IdealColumns columns, Value result) {
    double[] condition = columns.of(operand(0));
    double[] whenTrue = columns.of(operand(1));
    double[] whenFalse = columns.of(operand(2));
    double[] out = columns.of(result);
    return count -> {
      for (int i = 0; i < count; i++) {
        double chosen = condition[i] != 0 ? whenTrue[i] : whenFalse[i];
        out[i] = Double.isNaN(condition[i]) ? Double.NaN : chosen;
      }
    };
  }

  @Override
  String formula() {
    return operand(0).name() + " ? " + operand(1).name() + " : " + operand(2).name();
  }
}
