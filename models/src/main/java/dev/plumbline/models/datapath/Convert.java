package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.math.BigInteger;
import java.util.Locale;

/**
 * Brings a value into a format: rounds, then wraps or saturates.
 *
 * <p>A wrap that cannot overflow under the declared rounding gives the same bits as a saturation
 * and is taken for one, so that bounds and ideal are clamped by less than one LSB rather than lost.
 */
final class Convert extends Step {
  private final Format format;
  private final Rounding rounding;
  private final int drop;
  private final Range between;
  private final boolean mayWrap;

  Convert(Value value, Format format, Rounding rounding, Overflow overflow) {
    super(range(value, format, rounding, overflow), format.fractionBits(), value);
    this.format = format;
    this.rounding = rounding;
    this.drop = value.fractionBits() - format.fractionBits();
    this.between = between(value.range(), drop);
    this.mayWrap = mayWrap(value, format, rounding, overflow);
  }

  Rounding rounding() {
    return rounding;
  }

  Overflow overflow() {
    return mayWrap ? Overflow.WRAP : Overflow.SATURATE;
  }

  boolean drops() {
    return drop > 0;
  }

  boolean mayOverflow() {
    return !between.within(Range.of(format));
  }

  /** The range after rounding either way and before overflow is dealt with. */
  static Range between(Range range, int drop) {
    return drop > 0 ? range.rounded(drop) : range.shiftedLeft(-drop);
  }

  private static boolean mayWrap(Value value, Format format, Rounding rounding, Overflow overflow) {
    int drop = value.fractionBits() - format.fractionBits();
    Range declared =
        drop > 0
            ? value.range().map(code -> rounding.divide(code, BigInteger.ONE.shiftLeft(drop)))
            : value.range().shiftedLeft(-drop);
    return overflow == Overflow.WRAP && !declared.within(Range.of(format));
  }

  private static Range range(Value value, Format format, Rounding rounding, Overflow overflow) {
    if (mayWrap(value, format, rounding, overflow)) {
      return Range.of(format);
    }
    return between(value.range(), value.fractionBits() - format.fractionBits())
        .map(code -> Overflow.SATURATE.apply(code, format));
  }

  @Override
  Format declaredFormat() {
    return format;
  }

  @Override
  boolean exact() {
    return drop <= 0 && !mayWrap;
  }

  @Override
  boolean balanced() {
    return operand(0).balanced() && !mayWrap && !mayOverflow();
  }

  @Override
  Loop bits(Columns columns, Value result) {
    Lane x = columns.lane(operand(0));
    Lane out = columns.lane(result);
    Addend addend = Addend.of(rounding, Math.max(drop, 0));
    if (!mayWrap) {
      return ConvertLoops.rounded(x, drop, addend, between, Range.of(format), out);
    }
    Lane whole = columns.scratch(0, between.columnBits() > 64);
    return Loop.all(
        ConvertLoops.rounded(x, drop, addend, between, between, whole),
        ConvertLoops.wrapped(whole, format, out));
  }

  @Override
  Loop bounds(BoundColumns columns, Value result) {
    Lane low = columns.low(operand(0));
    Lane high = columns.high(operand(0));
    Addend down = Addend.of(Rounding.FLOOR, Math.max(drop, 0));
    Addend up = Addend.up(Math.max(drop, 0));
    if (!mayWrap) {
      Range clamp = Range.of(format);
      return Loop.all(
          ConvertLoops.rounded(low, drop, down, between, clamp, columns.low(result)),
          ConvertLoops.rounded(high, drop, up, between, clamp, columns.high(result)));
    }
    Lane wholeLow = columns.scratch(0, between.columnBits() > 64);
    Lane wholeHigh = columns.scratch(1, between.columnBits() > 64);
    return Loop.all(
        ConvertLoops.rounded(low, drop, down, between, between, wholeLow),
        ConvertLoops.rounded(high, drop, up, between, between, wholeHigh),
        unlessWrapped(wholeLow, wholeHigh, columns.low(result), columns.high(result)));
  }

  /** The interval where all of it fits the format, else the whole range. */
  private Loop unlessWrapped(Lane low, Lane high, Lane outLow, Lane outHigh) {
    Clamp whole = new Clamp(Range.of(format));
    return count -> {
      for (int i = 0; i < count; i++) {
        if (whole.below(low.high(i), low.low[i]) || whole.above(high.high(i), high.low[i])) {
          whole.setMin(outLow, i);
          whole.setMax(outHigh, i);
        } else {
          outLow.set(i, low.high(i), low.low[i]);
          outHigh.set(i, high.high(i), high.low[i]);
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
    if (mayWrap) {
      return count -> {
        for (int i = 0; i < count; i++) {
          out[i] = x[i] >= min && x[i] <= max ? x[i] : Double.NaN;
        }
      };
    }
    return count -> {
      for (int i = 0; i < count; i++) {
        out[i] = Math.min(Math.max(x[i], min), max);
      }
    };
  }

  @Override
  String formula() {
    return operand(0).name()
        + " to "
        + format
        + (drop > 0 ? ", rounding " + words(rounding.name()) : "")
        + (between.within(Range.of(format)) ? "" : ", " + (mayWrap ? "wraps" : "saturates"));
  }

  private static String words(String name) {
    return name.toLowerCase(Locale.ROOT).replace('_', ' ');
  }
}
