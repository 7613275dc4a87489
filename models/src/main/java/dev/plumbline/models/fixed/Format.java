package dev.plumbline.models.fixed;

import java.math.BigDecimal;
import java.math.BigInteger;
import java.util.Arrays;

/**
 * A fixed-point number format: an integer code of so many bits, counted in LSB of
 * 2<sup>-fractionBits</sup>.
 *
 * <pre>{@code
 * Format word = Format.signed(16, 16);               // s16.16: 32 bits, -32768 to 32767.99998
 * BigInteger code = word.toCode(0.2625, Rounding.FLOOR, Overflow.SATURATE);   // 17203
 * double real = word.toReal(code);                   // 0.262496948...
 * }</pre>
 *
 * <p>The integer bits of a signed format count the sign bit: {@code signed(16, 16)} has 32 bits and
 * {@code signed(1, 15)} runs from -1 to 1 - 2<sup>-15</sup>. (In the A(a,b) notation of R. Yates,
 * which does not count it, that is A(0,15).) A signed code is two's complement.
 *
 * @param signed whether codes may be negative
 * @param width all bits, 1 to 128
 * @param fractionBits bits behind the point, -512 to 512; it may lie outside the bits of the code
 */
public record Format(boolean signed, int width, int fractionBits) {
  private static final int MAX_WIDTH = 128;
  private static final int MAX_FRACTION = 512;

  /** Far beyond any format and any double; ten to a power of billions would fill memory. */
  private static final int MAX_SCALE = 10_000;

  public Format {
    if (width < 1 || width > MAX_WIDTH) {
      throw new IllegalArgumentException(
          "Format with " + width + " bits: the width has to be 1 to " + MAX_WIDTH + ".");
    }
    if (fractionBits < -MAX_FRACTION || fractionBits > MAX_FRACTION) {
      throw new IllegalArgumentException(
          "Format with "
              + fractionBits
              + " fraction bits: they have to be -"
              + MAX_FRACTION
              + " to "
              + MAX_FRACTION
              + ".");
    }
  }

  /**
   * A signed format.
   *
   * @param integerBits bits before the point, the sign bit among them
   * @param fractionBits bits behind the point
   * @return a format of {@code integerBits + fractionBits} bits
   */
  public static Format signed(int integerBits, int fractionBits) {
    return new Format(true, sum(integerBits, fractionBits), fractionBits);
  }

  /**
   * An unsigned format.
   *
   * @param integerBits bits before the point
   * @param fractionBits bits behind the point
   * @return a format of {@code integerBits + fractionBits} bits
   */
  public static Format unsigned(int integerBits, int fractionBits) {
    return new Format(false, sum(integerBits, fractionBits), fractionBits);
  }

  /** A width that no format can have stays one: it does not wrap into the range. */
  private static int sum(int integerBits, int fractionBits) {
    return (int)
        Math.max(Integer.MIN_VALUE, Math.min(Integer.MAX_VALUE, (long) integerBits + fractionBits));
  }

  /**
   * One bit: 0 or 1.
   *
   * @return u1.0
   */
  public static Format bit() {
    return new Format(false, 1, 0);
  }

  /**
   * Bits before the point, the sign bit among them.
   *
   * @return width less fraction bits; may be negative
   */
  public int integerBits() {
    return width - fractionBits;
  }

  /**
   * The lowest code.
   *
   * @return 0, or -2<sup>width-1</sup> when signed
   */
  public BigInteger minCode() {
    return signed ? BigInteger.ONE.shiftLeft(width - 1).negate() : BigInteger.ZERO;
  }

  /**
   * The highest code.
   *
   * @return 2<sup>width</sup>-1, or 2<sup>width-1</sup>-1 when signed
   */
  public BigInteger maxCode() {
    return BigInteger.ONE.shiftLeft(signed ? width - 1 : width).subtract(BigInteger.ONE);
  }

  /**
   * Whether a code lies in the range of this format.
   *
   * @param code any integer
   * @return true from {@link #minCode()} to {@link #maxCode()}, both included
   */
  public boolean holds(BigInteger code) {
    return code.compareTo(minCode()) >= 0 && code.compareTo(maxCode()) <= 0;
  }

  /**
   * The distance of two neighbouring codes.
   *
   * @return 2<sup>-fractionBits</sup>
   */
  public double lsbs() {
    return Math.scalb(1.0, -fractionBits);
  }

  /**
   * How many 64-bit words a code takes where values travel as words.
   *
   * @return 1 or 2
   */
  public int words() {
    return (width + 63) / 64;
  }

  /**
   * The word of a code whose bits are among others: its highest word, or its only one.
   *
   * @param bits a word whose low bits are the code's, whatever stands above them
   * @return the bits extended by their sign when signed, by zero else
   */
  public long extend(long bits) {
    int unused = -width & 63;
    return signed ? bits << unused >> unused : bits << unused >>> unused;
  }

  /**
   * The real value of a code of up to 64 bits.
   *
   * @param word the code as one word: sign-extended when signed; the raw bits of an unsigned format
   *     of 64 bits
   * @return the nearest double, exact up to 53 significant bits
   * @throws IllegalArgumentException when the format is wider than a word or does not hold the code
   */
  public double toReal(long word) {
    return toReal(fromWords(word));
  }

  /**
   * The real value of a code.
   *
   * @param code a code of this format
   * @return the nearest double, exact up to 53 significant bits
   * @throws IllegalArgumentException when the format does not hold the code
   */
  public double toReal(BigInteger code) {
    return Math.scalb(checked(code).doubleValue(), -fractionBits);
  }

  /**
   * The exact value of a code.
   *
   * @param code a code of this format
   * @return all its decimals, without trailing zeros
   * @throws IllegalArgumentException when the format does not hold the code
   */
  public BigDecimal toDecimal(BigInteger code) {
    BigDecimal value = new BigDecimal(checked(code));
    BigDecimal unit = new BigDecimal(BigInteger.ONE.shiftLeft(Math.abs(fractionBits)));
    BigDecimal exact = fractionBits >= 0 ? value.divide(unit) : value.multiply(unit);
    return exact.signum() == 0 ? BigDecimal.ZERO : exact.stripTrailingZeros();
  }

  /**
   * The code of a real value.
   *
   * @param value any number; an infinity saturates
   * @param rounding for values between two codes
   * @param overflow for values beyond the range
   * @return a code of this format
   * @throws IllegalArgumentException for NaN, and for an infinity that should wrap
   */
  public BigInteger toCode(double value, Rounding rounding, Overflow overflow) {
    if (Double.isInfinite(value) && overflow == Overflow.SATURATE) {
      return value > 0 ? maxCode() : minCode();
    }
    if (!Double.isFinite(value)) {
      throw new IllegalArgumentException(
          "No code for "
              + value
              + " in "
              + this
              + ": a finite number is needed, or an infinity with SATURATE.");
    }
    return toCode(new BigDecimal(value), rounding, overflow);
  }

  /**
   * The code of an exact value.
   *
   * @param value any number with a scale of {@code -10000} to {@code 10000}
   * @param rounding for values between two codes
   * @param overflow for values beyond the range
   * @return a code of this format
   * @throws IllegalArgumentException for a scale beyond that, whose exact digits could fill memory
   */
  public BigInteger toCode(BigDecimal value, Rounding rounding, Overflow overflow) {
    if (value.scale() < -MAX_SCALE || value.scale() > MAX_SCALE) {
      throw new IllegalArgumentException(
          "No code for a number of scale "
              + value.scale()
              + " in "
              + this
              + ": a scale of -"
              + MAX_SCALE
              + " to "
              + MAX_SCALE
              + " is allowed; round the number first.");
    }
    BigInteger code = value.unscaledValue();
    BigInteger unit = BigInteger.ONE;
    if (value.scale() > 0) {
      unit = BigInteger.TEN.pow(value.scale());
    } else {
      code = code.multiply(BigInteger.TEN.pow(-value.scale()));
    }
    if (fractionBits >= 0) {
      code = code.shiftLeft(fractionBits);
    } else {
      unit = unit.shiftLeft(-fractionBits);
    }
    return overflow.apply(rounding.divide(code, unit), this);
  }

  /**
   * The code that words hold.
   *
   * @param words {@link #words()} of them, little end first: sign-extended when signed; the raw
   *     bits where an unsigned format fills its words
   * @return a code of this format
   * @throws IllegalArgumentException when their number is wrong or the format does not hold the
   *     code
   */
  public BigInteger fromWords(long... words) {
    if (words.length != words()) {
      throw new IllegalArgumentException(
          "Code of "
              + this
              + " from "
              + words.length
              + " words "
              + Arrays.toString(words)
              + ": the format takes "
              + words()
              + ".");
    }
    BigInteger code = BigInteger.valueOf(words[words.length - 1]);
    if (!signed && width % 64 == 0 && code.signum() < 0) {
      code = code.add(BigInteger.ONE.shiftLeft(64));
    }
    for (int i = words.length - 2; i >= 0; i--) {
      BigInteger low = BigInteger.valueOf(words[i]);
      code = code.shiftLeft(64).add(low.signum() < 0 ? low.add(BigInteger.ONE.shiftLeft(64)) : low);
    }
    return checked(code);
  }

  /**
   * The words that hold a code.
   *
   * @param code a code of this format
   * @return {@link #words()} words, little end first, as {@link #fromWords} takes them
   * @throws IllegalArgumentException when the format does not hold the code
   */
  public long[] toWords(BigInteger code) {
    checked(code);
    long[] words = new long[words()];
    for (int i = 0; i < words.length; i++) {
      words[i] = code.shiftRight(64 * i).longValue();
    }
    return words;
  }

  private BigInteger checked(BigInteger code) {
    if (!holds(code)) {
      throw new IllegalArgumentException(
          "Code "
              + code
              + " in "
              + this
              + ": it has to be "
              + minCode()
              + " to "
              + maxCode()
              + ".");
    }
    return code;
  }

  /** The sign as a letter, the integer bits and the fraction bits: s16.16, u1.0. */
  @Override
  public String toString() {
    return (signed ? "s" : "u") + integerBits() + "." + fractionBits;
  }
}
