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
    if (operand(1).fixed() && operand(2).fixed() && !result.wide()) {
      boolean rises = operand(1).min().compareTo(operand(2).min()) >= 0;
      return Loop.all(
          fixed(rises ? must : may, columns.low(result)),
          fixed(rises ? may : must, columns.high(result)));
    }
    Lane trueLow = columns.low(operand(1));
    Lane trueHigh = columns.high(operand(1));
    Lane falseLow = columns.low(operand(2));
    Lane falseHigh = columns.high(operand(2));
    Lane low = columns.low(result);
    Lane high = columns.high(result);
    if (columns.point(operand(0))) {
      return Loop.all(loop(must, trueLow, falseLow, low), loop(must, trueHigh, falseHigh, high));
    }
    Range whenTrue = operand(1).range();
    Range whenFalse = operand(2).range();
    if (whenTrue.max().compareTo(whenFalse.min()) <= 0) {
      return Loop.all(loop(may, trueLow, falseLow, low), loop(must, trueHigh, falseHigh, high));
    }
    if (whenFalse.max().compareTo(whenTrue.min()) <= 0) {
      return Loop.all(loop(must, trueLow, falseLow, low), loop(may, trueHigh, falseHigh, high));
    }
    if (!low.wide() && range().roomy()) {
      return Loop.of(
          n -> {
            leastOf(must.low, may.low, trueLow.low, falseLow.low, low.low, n);
            greatestOf(must.low, may.low, trueHigh.low, falseHigh.low, high.low, n);
          },
          code -> {
            String hull = "$3 + (($2 - $3) & (-$0 | (-$1 & ";
            code.set(
                low.low, hull + "sign($2 - $3))))", must.low, may.low, trueLow.low, falseLow.low);
            code.set(
                high.low,
                hull + "~sign($2 - $3))))",
                must.low,
                may.low,
                trueHigh.low,
                falseHigh.low);
          });
    }
    return Loop.all(
        Extremum.smaller(trueLow, falseLow, range(), low),
        loop(may, low, falseLow, low),
        loop(must, trueLow, low, low),
        Extremum.larger(trueHigh, falseHigh, range(), high),
        loop(may, high, falseHigh, high),
        loop(must, trueHigh, high, high));
  }

  /** One of two codes that are the same in every case. */
  private Loop fixed(Lane condition, Lane out) {
    long code = operand(2).min().longValueExact();
    long more = operand(1).min().longValueExact() - code;
    return Loop.of(
        n -> fixed(condition.low, code, more, out.low, n),
        out.low,
        "$0 + ($1 & -$2)",
        code,
        more,
        condition.low);
  }

  private static void fixed(long[] condition, long code, long more, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = code + (more & -condition[i]);
    }
  }

  /** The codes of one lane where a bit is 1, else those of the other. */
  static Loop loop(Lane condition, Lane whenTrue, Lane whenFalse, Lane out) {
    return loop(condition.low, whenTrue, whenFalse, out);
  }

  static Loop loop(long[] condition, Lane whenTrue, Lane whenFalse, Lane out) {
    if (!out.wide()) {
      return narrow(condition, whenTrue.low, whenFalse.low, out.low);
    }
    long[] trueHigh = whenTrue.upper();
    long[] falseHigh = whenFalse.upper();
    return Loop.all(
        whenTrue.extended(),
        whenFalse.extended(),
        narrow(condition, trueHigh, falseHigh, out.high),
        narrow(condition, whenTrue.low, whenFalse.low, out.low));
  }

  // Where the bit is open, the one that lies further out: what the other is more by counts, or not.

  private static void leastOf(
      long[] must, long[] may, long[] whenTrue, long[] whenFalse, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      long more = whenTrue[i] - whenFalse[i];
      long taken = -must[i] | (-may[i] & (more >> 63));
      out[i] = whenFalse[i] + (more & taken);
    }
  }

  private static void greatestOf(
      long[] must, long[] may, long[] whenTrue, long[] whenFalse, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      long more = whenTrue[i] - whenFalse[i];
      long taken = -must[i] | (-may[i] & ~(more >> 63));
      out[i] = whenFalse[i] + (more & taken);
    }
  }

  private static Loop narrow(long[] condition, long[] whenTrue, long[] whenFalse, long[] out) {
    return Loop.of(
        n -> narrow(condition, whenTrue, whenFalse, out, n),
        out,
        "chosen(-$0, $1, $2)",
        condition,
        whenTrue,
        whenFalse);
  }

  private static void narrow(
      long[] condition, long[] whenTrue, long[] whenFalse, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      long mask = -condition[i];
      out[i] = (whenTrue[i] & mask) | (whenFalse[i] & ~mask);
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
