package dev.plumbline.models.fixed;

import java.math.BigInteger;

/**
 * How a value that falls between two codes is brought to one of them.
 *
 * <pre>{@code
 * Rounding.HALF_CEILING.divide(BigInteger.valueOf(-5), BigInteger.TWO);   // -2.5 gives -2
 * }</pre>
 *
 * <p>Names follow IEEE 754-2019 section 4.3 in plain words; {@link #HALF_CEILING} is
 * add-half-then-floor, which is what {@link Math#round(double)} does and <em>not</em> {@link
 * java.math.RoundingMode#HALF_UP}.
 *
 * <p>Every mode is one rule: something is added to the code, then the low bits are dropped towards
 * minus infinity. What is added depends on the code's sign and on whether the code that remains is
 * odd, and is given by {@link #always}, {@link #whenNegative} and {@link #whenOdd}. All rounding in
 * this library, by number or by column, is made of these three.
 */
public enum Rounding {
  /** Towards minus infinity: the low bits are dropped. */
  FLOOR,
  /** Towards zero. */
  TOWARD_ZERO,
  /** To the nearest code; a tie goes towards plus infinity. */
  HALF_CEILING,
  /** To the nearest code; a tie goes away from zero. */
  HALF_AWAY,
  /** To the nearest code; a tie goes to the even code. */
  HALF_EVEN;

  /**
   * What is added to every code.
   *
   * @param unit how many codes before rounding make one after it; even, or 1
   * @return 0 to {@code unit}
   */
  public BigInteger always(BigInteger unit) {
    BigInteger half = unit.shiftRight(1);
    return switch (this) {
      case FLOOR, TOWARD_ZERO -> BigInteger.ZERO;
      case HALF_CEILING, HALF_AWAY -> half;
      case HALF_EVEN -> half.subtract(BigInteger.ONE).max(BigInteger.ZERO);
    };
  }

  /**
   * What is added besides when the code is negative.
   *
   * @param unit how many codes before rounding make one after it; even, or 1
   * @return -1 to {@code unit - 1}
   */
  public BigInteger whenNegative(BigInteger unit) {
    if (unit.equals(BigInteger.ONE)) {
      return BigInteger.ZERO;
    }
    return switch (this) {
      case TOWARD_ZERO -> unit.subtract(BigInteger.ONE);
      case HALF_AWAY -> BigInteger.ONE.negate();
      case FLOOR, HALF_CEILING, HALF_EVEN -> BigInteger.ZERO;
    };
  }

  /**
   * What is added besides when the code is odd once its low bits are dropped.
   *
   * @param unit how many codes before rounding make one after it; even, or 1
   * @return 0 or 1
   */
  public BigInteger whenOdd(BigInteger unit) {
    return this == HALF_EVEN && !unit.equals(BigInteger.ONE) ? BigInteger.ONE : BigInteger.ZERO;
  }

  /**
   * Rounds the exact quotient of two integers.
   *
   * @param code the dividend, of any size
   * @param unit the divisor; positive and even, or 1 (a power of two or of ten, say)
   * @return the quotient brought to an integer
   * @throws IllegalArgumentException when the divisor is not positive, or odd and above 1
   */
  public BigInteger divide(BigInteger code, BigInteger unit) {
    if (unit.signum() <= 0 || (unit.testBit(0) && !unit.equals(BigInteger.ONE))) {
      throw new IllegalArgumentException(
          "Cannot round a quotient by "
              + unit
              + ": the divisor has to be 1 or positive and even; double both numbers.");
    }
    BigInteger sum = code.add(always(unit));
    if (code.signum() < 0) {
      sum = sum.add(whenNegative(unit));
    }
    if (floor(code, unit).testBit(0)) {
      sum = sum.add(whenOdd(unit));
    }
    return floor(sum, unit);
  }

  private static BigInteger floor(BigInteger code, BigInteger unit) {
    BigInteger[] parts = code.divideAndRemainder(unit);
    return parts[1].signum() < 0 ? parts[0].subtract(BigInteger.ONE) : parts[0];
  }
}
