package dev.plumbline.models.fixed;

import java.math.BigInteger;

/**
 * What happens to a value beyond the range of its format.
 *
 * <pre>{@code
 * Overflow.SATURATE.apply(BigInteger.valueOf(40000), Format.signed(1, 15));   // 32767
 * }</pre>
 */
public enum Overflow {
  /** The high bits are dropped (two's complement). */
  WRAP,
  /** The nearest end of the range is taken. */
  SATURATE;

  /**
   * Brings a code into a format.
   *
   * @param code a code of any size, in LSB of the format
   * @param format where it has to fit
   * @return the code itself when it fits, else what this rule makes of it
   */
  public BigInteger apply(BigInteger code, Format format) {
    if (this == SATURATE) {
      return code.max(format.minCode()).min(format.maxCode());
    }
    BigInteger span = BigInteger.ONE.shiftLeft(format.width());
    BigInteger low = code.mod(span);
    return format.signed() && low.testBit(format.width() - 1) ? low.subtract(span) : low;
  }
}
