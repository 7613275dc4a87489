package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;

/**
 * The quotient, floor to the LSB of a format and saturated. A zero divisor gives the highest code,
 * or the lowest under a negative dividend.
 */
final class Divide extends Step {
  private final Format format;
  private final int shift;
  private final long min;
  private final long max;
  private final boolean twoWords;

  /** Both dividend and divisor, shifted for the format's LSB, fit as {@link #fits} says. */
  Divide(Value a, Value b, Format format) {
    super(range(a, b, format), format.fractionBits(), a, b);
    this.format = format;
    this.shift = shift(a, b, format);
    this.min = range().min().longValueExact();
    this.max = range().max().longValueExact();
    this.twoWords = !fitsOneWord(a, b, shift);
  }

  /** Where neither is ever negative the quotient is not. */
  private static Range range(Value a, Value b, Format format) {
    boolean neverNegative = a.min().signum() >= 0 && b.min().signum() >= 0;
    BigInteger least = neverNegative ? BigInteger.ZERO : format.minCode();
    return new Range(least.max(format.minCode()), format.maxCode());
  }

  /** Places to shift the dividend to the left; the divisor when negative. */
  static int shift(Value a, Value b, Format format) {
    return shift(a.format(), b.format(), format);
  }

  static int shift(Format a, Format b, Format format) {
    return format.fractionBits() - a.fractionBits() + b.fractionBits();
  }

  @Override
  Format declaredFormat() {
    return format;
  }

  @Override
  boolean exact() {
    return false;
  }

  @Override
  Loop bits(Columns columns, Value result) {
    Lane a = columns.lane(operand(0));
    Lane b = columns.lane(operand(1));
    long[] out = columns.lane(result).low;
    return count -> {
      for (int i = 0; i < count; i++) {
        out[i] = floor(a, b, i);
      }
    };
  }

  private long floor(Lane a, Lane b, int i) {
    if (b.low[i] == 0 && b.high(i) == 0) {
      return a.high(i) < 0 ? min : max;
    }
    return twoWords
        ? WideDivision.floor(a, b, i, shift, min, max)
        : clamp(Math.floorDiv(dividend(a.low[i]), divisor(b.low[i])));
  }

  private long ceiling(Lane a, Lane b, int i) {
    // Never the most negative word over -1: ranges were checked to leave a bit for the sign.
    return twoWords
        ? WideDivision.ceiling(a, b, i, shift, min, max)
        : clamp(-Math.floorDiv(-dividend(a.low[i]), divisor(b.low[i])));
  }

  private long dividend(long a) {
    return a << Math.max(shift, 0);
  }

  private long divisor(long b) {
    return b << Math.max(-shift, 0);
  }

  private long clamp(long code) {
    return Math.min(Math.max(code, min), max);
  }

  /** An end of the dividend is divided by the end of the divisor that takes it further out. */
  @Override
  Loop bounds(BoundColumns columns, Value result) {
    if (BriefDivision.fits(operand(0), operand(1), shift, format)) {
      return new BriefDivision(shift, range()).bounds(columns, operand(0), operand(1), result);
    }
    Lane aLow = columns.low(operand(0));
    Lane aHigh = columns.high(operand(0));
    Lane bLow = columns.low(operand(1));
    Lane bHigh = columns.high(operand(1));
    long[] low = columns.low(result).low;
    long[] high = columns.high(result).low;
    return count -> {
      for (int i = 0; i < count; i++) {
        boolean positive = bLow.high(i) >= 0 && (bLow.low[i] != 0 || bLow.high(i) != 0);
        if (positive) {
          low[i] = floor(aLow, aLow.high(i) < 0 ? bLow : bHigh, i);
          high[i] = ceiling(aHigh, aHigh.high(i) < 0 ? bHigh : bLow, i);
        } else if (bHigh.high(i) < 0) {
          low[i] = floor(aHigh, aHigh.high(i) < 0 ? bLow : bHigh, i);
          high[i] = ceiling(aLow, aLow.high(i) < 0 ? bHigh : bLow, i);
        } else {
          low[i] = min;
          high[i] = max;
        }
      }
    };
  }

  @Override
  Loop ideal(IdealColumns columns, Value result) {
    double[] a = columns.of(operand(0));
    double[] b = columns.of(operand(1));
    double[] out = columns.of(result);
    double least = format.toReal(format.minCode());
    double greatest = format.toReal(format.maxCode());
    return count -> {
      for (int i = 0; i < count; i++) {
        double quotient = a[i] / b[i];
        out[i] =
            b[i] == 0
                ? (a[i] < 0 ? least : greatest)
                : Math.min(Math.max(quotient, least), greatest);
      }
    };
  }

  /** Whether dividend and divisor can be divided: within one word, or two for short quotients. */
  static boolean fits(Value a, Value b, Format format) {
    int shift = shift(a, b, format);
    return fitsOneWord(a, b, shift)
        ? Range.of(format).columnBits() <= 64
        : Math.abs(shift) < 127
            && a.range().shiftedLeft(Math.max(shift, 0)).columnBits() <= WideDivision.BITS
            && b.range().shiftedLeft(Math.max(-shift, 0)).columnBits() <= WideDivision.BITS
            && Range.of(format).columnBits() <= WideDivision.QUOTIENT_BITS;
  }

  /** Whether they stay within signed words, with a bit for another sign. */
  private static boolean fitsOneWord(Value a, Value b, int shift) {
    BigInteger limit = BigInteger.valueOf(Long.MAX_VALUE);
    Range words = new Range(limit.negate(), limit);
    return Math.abs(shift) < 64
        && a.range().shiftedLeft(Math.max(shift, 0)).within(words)
        && b.range().shiftedLeft(Math.max(-shift, 0)).within(words)
        && !a.wide()
        && !b.wide();
  }

  @Override
  String formula() {
    return operand(0).name() + " / " + operand(1).name() + " to " + format + ", floor, saturates";
  }
}
