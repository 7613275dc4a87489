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

  /** Both dividend and divisor, shifted for the format's LSB, fit a signed word. */
  Divide(Value a, Value b, Format format) {
    super(Range.of(format), format.fractionBits(), a, b);
    this.format = format;
    this.shift = shift(a, b, format);
    this.min = format.minCode().longValueExact();
    this.max = format.maxCode().longValueExact();
  }

  /** Places to shift the dividend to the left; the divisor when negative. */
  static int shift(Value a, Value b, Format format) {
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
    long[] a = columns.lane(operand(0)).low;
    long[] b = columns.lane(operand(1)).low;
    long[] out = columns.lane(result).low;
    return count -> {
      for (int i = 0; i < count; i++) {
        out[i] = floor(a[i], b[i]);
      }
    };
  }

  private long floor(long a, long b) {
    if (b == 0) {
      return a < 0 ? min : max;
    }
    return clamp(Math.floorDiv(dividend(a), divisor(b)));
  }

  private long ceiling(long a, long b) {
    // Never the most negative word over -1: ranges were checked to leave a bit for the sign.
    return clamp(-Math.floorDiv(-dividend(a), divisor(b)));
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

  @Override
  Loop bounds(BoundColumns columns, Value result) {
    long[] aLow = columns.low(operand(0)).low;
    long[] aHigh = columns.high(operand(0)).low;
    long[] bLow = columns.low(operand(1)).low;
    long[] bHigh = columns.high(operand(1)).low;
    long[] low = columns.low(result).low;
    long[] high = columns.high(result).low;
    return count -> {
      for (int i = 0; i < count; i++) {
        if (bLow[i] <= 0 && bHigh[i] >= 0) {
          low[i] = min;
          high[i] = max;
        } else {
          low[i] =
              Math.min(
                  Math.min(floor(aLow[i], bLow[i]), floor(aLow[i], bHigh[i])),
                  Math.min(floor(aHigh[i], bLow[i]), floor(aHigh[i], bHigh[i])));
          high[i] =
              Math.max(
                  Math.max(ceiling(aLow[i], bLow[i]), ceiling(aLow[i], bHigh[i])),
                  Math.max(ceiling(aHigh[i], bLow[i]), ceiling(aHigh[i], bHigh[i])));
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

  /** Whether dividend and divisor stay within signed words, with a bit for another sign. */
  static boolean fits(Value a, Value b, Format format) {
    int shift = shift(a, b, format);
    BigInteger limit = BigInteger.valueOf(Long.MAX_VALUE);
    Range words = new Range(limit.negate(), limit);
    return Math.abs(shift) < 64
        && a.range().shiftedLeft(Math.max(shift, 0)).within(words)
        && b.range().shiftedLeft(Math.max(-shift, 0)).within(words)
        && !a.wide()
        && !b.wide()
        && Range.of(format).columnBits() <= 64;
  }

  @Override
  String formula() {
    return operand(0).name() + " / " + operand(1).name() + " to " + format + ", floor, saturates";
  }
}
