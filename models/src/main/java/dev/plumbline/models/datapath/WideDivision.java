package dev.plumbline.models.datapath;

/**
 * Quotients of codes of two words. A double's quotient is good to some 2^-50 of itself, and so is
 * that of the exact remainder it leaves; a last correction by one makes the floor exact.
 */
final class WideDivision {
  /** Of a shifted dividend or divisor, its sign included: room for the remainder's sums. */
  static final int BITS = 126;

  /** Of the quotient, so that an estimate beyond it still fits a word. */
  static final int QUOTIENT_BITS = 63;

  private static final double BEYOND = 0x1p62;

  private WideDivision() {}

  /** The floor of a / b, whose divisor is not zero, brought into a range. */
  static long floor(Lane a, Lane b, int i, int shift, long min, long max) {
    long sign = b.high(i) >> 63;
    return quotient(a, b, i, shift, sign, min, max);
  }

  /** The ceiling: the floor of the negated quotient, negated. */
  static long ceiling(Lane a, Lane b, int i, int shift, long min, long max) {
    long sign = ~(b.high(i) >> 63);
    return -quotient(a, b, i, shift, sign, -max, -min);
  }

  /** The floor of (a, negated where the sign is -1) over |b|, shifted. */
  private static long quotient(Lane a, Lane b, int i, int shift, long sign, long min, long max) {
    int up = Math.max(shift, 0);
    int down = Math.max(-shift, 0);
    long low = (Wide.leftLow(a.low[i], up) ^ sign) - sign;
    long high = (Wide.leftHigh(a.high(i), a.low[i], up) ^ sign) + (low == 0 ? -sign : 0);
    long back = b.high(i) >> 63;
    long divisorLow = (Wide.leftLow(b.low[i], down) ^ back) - back;
    long divisorHigh =
        (Wide.leftHigh(b.high(i), b.low[i], down) ^ back) + (divisorLow == 0 ? -back : 0);
    double divisor = Wide.toDouble(divisorHigh, divisorLow);
    double estimate = Wide.toDouble(high, low) / divisor;
    if (Math.abs(estimate) >= BEYOND) {
      return estimate < 0 ? min : max;
    }
    long quotient = (long) estimate;
    // What is left fits two words by far, whatever the products lose above them.
    long product = quotient * divisorLow;
    long rest = low - product;
    long restHigh =
        high - productHigh(quotient, divisorHigh, divisorLow) - Wide.borrow(low, product, rest);
    long more = (long) Math.floor(Wide.toDouble(restHigh, rest) / divisor);
    quotient += more;
    product = more * divisorLow;
    long left = rest - product;
    long leftHigh =
        restHigh - productHigh(more, divisorHigh, divisorLow) - Wide.borrow(rest, product, left);
    if (leftHigh < 0) {
      quotient--;
    } else if (!Wide.less(leftHigh, left, divisorHigh, divisorLow)) {
      quotient++;
    }
    return Math.min(Math.max(quotient, min), max);
  }

  /** The upper word of a signed word times a positive code of two words. */
  private static long productHigh(long factor, long high, long low) {
    return Math.multiplyHigh(factor, low) + ((low >> 63) & factor) + factor * high;
  }
}
