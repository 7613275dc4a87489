package dev.plumbline.verdict;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import java.math.BigDecimal;
import java.math.BigInteger;
import java.math.MathContext;
import java.math.RoundingMode;

/**
 * Codes as text, the same on every JDK and in every locale.
 *
 * <pre>{@code
 * CodeText.hex(Format.signed(16, 16), code)    // 0xffff8000
 * CodeText.real(Format.signed(16, 16), code)   // -0.5
 * }</pre>
 */
public final class CodeText {
  /** What a spreadsheet keeps of a number. */
  private static final MathContext DIGITS = new MathContext(15, RoundingMode.HALF_EVEN);

  private static final int PLAIN = 20; // longest number written without an exponent

  private CodeText() {}

  /**
   * The bits of a code, as many digits as the format has.
   *
   * @param format the format
   * @param code a code of it
   * @return {@code 0x} and lower-case digits, two's complement
   */
  public static String hex(Format format, BigInteger code) {
    return hex(format.width(), code);
  }

  /**
   * The bits of a code of some width.
   *
   * @param width bits, 1 or more
   * @param code a code of that width
   * @return {@code 0x} and lower-case digits, two's complement
   */
  public static String hex(int width, BigInteger code) {
    String digits = code.mod(BigInteger.ONE.shiftLeft(width)).toString(16);
    return "0x" + "0".repeat((width + 3) / 4 - digits.length()) + digits;
  }

  /**
   * The value of a code as a decimal number.
   *
   * @param format the format
   * @param code a code of it
   * @return at most 15 significant digits, rounded half to even; with an exponent when it would be
   *     long
   */
  public static String real(Format format, BigInteger code) {
    return number(format.toDecimal(code));
  }

  /**
   * The value of an operand's code, in fixed or in floating point.
   *
   * @param operand its formats
   * @param code a code of it
   * @return as {@link #real(Format, BigInteger)}; of floating point also {@code -0}, {@code
   *     Infinity}, {@code -Infinity} and {@code NaN}
   */
  public static String real(Operand operand, BigInteger code) {
    if (operand.floating().isEmpty()) {
      return real(operand.format(), code);
    }
    double value = operand.floating().get().toReal(code.longValue());
    boolean isNumber = Double.isFinite(value);
    String text = isNumber ? number(new BigDecimal(value)) : Double.toString(value);
    return value == 0 && 1 / value < 0 ? "-" + text : text;
  }

  /**
   * An operand's code and its value.
   *
   * @param operand its formats
   * @param code a code of it
   * @return bits, two spaces, value
   */
  public static String both(Operand operand, BigInteger code) {
    return hex(operand.format(), code) + "  " + real(operand, code);
  }

  /**
   * What an operand stands at.
   *
   * @param operand its name and formats
   * @param code a code of it
   * @return name, bits, value
   */
  public static String operand(Operand operand, BigInteger code) {
    return operand.name() + " = " + both(operand, code);
  }

  /**
   * A number of any size.
   *
   * @param value the number
   * @return at most 15 significant digits, rounded half to even; with an exponent when it would be
   *     long
   */
  public static String number(BigDecimal value) {
    BigDecimal rounded = value.round(DIGITS);
    if (rounded.signum() == 0) {
      return "0";
    }
    rounded = rounded.stripTrailingZeros();
    String plain = rounded.toPlainString();
    return plain.length() <= PLAIN ? plain : rounded.toString();
  }
}
