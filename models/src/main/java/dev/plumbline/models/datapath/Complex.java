package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;

/**
 * A complex number of two values; its steps are named {@code name_re} and {@code name_im}.
 *
 * <pre>{@code
 * Complex a = Complex.input(b, "a", Format.signed(1, 15));
 * Complex turned = a.multiply(b, "turned", Complex.input(b, "w", Format.signed(2, 14)));
 * Complex y = turned.convert(b, "y", Format.signed(2, 14), Rounding.HALF_EVEN, Overflow.SATURATE);
 * }</pre>
 *
 * @param re the real part
 * @param im the imaginary part
 */
public record Complex(Value re, Value im) {
  /**
   * Two inputs of one format.
   *
   * @param b describes the datapath
   * @param name what their names begin with
   * @param format of both
   * @return the number
   */
  public static Complex input(Datapath.Builder b, String name, Format format) {
    return new Complex(b.input(name + "_re", format), b.input(name + "_im", format));
  }

  /**
   * The exact sum.
   *
   * @param b describes the datapath
   * @param name what the steps' names begin with
   * @param other a number
   * @return this + other
   */
  public Complex add(Datapath.Builder b, String name, Complex other) {
    return new Complex(b.add(name + "_re", re, other.re), b.add(name + "_im", im, other.im));
  }

  /**
   * The exact difference.
   *
   * @param b describes the datapath
   * @param name what the steps' names begin with
   * @param other a number
   * @return this - other
   */
  public Complex subtract(Datapath.Builder b, String name, Complex other) {
    return new Complex(
        b.subtract(name + "_re", re, other.re), b.subtract(name + "_im", im, other.im));
  }

  /**
   * The exact product, of four products {@code name_rr}, {@code name_ii}, {@code name_ri}, {@code
   * name_ir}.
   *
   * @param b describes the datapath
   * @param name what the steps' names begin with
   * @param other a number
   * @return this * other
   */
  public Complex multiply(Datapath.Builder b, String name, Complex other) {
    Value rr = b.multiply(name + "_rr", re, other.re);
    Value ii = b.multiply(name + "_ii", im, other.im);
    Value ri = b.multiply(name + "_ri", re, other.im);
    Value ir = b.multiply(name + "_ir", im, other.re);
    return new Complex(b.subtract(name + "_re", rr, ii), b.add(name + "_im", ri, ir));
  }

  /**
   * The number with the other sign of its imaginary part.
   *
   * @param b describes the datapath
   * @param name what the step's name begins with
   * @return the conjugate
   */
  public Complex conjugate(Datapath.Builder b, String name) {
    return new Complex(re, b.negate(name + "_im", im));
  }

  /**
   * The square of the magnitude, of two squares {@code name_rr} and {@code name_ii}.
   *
   * @param b describes the datapath
   * @param name of the step
   * @return re * re + im * im
   */
  public Value square(Datapath.Builder b, String name) {
    return b.add(name, b.multiply(name + "_rr", re, re), b.multiply(name + "_ii", im, im));
  }

  /**
   * Both parts brought into a format.
   *
   * @param b describes the datapath
   * @param name what the steps' names begin with
   * @param format of both
   * @param rounding for values between two codes
   * @param overflow for values beyond the range
   * @return the number
   */
  public Complex convert(
      Datapath.Builder b, String name, Format format, Rounding rounding, Overflow overflow) {
    return new Complex(
        b.convert(name + "_re", re, format, rounding, overflow),
        b.convert(name + "_im", im, format, rounding, overflow));
  }
}
