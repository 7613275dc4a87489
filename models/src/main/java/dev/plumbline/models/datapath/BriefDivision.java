package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;

/**
 * Quotients so short that a double's is off by less than one: the remainder, which fits a word
 * though the shifted dividend may not, tells by how much. Loops have no branches.
 *
 * <p>The double is a product with one over the divisor, which divisions by the same share: of both
 * ends of an interval, since the least and the greatest of the products are those of the ends that
 * lie furthest out, whatever their signs.
 */
final class BriefDivision {
  /** Of a quotient, its sign counted: a double's is then off by about 2^-2 at most. */
  private static final int QUOTIENT_BITS = 50;

  /** Of a shifted divisor: room for remainders of its size and differences of these. */
  private static final int DIVISOR_BITS = 61;

  /** Of limits: room for what is beyond them. */
  private static final int LIMIT_BITS = 63;

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

  /** A divisor that is not zero is one code at least: no quotient is longer than its dividend. */
  static boolean fits(Value a, Value b, int shift, Format format) {
    BigInteger limit = BigInteger.valueOf(Long.MAX_VALUE);
    int bits = Range.of(format).columnBits();
    int dividendBits = a.range().shiftedLeft(Math.max(shift, 0)).columnBits();
    return Math.abs(shift) < 64
        && a.range().within(new Range(limit.negate(), limit))
        && b.range().shiftedLeft(Math.max(-shift, 0)).columnBits() <= DIVISOR_BITS
        && bits <= LIMIT_BITS
        && Math.min(bits, dividendBits) <= QUOTIENT_BITS;
  }

  /**
   * Both ends of a quotient of intervals; every code where the divisor may be zero. A divisor that
   * is never negative is taken as one over it, which divisions by the same share.
   */
  Loop bounds(BoundColumns columns, Value a, Value b, Value result) {
    Loop ends =
        b.min().signum() < 0 ? bySigns(columns, a, b, result) : byInverse(columns, a, b, result);
    long[] from = columns.low(b).low;
    long[] to = columns.high(b).low;
    long[] low = columns.low(result).low;
    long[] high = columns.high(result).low;
    return Loop.all(
        ends,
        Loop.of(
            n -> settle(from, to, min, max, low, high, n),
            code -> {
              String open = "chosen((-$0 | $1) >= 0, $2, $3)";
              code.set(low, open, from, to, min, low);
              code.set(high, open, from, to, max, high);
            }));
  }

  // The least and the greatest of a dividend times one over either end of a positive divisor are
  // those of the ends that lie further out, whatever its sign.

  private Loop byInverse(BoundColumns columns, Value a, Value b, Value result) {
    Loop inverted = columns.inverted(b);
    double[] first = columns.inverseLow();
    double[] last = columns.inverseHigh();
    double[] quotient = columns.reals(0);
    long[] least = columns.low(a).low;
    long[] greatest = columns.high(a).low;
    long[] from = columns.low(b).low;
    long[] to = columns.high(b).low;
    long[] divisor = columns.scratch(0, false).low;
    long[] low = columns.low(result).low;
    long[] high = columns.high(result).low;
    double below = min - 1.0;
    double above = max + 1.0;
    return Loop.all(
        inverted,
        Wide.toReals(least, a.range(), quotient),
        Loop.of(
            n -> floors(quotient, first, last, scale, below, above, n),
            quotient,
            "floors(between(smaller($0 * $1 * $2, $0 * $1 * $3), $4, $5))",
            quotient,
            scale,
            first,
            last,
            below,
            above),
        Wide.toExactCodes(quotient, low),
        Multiply.bySign(least, from, to, divisor),
        lower(least, divisor, up, down, min, max, low),
        Wide.toReals(greatest, a.range(), quotient),
        Loop.of(
            n -> ceilings(quotient, first, last, scale, below, above, n),
            quotient,
            "ceilings(between(larger($0 * $1 * $2, $0 * $1 * $3), $4, $5))",
            quotient,
            scale,
            first,
            last,
            below,
            above),
        Wide.toExactCodes(quotient, high),
        Multiply.bySign(greatest, to, from, divisor),
        raise(greatest, divisor, up, down, min, max, high));
  }

  private static void floors(
      double[] a,
      double[] first,
      double[] last,
      double scale,
      double below,
      double above,
      int count) {
    for (int i = 0; i < count; i++) {
      double code = a[i] * scale;
      double least = Math.min(code * first[i], code * last[i]);
      a[i] = Math.floor(Math.min(Math.max(least, below), above));
    }
  }

  private static void ceilings(
      double[] a,
      double[] first,
      double[] last,
      double scale,
      double below,
      double above,
      int count) {
    for (int i = 0; i < count; i++) {
      double code = a[i] * scale;
      double greatest = Math.max(code * first[i], code * last[i]);
      a[i] = Math.ceil(Math.min(Math.max(greatest, below), above));
    }
  }

  // From a neighbour to the floor or the ceiling, and into the limits. Both in one loop run in
  // vectors too, but half as fast; a sign is spread by a negation, since AVX2 shifts no sign.

  private static Loop lower(
      long[] dividend, long[] divisor, int up, int down, long least, long most, long[] out) {
    return Loop.all(
        Loop.of(
            n -> floor(dividend, divisor, up, down, out, n),
            out,
            "floored($0, $1 << $2, ($3 << $4) - $0 * ($1 << $2))",
            out,
            divisor,
            down,
            dividend,
            up),
        limit(least, most, out));
  }

  private static Loop raise(
      long[] dividend, long[] divisor, int up, int down, long least, long most, long[] out) {
    return Loop.all(
        Loop.of(
            n -> ceiling(dividend, divisor, up, down, out, n),
            out,
            "raised($0, $1 << $2, ($3 << $4) - $0 * ($1 << $2))",
            out,
            divisor,
            down,
            dividend,
            up),
        limit(least, most, out));
  }

  private static void floor(
      long[] dividend, long[] divisor, int up, int down, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      long by = divisor[i] << down;
      long rest = (dividend[i] << up) - out[i] * by;
      out[i] += ((by - 1 - rest) >>> 63) - (rest >>> 63);
    }
  }

  private static void ceiling(
      long[] dividend, long[] divisor, int up, int down, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      long by = divisor[i] << down;
      long rest = (dividend[i] << up) - out[i] * by;
      out[i] += (-rest >>> 63) - ((by - 1 + rest) >>> 63);
    }
  }

  private static Loop limit(long least, long most, long[] out) {
    return Loop.of(n -> limit(least, most, out, n), out, "limited($0, $1, $2)", out, least, most);
  }

  private static void limit(long least, long most, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      long over = out[i] - least;
      long quotient = out[i] - (over & -(over >>> 63));
      long under = most - quotient;
      out[i] = quotient + (under & -(under >>> 63));
    }
  }

  /** Opens both ends where the divisor may be zero. */
  private static void settle(
      long[] from, long[] to, long min, long max, long[] low, long[] high, int count) {
    for (int i = 0; i < count; i++) {
      // Not positive throughout, and not negative throughout.
      long open = -(((-from[i] | to[i]) >>> 63) ^ 1);
      low[i] = (min & open) | (low[i] & ~open);
      high[i] = (max & open) | (high[i] & ~open);
    }
  }

  /**
   * By a divisor of any sign: the least is the floor of the dividend that makes it so, over the end
   * of the divisor that takes it further down; the greatest is the same with the dividend's sign
   * turned, and turned back.
   */
  private Loop bySigns(BoundColumns columns, Value a, Value b, Value result) {
    long[] high = columns.high(result).low;
    return Loop.all(
        floors(columns, a, b, -1, min, max, columns.low(result).low),
        floors(columns, a, b, 0, -max, -min, high),
        Negate.narrow(high, high));
  }

  /**
   * @param turned -1 for the least; 0 for the greatest, its sign turned
   */
  private Loop floors(
      BoundColumns columns, Value a, Value b, long turned, long least, long most, long[] out) {
    long[] lowest = columns.low(a).low;
    long[] highest = columns.high(a).low;
    long[] from = columns.low(b).low;
    long[] to = columns.high(b).low;
    long[] dividend = columns.scratch(0, false).low;
    long[] divisor = columns.scratch(1, false).low;
    double[] quotient = columns.reals(0);
    double[] by = columns.reals(1);
    double below = least - 1.0;
    double above = most + 1.0;
    return Loop.all(
        Loop.of(
            n -> dividends(lowest, highest, turned, to, dividend, n),
            dividend,
            "turned(~(sign($0) ^ $1), chosen(~(sign($0) ^ $1), $2, $3))",
            to,
            turned,
            highest,
            lowest),
        Loop.of(
            n -> divisors(dividend, from, to, divisor, n),
            divisor,
            "turned(sign($2), chosen(sign($0) ^ sign($2), $1, $2))",
            dividend,
            from,
            to),
        Wide.toReals(dividend, a.range().magnitude(), quotient),
        Wide.toReals(divisor, b.range().magnitude(), by),
        Loop.of(
            n -> estimate(quotient, by, scale, below, above, n),
            quotient,
            "floors(between($0 * $1 / $2, $3, $4))",
            quotient,
            scale,
            by,
            below,
            above),
        Wide.toExactCodes(quotient, out),
        lower(dividend, divisor, up, down, least, most, out));
  }

  /**
   * What to divide, by a divisor made positive: the least, or the greatest with its sign turned.
   *
   * @param turned -1 where the greatest is divided by what is negative, 0 where by what is positive
   */
  private static void dividends(
      long[] least, long[] greatest, long turned, long[] signs, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      long turn = ~((signs[i] >> 63) ^ turned);
      long code = (greatest[i] & turn) | (least[i] & ~turn);
      out[i] = (code ^ turn) - turn;
    }
  }

  /** The nearer end of a divisor for a negative dividend, the farther one for others. */
  private static void divisors(long[] dividend, long[] from, long[] to, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      long negative = to[i] >> 63;
      long last = (dividend[i] >> 63) ^ negative;
      long end = (from[i] & last) | (to[i] & ~last);
      out[i] = (end ^ negative) - negative;
    }
  }

  private static void estimate(
      double[] a, double[] b, double scale, double below, double above, int count) {
    for (int i = 0; i < count; i++) {
      a[i] = Math.floor(Math.min(Math.max(a[i] * scale / b[i], below), above));
    }
  }
}
