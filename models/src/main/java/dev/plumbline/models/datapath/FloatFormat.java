package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;

/**
 * A binary floating-point format of 32 bits or fewer: a sign, an exponent, a fraction, as IEEE
 * 754-2019 clause 3.4 lays them out, with subnormals, infinities and NaN.
 *
 * <pre>{@code
 * FloatFormat half = FloatFormat.binary16();
 * long code = half.toCode(0.1);          // 0x2E66
 * double real = half.toReal(0x3C01);     // 1.0009765625
 * Value a = b.input("a", half.bits());   // an operand of a datapath is its code
 * }</pre>
 *
 * <p>Doubles hold every number of such a format, every product of two, and any sum once its last
 * bit says whether something was lost.
 *
 * @param exponentBits 2 to 8
 * @param fractionBits 1 to 23, without the leading one
 */
public record FloatFormat(int exponentBits, int fractionBits) {
  public FloatFormat {
    if (exponentBits < 2 || exponentBits > 8 || fractionBits < 1 || fractionBits > 23) {
      throw new DatapathException(
          "Floating-point format of "
              + exponentBits
              + " exponent and "
              + fractionBits
              + " fraction bits: allowed are 2 to 8 and 1 to 23; take fixed point for others");
    }
  }

  /**
   * Five exponent bits and ten of fraction (IEEE 754-2019, table 3.5).
   *
   * @return binary16
   */
  public static FloatFormat binary16() {
    return new FloatFormat(5, 10);
  }

  /**
   * Eight exponent bits and 23 of fraction (IEEE 754-2019, table 3.5), Java's {@code float}.
   *
   * @return binary32
   */
  public static FloatFormat binary32() {
    return new FloatFormat(8, 23);
  }

  /**
   * Eight exponent bits and seven of fraction: the upper half of a binary32.
   *
   * @return bfloat16
   */
  public static FloatFormat bfloat16() {
    return new FloatFormat(8, 7);
  }

  /**
   * All bits, the sign among them.
   *
   * @return 4 to 32
   */
  public int width() {
    return 1 + exponentBits + fractionBits;
  }

  /**
   * What an operand of this format is to a datapath: its code.
   *
   * @return an unsigned integer of {@link #width()} bits
   */
  public Format bits() {
    return Format.unsigned(width(), 0);
  }

  /**
   * The code of positive infinity.
   *
   * @return all ones in the exponent
   */
  public long infinity() {
    return ((1L << exponentBits) - 1) << fractionBits;
  }

  /**
   * The code that results which are no number have: quiet, positive, without a payload.
   *
   * @return infinity with the highest bit of the fraction set
   */
  public long nan() {
    return infinity() | (1L << (fractionBits - 1));
  }

  /**
   * Whether a code is no number.
   *
   * @param code of this format
   * @return true for quiet and signalling ones
   */
  public boolean isNan(long code) {
    return magnitude(code) > infinity();
  }

  /**
   * Codes at which hardware is most likely wrong, of both signs: zero, ends of the subnormal and of
   * the normal numbers, what is next to one, infinity, a quiet and a signalling NaN. A stimulus
   * that draws codes by chance hardly ever meets two of them at once.
   *
   * @return a new array
   */
  public long[] corners() {
    long step = 1L << fractionBits;
    long one = (long) bias() << fractionBits;
    long[] sizes = {
      0,
      1,
      step - 1,
      step,
      step + 1,
      one - 1,
      one,
      one + 1,
      infinity() - 1,
      infinity(),
      infinity() + 1,
      nan()
    };
    long[] codes = new long[2 * sizes.length];
    for (int i = 0; i < sizes.length; i++) {
      codes[2 * i] = sizes[i];
      codes[2 * i + 1] = sizes[i] | sign();
    }
    return codes;
  }

  long sign() {
    return 1L << (width() - 1);
  }

  long magnitude(long code) {
    return code & (sign() - 1);
  }

  private int bias() {
    return (1 << (exponentBits - 1)) - 1;
  }

  /**
   * The number of a code.
   *
   * @param code of this format
   * @return exactly that, with the sign of a zero; an infinity or NaN
   */
  public double toReal(long code) {
    long fraction = code & ((1L << fractionBits) - 1);
    int exponent = (int) (magnitude(code) >> fractionBits);
    double size;
    if (exponent == (1 << exponentBits) - 1) {
      size = fraction == 0 ? Double.POSITIVE_INFINITY : Double.NaN;
    } else if (exponent == 0) {
      size = fraction * power(1 - bias() - fractionBits);
    } else {
      long bits = ((long) (exponent - bias() + 1023) << 52) | (fraction << (52 - fractionBits));
      size = Double.longBitsToDouble(bits);
    }
    return (code & sign()) != 0 ? -size : size;
  }

  /**
   * The code nearest to a number, to the even one of two that are equally near (IEEE 754-2019,
   * 4.3.1).
   *
   * @param value any double
   * @return its code; infinity from halfway beyond the greatest number on
   */
  public long toCode(double value) {
    if (Double.isNaN(value)) {
      return nan();
    }
    double size = Math.abs(value);
    long below = below(size);
    // Between two codes the number halfway has one bit more than they, so that a double holds it.
    double middle = (real(below) + real(below + 1)) / 2;
    boolean up = below < infinity() && (size > middle || (size == middle && (below & 1) == 1));
    return withSign(below + (up ? 1 : 0), value);
  }

  /** The greatest code whose number is at most one that is not negative. */
  long below(double size) {
    if (size >= real(infinity())) {
      return infinity();
    }
    int least = 1 - bias();
    int exponent = Math.max(Math.getExponent(size), least);
    // Scaled so that codes are whole; subnormal numbers go on below the first exponent.
    long whole = (long) (size * power(fractionBits - exponent));
    return ((long) (exponent - least) << fractionBits) + whole;
  }

  /** The number of a code without its sign, infinity taken for the power of two it stands at. */
  private double real(long size) {
    return size == infinity() ? power(bias() + 1) : toReal(size);
  }

  private long withSign(long size, double value) {
    return Double.doubleToRawLongBits(value) < 0 ? size | sign() : size;
  }

  /** 2 to an exponent within a double's own. */
  private static double power(int exponent) {
    return Double.longBitsToDouble((long) (exponent + 1023) << 52);
  }

  // A number between two codes stands between them on the line of codes as it does among reals, so
  // that an LSB of a code is a unit in the last place. Codes of negative numbers go on above.

  /** Where a number stands on the line of codes. */
  double position(double value) {
    if (Double.isNaN(value)) {
      return Double.NaN;
    }
    double size = Math.abs(value);
    long below = below(size);
    double part = below == infinity() ? 0 : (size - real(below)) / (real(below + 1) - real(below));
    return withSign(below, value) + part;
  }

  /** The number at a place of the line of codes. */
  double atPosition(double position) {
    long code = (long) Math.floor(position);
    double part = position - code;
    if (Double.isNaN(position) || isNan(code)) {
      return Double.NaN;
    }
    long size = magnitude(code);
    if (part == 0 || size == infinity()) {
      return toReal(code);
    }
    double value = real(size) + part * (real(size + 1) - real(size));
    return code == size ? value : -value;
  }

  /** The codes on both sides of a number, or its own twice: the smaller magnitude. */
  long toward(double value) {
    return withSign(below(Math.abs(value)), value);
  }

  /** The greater magnitude. */
  long away(double value) {
    double size = Math.abs(value);
    long below = below(size);
    boolean whole = below == infinity() || real(below) == size;
    return withSign(whole ? below : below + 1, value);
  }

  /** Such as binary16, or the bits of its exponent and fraction. */
  @Override
  public String toString() {
    if (equals(binary16())) {
      return "binary16";
    }
    return equals(binary32())
        ? "binary32"
        : equals(bfloat16()) ? "bfloat16" : "float " + exponentBits + "." + fractionBits;
  }
}
