package dev.plumbline.models.program;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.math.BigDecimal;
import java.math.BigInteger;

/** A field's place in the word, and how its bits are scaled. */
record LayoutField(int lowest, Format format) {
  static final String MATERIAL = "material";
  static final String TARGET = "target";
  static final String OPCODE = "opcode";

  /** All ones, at bit 0. */
  BigInteger mask() {
    return BigInteger.ONE.shiftLeft(format.width()).subtract(BigInteger.ONE);
  }

  /** The bit behind the last one. */
  int end() {
    return lowest + format.width();
  }

  /** The bits of a value at their place in the word; null when the field does not hold it. */
  BigInteger bits(BigDecimal value) {
    BigInteger code = exactCode(value, format);
    return code == null ? null : code.and(mask()).shiftLeft(lowest);
  }

  /**
   * One over a number at its place in the word: the nearest code, halves up, saturated; the highest
   * of 0 and less.
   */
  BigInteger inverse(BigDecimal number) {
    if (number.signum() <= 0) {
      return format.maxCode().shiftLeft(lowest);
    }
    // 2^f / (n / 10^s), as twice the quotient and one more, halved: exact, however many places.
    int f = format.fractionBits();
    BigInteger numerator =
        BigInteger.TEN.pow(Math.max(0, number.scale())).shiftLeft(Math.max(0, f));
    BigInteger denominator =
        number
            .unscaledValue()
            .multiply(BigInteger.TEN.pow(Math.max(0, -number.scale())))
            .shiftLeft(Math.max(0, -f));
    BigInteger twice = numerator.shiftLeft(1).divide(denominator);
    BigInteger nearest = twice.add(BigInteger.ONE).shiftRight(1);
    return nearest.min(format.maxCode()).and(mask()).shiftLeft(lowest);
  }

  /** The value that a word has here. */
  BigDecimal value(BigInteger word) {
    BigInteger raw = word.shiftRight(lowest).and(mask());
    boolean negative = format.signed() && raw.testBit(format.width() - 1);
    return format.toDecimal(
        negative ? raw.subtract(BigInteger.ONE.shiftLeft(format.width())) : raw);
  }

  /** The code of a value; null when the format does not hold it exactly. */
  static BigInteger exactCode(BigDecimal value, Format format) {
    BigInteger code = format.toCode(value, Rounding.FLOOR, Overflow.SATURATE);
    return format.toDecimal(code).compareTo(value) == 0 ? code : null;
  }
}
