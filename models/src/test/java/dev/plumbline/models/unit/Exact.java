package dev.plumbline.models.unit;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.math.BigDecimal;
import java.math.BigInteger;
import java.math.RoundingMode;

/** What quotients and roots are, in the JDK's exact integers; shares nothing with the units. */
final class Exact {
  private Exact() {}

  /** The rounded quotient; a negative divisor is welcome. */
  static BigInteger quotient(BigInteger dividend, BigInteger divisor, Rounding rounding) {
    if (rounding == Rounding.HALF_CEILING) {
      // The JDK has no add-half-then-floor: floor((2n + d) / 2d), with d made positive.
      BigInteger n = divisor.signum() < 0 ? dividend.negate() : dividend;
      BigInteger d = divisor.abs();
      return quotient(n.shiftLeft(1).add(d), d.shiftLeft(1), Rounding.FLOOR);
    }
    RoundingMode mode =
        switch (rounding) {
          case FLOOR -> RoundingMode.FLOOR;
          case TOWARD_ZERO -> RoundingMode.DOWN;
          case HALF_AWAY -> RoundingMode.HALF_UP;
          default -> RoundingMode.valueOf(rounding.name());
        };
    return new BigDecimal(dividend).divide(new BigDecimal(divisor), 0, mode).toBigIntegerExact();
  }

  /** The code of one over the value of a code, before any limit. */
  static BigInteger reciprocal(long code, Format input, Format output, Rounding rounding) {
    BigInteger one = BigInteger.ONE.shiftLeft(input.fractionBits() + output.fractionBits());
    return quotient(one, BigInteger.valueOf(code), rounding);
  }

  /** What is left of a value after its format's limits. */
  static BigInteger limited(BigInteger value, Format format, Overflow overflow) {
    if (overflow == Overflow.SATURATE) {
      return value.max(format.minCode()).min(format.maxCode());
    }
    BigInteger period = BigInteger.ONE.shiftLeft(format.width());
    BigInteger low = value.mod(period);
    return low.compareTo(format.maxCode()) > 0 ? low.subtract(period) : low;
  }

  /** The rounded root of {@code code * 2^shift}, told by comparing squares. */
  static long root(long code, int shift, Rounding rounding) {
    BigInteger numerator = BigInteger.valueOf(code).shiftLeft(Math.max(shift, 0));
    BigInteger denominator = BigInteger.ONE.shiftLeft(Math.max(-shift, 0));
    long floor = numerator.divide(denominator).sqrt().longValueExact();
    if (rounding == Rounding.FLOOR || rounding == Rounding.TOWARD_ZERO) {
      return floor;
    }
    // Against the square of floor + 1/2.
    int half =
        numerator
            .shiftLeft(2)
            .compareTo(BigInteger.valueOf(2 * floor + 1).pow(2).multiply(denominator));
    boolean up = half > 0 || (half == 0 && (rounding != Rounding.HALF_EVEN || floor % 2 != 0));
    return up ? floor + 1 : floor;
  }

  /**
   * The root by Heron's rule in integers, from above.
   *
   * <p>It stops when the estimate no longer falls: one that waits for two equal estimates never
   * ends from 15.
   */
  static BigInteger heronRoot(BigInteger n) {
    if (n.signum() == 0) {
      return n;
    }
    BigInteger estimate = BigInteger.ONE.shiftLeft((n.bitLength() + 1) / 2);
    while (true) {
      BigInteger next = heronStep(n, estimate);
      if (next.compareTo(estimate) >= 0) {
        return estimate;
      }
      estimate = next;
    }
  }

  /** One step of Heron's rule in integers. */
  static BigInteger heronStep(BigInteger n, BigInteger estimate) {
    return estimate.add(n.divide(estimate)).shiftRight(1);
  }
}
