package dev.plumbline.models.unit;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Unit;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.util.Objects;

/**
 * A reciprocal unit: 1/x, correctly rounded.
 *
 * <pre>{@code
 * Datapath pipeline = Reciprocal.newton(32, 16).datapath();
 * Reciprocal inverse =
 *     Reciprocal.between(Format.signed(2, 16), Format.signed(16, 16))
 *         .withRounding(Rounding.HALF_CEILING)
 *         .withAtZero(Reciprocal.AtZero.ZERO);
 * Unit step = inverse.unit();          // 1/x as one step of another datapath
 * }</pre>
 *
 * <p>Operand {@code x}; results {@code y}, {@code zero} (a bit: the operand was zero) and {@code
 * overflow} (a bit: the reciprocal lies beyond the output format, or the operand was zero). With
 * formats of F fraction bits the code of the reciprocal is 2<sup>2F</sup> over the operand's code.
 * Ideally y is 1/x, clamped where it saturates; in bounds it may be one LSB off either way; in bits
 * it is the quotient rounded as declared.
 *
 * <p>{@link #between} serves any unit that rounds correctly, whatever its insides. {@link #newton}
 * also gives the steps of one: a look-up and two Newton steps.
 */
public final class Reciprocal {
  private static final int MAX_PLACES = 62;

  private final Format input;
  private final Format output;
  private final Rounding rounding;
  private final Overflow overflow;
  private final AtZero atZero;
  private final boolean newton;

  /** What an operand of zero gives. */
  public enum AtZero {
    /** The highest code of the output. */
    LARGEST,
    /** Zero. */
    ZERO
  }

  private Reciprocal(
      Format input,
      Format output,
      Rounding rounding,
      Overflow overflow,
      AtZero atZero,
      boolean newton) {
    this.input = Objects.requireNonNull(input, "input");
    this.output = Objects.requireNonNull(output, "output");
    this.rounding = Objects.requireNonNull(rounding, "rounding");
    this.overflow = Objects.requireNonNull(overflow, "overflow");
    this.atZero = Objects.requireNonNull(atZero, "atZero");
    this.newton = newton;
    int places = input.fractionBits() + output.fractionBits();
    if (places < 0 || places > MAX_PLACES || input.width() > 63 || output.width() > 63) {
      throw new IllegalArgumentException(
          "Reciprocal from "
              + input
              + " to "
              + output
              + ": both have to be within 63 bits, and their fraction bits 0 to "
              + MAX_PLACES
              + " together; give formats with fewer bits.");
    }
    if (newton && (rounding != Rounding.TOWARD_ZERO || overflow != Overflow.SATURATE)) {
      throw new IllegalArgumentException(
          "Reciprocal by Newton steps with "
              + rounding
              + " and "
              + overflow
              + ": the steps give TOWARD_ZERO and SATURATE; take between(...) for others.");
    }
  }

  /**
   * A reciprocal of which only the result is declared: rounded towards zero, saturating, zero gives
   * the largest code.
   *
   * @param input format of the operand, up to 63 bits
   * @param output format of the reciprocal, up to 63 bits; an unsigned one has 0 for negative
   *     operands where it saturates
   * @return a description to make a datapath or a unit of
   * @throws IllegalArgumentException when the fraction bits of both are negative or above 62
   *     together
   */
  public static Reciprocal between(Format input, Format output) {
    return new Reciprocal(
        input, output, Rounding.TOWARD_ZERO, Overflow.SATURATE, AtZero.LARGEST, false);
  }

  /**
   * A reciprocal in one signed format by a look-up and two Newton steps, with every step named.
   *
   * <p>The first guess is the midpoint reciprocal of one of 256 slices (D. Das Sarma and D. Matula,
   * IEEE Transactions on Computers 43(8), 1994); a step r(2 - Dr) squares the relative error and
   * never exceeds 1/D. Cut to the declared bits, the second estimate is the floor of the quotient
   * or one below it; the remainder shows which. The result is the floor of the magnitude,
   * saturated, with the operand's sign; zero gives the largest code.
   *
   * @param width bits of the word, 8 to 32
   * @param fractionBits bits behind the point, 0 to width - 1
   * @return a description to make a datapath or a unit of
   */
  public static Reciprocal newton(int width, int fractionBits) {
    if (width < 8 || width > 32 || fractionBits < 0 || fractionBits >= width) {
      throw new IllegalArgumentException(
          "Reciprocal by Newton steps in "
              + width
              + " bits with "
              + fractionBits
              + " fraction bits: the width has to be 8 to 32, the fraction bits 0 to width - 1.");
    }
    Format word = new Format(true, width, fractionBits);
    return new Reciprocal(
        word, word, Rounding.TOWARD_ZERO, Overflow.SATURATE, AtZero.LARGEST, true);
  }

  /**
   * The same unit with another rounding.
   *
   * @param rounding for quotients between two codes, which they are unless x is a power of two
   * @return a description
   * @throws IllegalArgumentException for Newton steps, unless it is TOWARD_ZERO
   */
  public Reciprocal withRounding(Rounding rounding) {
    return new Reciprocal(input, output, rounding, overflow, atZero, newton);
  }

  /**
   * The same unit with another result where the reciprocal lies beyond the output format.
   *
   * @param overflow what it gives then
   * @return a description
   * @throws IllegalArgumentException for Newton steps, unless it is SATURATE
   */
  public Reciprocal withOverflow(Overflow overflow) {
    return new Reciprocal(input, output, rounding, overflow, atZero, newton);
  }

  /**
   * The same unit with another result to zero.
   *
   * @param atZero what it gives
   * @return a description
   */
  public Reciprocal withAtZero(AtZero atZero) {
    return new Reciprocal(input, output, rounding, overflow, atZero, newton);
  }

  /**
   * The format of the operand.
   *
   * @return as described
   */
  public Format input() {
    return input;
  }

  /**
   * The format of the reciprocal.
   *
   * @return as described
   */
  public Format output() {
    return output;
  }

  /**
   * The unit as a datapath.
   *
   * @return steps {@code zero}, {@code quotient}, {@code y}, {@code overflow} and others; those
   *     that make the quotient are found as {@code quotient.remainder} and so on
   */
  public Datapath datapath() {
    Datapath.Builder b = Datapath.named("reciprocal");
    Value x = b.input("x", input);
    Value nought = b.constant("nought", input, 0);
    Value zero = b.equal("zero", x, nought);
    Value quotient = newton ? newton(b, x, nought) : b.unit("quotient", division(), x);
    Value highest = b.constant("highest", output, output.maxCode());
    Value lowest = b.constant("lowest", output, output.minCode());
    Value beyond =
        b.or(
            "beyond",
            b.lessThan("above", highest, quotient),
            b.lessThan("below", quotient, lowest));
    Value limited = b.convert("limited", quotient, output, Rounding.FLOOR, overflow);
    Value atNought = atZero == AtZero.LARGEST ? highest : b.constant("none", output, 0);
    b.output(b.select("y", zero, atNought, limited));
    b.output(zero);
    b.output(b.or("overflow", beyond, zero));
    return b.build();
  }

  /**
   * The unit as one step of other datapaths, within one LSB of 1/x.
   *
   * @return a unit that takes x and gives y
   * @throws IllegalStateException when reciprocals beyond the output format wrap
   */
  public Unit unit() {
    if (overflow == Overflow.WRAP) {
      throw new IllegalStateException(
          "Unit of a reciprocal from "
              + input
              + " to "
              + output
              + " that wraps: it is no function near 1/x; declare SATURATE, or use its datapath.");
    }
    double atNought = atZero == AtZero.LARGEST ? Double.POSITIVE_INFINITY : 0;
    return Unit.of(datapath(), "y", x -> x[0] == 0 ? atNought : 1 / x[0], 1)
        .boundedBy(ReciprocalBounds.of(input, output, atZero));
  }

  private Value newton(Datapath.Builder b, Value x, Value nought) {
    Value negative = b.lessThan("negative", x, nought);
    Value magnitude = b.absolute("magnitude", x);
    Value quotient = b.unit("quotient", quotientUnit(NewtonSteps.describe(input)), magnitude);
    return b.select("with_sign", negative, b.negate("negated", quotient), quotient);
  }

  private Unit division() {
    return quotientUnit(DivisionSteps.describe(input, output, rounding));
  }

  /** One over an operand; at zero, where the result is not used, it may be anything. */
  private static Unit quotientUnit(Datapath datapath) {
    Format operand = datapath.inputs().get(0).format();
    Format quotient = datapath.outputs().get(0).format();
    return Unit.of(datapath, "quotient", x -> 1 / x[0], 1)
        .boundedBy(ReciprocalBounds.openAtZero(operand, quotient));
  }
}
