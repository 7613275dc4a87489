package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * An operation of floating point: its exact result rounded once. In bounds both codes around it;
 * ideally its place on the line of codes, which may lie between two of them. What is no number is
 * the format's NaN in bits, and any quiet and positive one in bounds.
 */
final class FloatStep extends Step {
  /** How the exact result becomes a code; all but the first are faults. */
  enum Coding {
    NEAREST_EVEN("rounds to nearest even"),
    NEAREST_AWAY("rounds halves away from zero"),
    TOWARD_ZERO("rounds toward zero"),
    AWAY("rounds away from zero"),
    FLUSHED("gives zero for subnormal results"),
    NEVER_INFINITE("gives the greatest number for infinity");

    private final String words;

    Coding(String words) {
      this.words = words;
    }

    String words() {
      return words;
    }
  }

  private final FloatOperation operation;
  private final FloatFormat from; // null: fixed point
  private final FloatFormat to;
  private final Coding coding;

  FloatStep(FloatOperation operation, FloatFormat from, FloatFormat to, Value... operands) {
    this(operation, from, to, Coding.NEAREST_EVEN, operands);
  }

  private FloatStep(
      FloatOperation operation,
      FloatFormat from,
      FloatFormat to,
      Coding coding,
      Value... operands) {
    super(Range.of(to.bits()), 0, operands);
    this.operation = operation;
    this.from = from;
    this.to = to;
    this.coding = coding;
  }

  FloatStep coded(Coding other) {
    return new FloatStep(operation, from, to, other, operands().toArray(new Value[0]));
  }

  @Override
  Format declaredFormat() {
    return to.bits();
  }

  @Override
  boolean exact() {
    return false;
  }

  private FloatEnds[] ends() {
    List<FloatEnds> ends = new ArrayList<>();
    operands().forEach(operand -> ends.add(new FloatEnds(from, operand)));
    return ends.toArray(new FloatEnds[0]);
  }

  /** The exact result at a corner of the operands' intervals. */
  private double at(FloatEnds[] ends, Lane[] low, Lane[] high, int corner, int i) {
    double a = ends[0].real((corner & 1) == 0 ? low[0] : high[0], i);
    double b = ends.length > 1 ? ends[1].real((corner & 2) == 0 ? low[1] : high[1], i) : 0;
    double c = ends.length > 2 ? ends[2].real((corner & 4) == 0 ? low[2] : high[2], i) : 0;
    return operation.odd(a, b, c);
  }

  @Override
  FloatFormat floatResult() {
    return to;
  }

  @Override
  FloatFormat floatOperands() {
    return from;
  }

  @Override
  Loop bits(Columns columns, Value result) {
    Lane[] in = operands().stream().map(columns::lane).toArray(Lane[]::new);
    FloatEnds[] ends = ends();
    long[] out = columns.lane(result).low;
    return count -> {
      for (int i = 0; i < count; i++) {
        out[i] = code(at(ends, in, in, 0, i));
      }
    };
  }

  private long code(double exact) {
    if (Double.isNaN(exact)) {
      return to.nan();
    }
    long nearest = to.toCode(exact);
    return switch (coding) {
      case NEAREST_EVEN -> nearest;
      case NEAREST_AWAY -> {
        long less = to.toward(exact);
        boolean half = to.position(exact) - less == 0.5;
        yield half ? to.away(exact) : nearest;
      }
      case TOWARD_ZERO -> to.toward(exact);
      case AWAY -> to.away(exact);
      case FLUSHED ->
          to.magnitude(nearest) >> to.fractionBits() == 0 ? nearest & to.sign() : nearest;
      case NEVER_INFINITE -> to.magnitude(nearest) == to.infinity() ? nearest - 1 : nearest;
    };
  }

  @Override
  Loop bounds(BoundColumns columns, Value result) {
    Lane[] low = operands().stream().map(columns::low).toArray(Lane[]::new);
    Lane[] high = operands().stream().map(columns::high).toArray(Lane[]::new);
    FloatEnds[] ends = ends();
    long[] outLow = columns.low(result).low;
    long[] outHigh = columns.high(result).low;
    long all = to.sign() * 2 - 1;
    return count -> {
      for (int i = 0; i < count; i++) {
        boolean open = false;
        boolean ordered = true;
        for (int k = 0; k < ends.length; k++) {
          open |= low[k].low[i] != high[k].low[i] || low[k].high(i) != high[k].high(i);
          ordered &= ends[k].ordered(low[k], high[k], i);
        }
        double least = at(ends, low, high, 0, i);
        double most = least;
        for (int corner = 1; open && corner < 1 << ends.length; corner++) {
          double value = at(ends, low, high, corner, i);
          least = Math.min(least, value);
          most = Math.max(most, value);
        }
        long one = to.toward(least);
        boolean negative = Double.doubleToRawLongBits(least) < 0;
        if (Double.isNaN(least)) {
          outLow[i] = open ? 0 : to.nan();
          outHigh[i] = open ? all : to.sign() - 1;
        } else if (open && (!ordered || negative != Double.doubleToRawLongBits(most) < 0)) {
          outLow[i] = 0;
          outHigh[i] = all;
        } else {
          outLow[i] = negative ? to.toward(most) : one;
          outHigh[i] = negative ? to.away(least) : to.away(most);
        }
      }
    };
  }

  @Override
  Loop ideal(IdealColumns columns, Value result) {
    double[][] in = operands().stream().map(columns::of).toArray(double[][]::new);
    FloatEnds[] ends = ends();
    double[] out = columns.of(result);
    return count -> {
      for (int i = 0; i < count; i++) {
        double a = ends[0].ideal(in[0][i]);
        double b = ends.length > 1 ? ends[1].ideal(in[1][i]) : 0;
        double c = ends.length > 2 ? ends[2].ideal(in[2][i]) : 0;
        out[i] = to.position(operation.odd(a, b, c));
      }
    };
  }

  @Override
  String formula() {
    Object[] names = operands().stream().map(Value::name).toArray();
    return String.format(Locale.ROOT, operation.words(), names) + " as " + to;
  }
}
