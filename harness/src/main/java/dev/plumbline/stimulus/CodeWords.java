package dev.plumbline.stimulus;

import dev.plumbline.models.fixed.Format;
import java.math.BigDecimal;
import java.math.BigInteger;
import java.math.RoundingMode;

/** Codes as whole numbers and as the words of a column. */
final class CodeWords {
  private CodeWords() {}

  /** The low bits of a number, read as the format reads them. */
  static BigInteger wrap(Format format, BigInteger number) {
    BigInteger modulus = BigInteger.ONE.shiftLeft(format.width());
    BigInteger code = number.mod(modulus);
    return code.compareTo(format.maxCode()) > 0 ? code.subtract(modulus) : code;
  }

  /** The highest code at or below a value; may lie outside the format. */
  static BigInteger floor(Format format, BigDecimal value) {
    return scaled(format, value).setScale(0, RoundingMode.FLOOR).toBigIntegerExact();
  }

  /** The lowest code at or above a value; may lie outside the format. */
  static BigInteger ceiling(Format format, BigDecimal value) {
    return scaled(format, value).setScale(0, RoundingMode.CEILING).toBigIntegerExact();
  }

  private static BigDecimal scaled(Format format, BigDecimal value) {
    int fraction = format.fractionBits();
    BigDecimal unit = new BigDecimal(BigInteger.ONE.shiftLeft(Math.abs(fraction)));
    return fraction >= 0 ? value.multiply(unit) : value.divide(unit);
  }

  static BigDecimal finite(double value) {
    if (Double.isNaN(value) || Double.isInfinite(value)) {
      throw new IllegalArgumentException(
          "The value " + value + " has no code in any format; finite values are allowed.");
    }
    return new BigDecimal(value);
  }

  static BigInteger exact(Format format, double value) {
    BigDecimal decimal = finite(value);
    BigInteger code = floor(format, decimal);
    if (!code.equals(ceiling(format, decimal))) {
      throw new IllegalArgumentException(
          "The value "
              + value
              + " lies between two codes of "
              + format
              + "; whole multiples of its LSB are allowed. Round it first.");
    }
    return code;
  }

  /** Fills the words above the first with its sign, or with zero. */
  static void extend(long[][] words, int from, int to, boolean signed) {
    for (int word = 1; word < words.length; word++) {
      for (int row = from; row < to; row++) {
        words[word][row] = signed ? words[0][row] >> 63 : 0;
      }
    }
  }
}
