package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;

/**
 * Quotients so short that a double's is off by less than one: the remainder, which fits a word
 * though the shifted dividend may not, tells by how much. Loops have no branches but for
 * saturation.
 */
final class BriefDivision {
  /** Of a quotient, its sign counted: a double's is then off by less than 2^-2. */
  private static final int QUOTIENT_BITS = 50;

  /** Of a shifted divisor: room for remainders of its size and differences of these. */
  private static final int DIVISOR_BITS = 61;

  private final int up;
  private final int down;
  private final double scale;
  private final long min;
  private final long max;

  /**
   * @param shift of the dividend to the left; of the divisor where it is negative
   */
  BriefDivision(int shift, Range range) {
    this.up = Math.max(shift, 0);
    this.down = Math.max(-shift, 0);
    this.scale = Math.scalb(1.0, shift);
    this.min = range.min().longValueExact();
    this.max = range.max().longValueExact();
  }

  static boolean fits(Value a, Value b, int shift, Format format) {
    BigInteger limit = BigInteger.valueOf(Long.MAX_VALUE);
    return Math.abs(shift) < 64
        && a.range().within(new Range(limit.negate(), limit))
        && b.range().shiftedLeft(Math.max(-shift, 0)).columnBits() <= DIVISOR_BITS
        && Range.of(format).columnBits() <= QUOTIENT_BITS;
  }

  /**
   * Both ends of a quotient of intervals; every code where the divisor may be zero. The least is
   * the floor of the dividend that makes it so, over the end of the divisor that takes it further
   * down; the greatest is the same with the dividend's sign turned, and turned back.
   */
  Loop bounds(BoundColumns columns, Value a, Value b, Value result) {
    long[] least = columns.low(a).low;
    long[] greatest = columns.high(a).low;
    long[] from = columns.low(b).low;
    long[] to = columns.high(b).low;
    long[] dividend = columns.scratch(0, false).low;
    long[] divisor = columns.scratch(1, false).low;
    double[] quotient = columns.reals(0);
    double[] by = columns.reals(1);
    long[] low = columns.low(result).low;
    long[] high = columns.high(result).low;
    return count -> {
      ends(least, greatest, -1, from, to, dividend, divisor, count);
      floors(dividend, divisor, min, max, quotient, by, low, count);
      ends(least, greatest, 0, from, to, dividend, divisor, count);
      floors(dividend, divisor, -max, -min, quotient, by, high, count);
      settle(from, to, min, max, low, high, count);
    };
  }

  /**
   * What to divide, by a divisor made positive: the least, or the greatest with its sign turned.
   *
   * @param turned -1 where the greatest is divided by what is negative, 0 where by what is positive
   */
  private static void ends(
      long[] least,
      long[] greatest,
      long turned,
      long[] from,
      long[] to,
      long[] dividend,
      long[] divisor,
      int count) {
    for (int i = 0; i < count; i++) {
      long negative = to[i] >> 63;
      long turn = ~(negative ^ turned);
      long code = (greatest[i] & turn) | (least[i] & ~turn);
      long signed = (code ^ turn) - turn;
      dividend[i] = signed;
      // The nearer end of the divisor for a negative dividend, the farther one for others.
      long last = (signed >> 63) ^ negative;
      long end = (from[i] & last) | (to[i] & ~last);
      divisor[i] = (end ^ negative) - negative;
    }
  }

  // Loops of their own, since a loop in which numbers are converted does not run in vectors.

  private void floors(
      long[] dividend,
      long[] divisor,
      long least,
      long most,
      double[] quotient,
      double[] by,
      long[] out,
      int count) {
    Wide.toReals(dividend, quotient, count);
    Wide.toReals(divisor, by, count);
    estimate(quotient, by, scale, (double) (least - 1), (double) (most + 1), count);
    Wide.toCodes(quotient, out, count);
    correct(dividend, divisor, up, down, least, most, out, count);
  }

  private static void estimate(
      double[] a, double[] b, double scale, double below, double above, int count) {
    for (int i = 0; i < count; i++) {
      a[i] = Math.floor(Math.min(Math.max(a[i] * scale / b[i], below), above));
    }
  }

  private static void correct(
      long[] dividend,
      long[] divisor,
      int up,
      int down,
      long least,
      long most,
      long[] out,
      int count) {
    for (int i = 0; i < count; i++) {
      long by = divisor[i] << down;
      long rest = (dividend[i] << up) - out[i] * by;
      long quotient = out[i] + (rest >> 63) + ((by - 1 - rest) >>> 63);
      long over = quotient - least;
      quotient -= over & (over >> 63);
      long under = most - quotient;
      out[i] = quotient + (under & (under >> 63));
    }
  }

  /** Turns the greatest back, and opens both ends where the divisor may be zero. */
  private static void settle(
      long[] from, long[] to, long min, long max, long[] low, long[] high, int count) {
    for (int i = 0; i < count; i++) {
      // Not positive throughout, and not negative throughout.
      long open = ~(-from[i] >> 63) & ~(to[i] >> 63);
      low[i] = (min & open) | (low[i] & ~open);
      high[i] = (max & open) | (-high[i] & ~open);
    }
  }
}
