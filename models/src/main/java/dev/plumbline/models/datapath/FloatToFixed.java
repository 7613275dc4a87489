package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Rounding;
import java.util.Locale;

/**
 * A floating-point number brought into a fixed format: rounded and saturated. What is no number
 * gives 0 in bits, any code in bounds, and has no ideal.
 */
final class FloatToFixed extends Step {
  private final FloatFormat from;
  private final Format format;
  private final Rounding rounding;
  private final double perReal;

  FloatToFixed(FloatFormat from, Value value, Format format, Rounding rounding) {
    super(Range.of(format), format.fractionBits(), value);
    this.from = from;
    this.format = format;
    this.rounding = rounding;
    this.perReal = 1 / format.lsbs();
  }

  Rounding rounding() {
    return rounding;
  }

  FloatToFixed rounded(Rounding other) {
    return new FloatToFixed(from, operand(0), format, other);
  }

  @Override
  Format declaredFormat() {
    return format;
  }

  @Override
  boolean exact() {
    return false;
  }

  /** Whole from a number of 24 bits, whose half more or less is exact where it matters. */
  private double whole(double code) {
    return switch (rounding) {
      case FLOOR -> Math.floor(code);
      case TOWARD_ZERO -> code < 0 ? Math.ceil(code) : Math.floor(code);
      case HALF_CEILING -> Math.abs(code) < 0x1p52 ? Math.floor(code + 0.5) : code;
      case HALF_AWAY ->
          Math.abs(code) < 0x1p52 ? Math.copySign(Math.floor(Math.abs(code) + 0.5), code) : code;
      case HALF_EVEN -> Math.rint(code);
    };
  }

  @Override
  FloatFormat floatOperands() {
    return from;
  }

  @Override
  Loop bits(Columns columns, Value result) {
    long[] x = columns.lane(operand(0)).low;
    Lane out = columns.lane(result);
    Clamp clamp = new Clamp(range());
    return count -> {
      for (int i = 0; i < count; i++) {
        double real = from.toReal(x[i]);
        clamp.set(out, i, Double.isNaN(real) ? 0 : whole(real * perReal));
      }
    };
  }

  @Override
  Loop bounds(BoundColumns columns, Value result) {
    FloatEnds ends = new FloatEnds(from, operand(0));
    Lane low = columns.low(operand(0));
    Lane high = columns.high(operand(0));
    Lane outLow = columns.low(result);
    Lane outHigh = columns.high(result);
    Clamp clamp = new Clamp(range());
    return count -> {
      for (int i = 0; i < count; i++) {
        double a = ends.real(low, i);
        double b = ends.real(high, i);
        if (ends.ordered(low, high, i)) {
          clamp.set(outLow, i, Math.floor(Math.min(a, b) * perReal));
          clamp.set(outHigh, i, Math.ceil(Math.max(a, b) * perReal));
        } else {
          clamp.setMin(outLow, i);
          clamp.setMax(outHigh, i);
        }
      }
    };
  }

  @Override
  Loop ideal(IdealColumns columns, Value result) {
    double[] x = columns.of(operand(0));
    double[] out = columns.of(result);
    double min = format.toReal(format.minCode());
    double max = format.toReal(format.maxCode());
    return count -> {
      for (int i = 0; i < count; i++) {
        out[i] = Math.min(Math.max(from.atPosition(x[i]), min), max);
      }
    };
  }

  @Override
  String formula() {
    return operand(0).name()
        + " from "
        + from
        + " to "
        + format
        + ", rounding "
        + rounding.name().toLowerCase(Locale.ROOT).replace('_', ' ')
        + ", saturates";
  }
}
