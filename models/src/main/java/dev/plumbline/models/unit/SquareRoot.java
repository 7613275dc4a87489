package dev.plumbline.models.unit;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Unit;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.math.BigInteger;
import java.util.Objects;

/**
 * A square-root unit: the exact integer root, floor or nearest.
 *
 * <pre>{@code
 * Datapath root = SquareRoot.of(Format.signed(16, 16)).datapath();
 * Datapath nearest =
 *     SquareRoot.between(Format.unsigned(32, 0), Format.unsigned(16, 8))
 *         .withRounding(Rounding.HALF_CEILING)
 *         .datapath();
 * }</pre>
 *
 * <p>Operand {@code x}; results {@code root} and, where the operand is signed, {@code negative} (a
 * bit: the operand was below zero). With formats of F fraction bits the code of the root is the
 * floor of sqrt(code * 2<sup>F</sup>), which is what a restoring digit recurrence gives, one bit a
 * stage (M. Ercegovac and T. Lang, "Digital Arithmetic", 2004). {@link Rounding#FLOOR} and {@link
 * Rounding#TOWARD_ZERO} are that floor; every other mode takes the nearest code. A root in a format
 * of its operand's or more fraction bits never lies half-way; one in fewer can, and goes as
 * declared.
 *
 * <p>The formats may be any whose radicand fits 128 bits. A root beyond its format saturates; in
 * its operand's own format, if that has a whole part of one bit or more, none is beyond.
 */
public final class SquareRoot {
  private final Format input;
  private final Format output;
  private final Rounding rounding;
  private final AtNegative atNegative;

  /** What a negative operand gives. */
  public enum AtNegative {
    /** Zero. */
    ZERO,
    /** The root of its magnitude. */
    MAGNITUDE
  }

  private SquareRoot(Format input, Format output, Rounding rounding, AtNegative atNegative) {
    this.input = Objects.requireNonNull(input, "input");
    this.output = Objects.requireNonNull(output, "output");
    this.rounding = Objects.requireNonNull(rounding, "rounding");
    this.atNegative = Objects.requireNonNull(atNegative, "atNegative");
  }

  /**
   * A root in its operand's own format: floor, and zero for negative operands.
   *
   * @param format of operand and root
   * @return a description to make a datapath of
   */
  public static SquareRoot of(Format format) {
    return between(format, format);
  }

  /**
   * A root in another format: floor, and zero for negative operands.
   *
   * @param input format of the operand
   * @param output format of the root; a root beyond it saturates
   * @return a description to make a datapath of
   */
  public static SquareRoot between(Format input, Format output) {
    return new SquareRoot(input, output, Rounding.FLOOR, AtNegative.ZERO);
  }

  /**
   * The same unit with another rounding.
   *
   * @param rounding FLOOR or TOWARD_ZERO for the floor, any other for the nearest
   * @return a description
   */
  public SquareRoot withRounding(Rounding rounding) {
    return new SquareRoot(input, output, rounding, atNegative);
  }

  /**
   * The same unit with another result to negative operands.
   *
   * @param atNegative what they give
   * @return a description
   */
  public SquareRoot withAtNegative(AtNegative atNegative) {
    return new SquareRoot(input, output, rounding, atNegative);
  }

  /**
   * The unit as a datapath.
   *
   * @return steps {@code negative}, {@code magnitude}, {@code radicand}, {@code root}
   * @throws dev.plumbline.models.datapath.DatapathException when the radicand is too wide
   */
  public Datapath datapath() {
    Datapath.Builder b = Datapath.named("square_root");
    Value x = b.input("x", input);
    Value magnitude = x;
    if (input.signed()) {
      Value zero = b.constant("nought", Format.unsigned(1, 0), 0);
      b.output(b.lessThan("negative", x, zero));
      magnitude =
          atNegative == AtNegative.ZERO
              ? b.maximum("magnitude", x, zero)
              : b.absolute("magnitude", x);
    }
    b.output("root", root(b, magnitude));
    return b.build();
  }

  /**
   * The unit as one step of other datapaths, within one LSB of the root.
   *
   * @return a unit that takes x and gives the root
   */
  public Unit unit() {
    Unit unit = Unit.of(datapath(), "root", x -> Math.sqrt(real(x[0])), 1);
    return atNegative == AtNegative.ZERO ? unit : unit.exceptAt(0);
  }

  private double real(double x) {
    return atNegative == AtNegative.ZERO ? Math.max(x, 0) : Math.abs(x);
  }

  private Value root(Datapath.Builder b, Value magnitude) {
    int wanted = 2 * output.fractionBits();
    if (input.fractionBits() <= wanted) {
      Value root = b.squareRoot("full_root", b.extend("radicand", magnitude, wanted), rounding);
      return b.convert("root", root, output, Rounding.FLOOR, Overflow.SATURATE);
    }
    // The floor at finer places, rounded once more, is the true root rounded, unless it lies
    // half-way and the true root above: a tie is one only where the floor is the root itself.
    Value fine = b.squareRoot("full_root", magnitude, Rounding.FLOOR);
    if (rounding != Rounding.HALF_EVEN) {
      return b.convert("root", fine, output, rounding, Overflow.SATURATE);
    }
    Value tied = b.convert("tied", fine, output, rounding, Overflow.SATURATE);
    Value up = b.convert("up", fine, output, Rounding.HALF_CEILING, Overflow.SATURATE);
    return b.select("root", exact(b, fine, magnitude), tied, up);
  }

  /** Whether a floor of the root is the root. */
  private static Value exact(Datapath.Builder b, Value floor, Value magnitude) {
    // What the greatest floor squares to fits wherever its operand did.
    BigInteger greatest =
        magnitude.max().shiftLeft(2 * floor.format().fractionBits() - fraction(magnitude)).sqrt();
    Value limit = b.constant("greatest_root", floor.format(), greatest);
    Value limited = b.minimum("limited_root", floor, limit);
    return b.equal("exact", b.multiply("square", limited, limited), magnitude);
  }

  private static int fraction(Value value) {
    return value.format().fractionBits();
  }
}
