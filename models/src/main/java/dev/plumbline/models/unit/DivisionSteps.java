package dev.plumbline.models.unit;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;

/** One over a number by an integer division and the remainder's say on rounding. */
final class DivisionSteps {
  private DivisionSteps() {}

  /** From {@code x} to {@code quotient}, in a format that holds every reciprocal but that of 0. */
  static Datapath describe(Format input, Format output, Rounding rounding) {
    int places = input.fractionBits() + output.fractionBits();
    Datapath.Builder b = Datapath.named("division");
    Value x = b.input("x", input);
    Value negative = b.lessThan("negative", x, b.constant("nought", input, 0));
    Value magnitude = b.absolute("magnitude", x);
    Value one = b.constant("one", Format.bit(), 1);
    Format full = new Format(false, places + 1, output.fractionBits());
    Value floor = b.divide("floor", one, magnitude, full);
    if (rounding != Rounding.TOWARD_ZERO) {
      Value remainder = b.subtract("remainder", one, b.multiply("product", floor, magnitude));
      Value up = up(b, rounding, negative, remainder, magnitude, output.fractionBits());
      Value place = b.scale("place", up, -output.fractionBits());
      floor =
          b.convert(
              "rounded", b.add("stepped", floor, place), full, Rounding.FLOOR, Overflow.SATURATE);
    }
    Value quotient = b.select("with_sign", negative, b.negate("negated", floor), floor);
    b.output("quotient", quotient, new Format(true, places + 2, output.fractionBits()));
    return b.build();
  }

  /** Whether the magnitude goes one LSB up from its floor. */
  private static Value up(
      Datapath.Builder b,
      Rounding rounding,
      Value negative,
      Value remainder,
      Value magnitude,
      int fractionBits) {
    if (rounding == Rounding.FLOOR) {
      Value nothing = b.constant("nothing", Format.bit(), 0);
      return b.and("up", negative, b.lessThan("inexact", nothing, remainder));
    }
    // Half the divisor in LSB of the quotient.
    Value half = b.scale("half", magnitude, -fractionBits - 1);
    Value more = b.lessThan("more", half, remainder);
    Value tieUp = b.atMost("more_or_tie", half, remainder);
    return switch (rounding) {
      case HALF_CEILING -> b.select("up", negative, more, tieUp);
      case HALF_AWAY -> tieUp;
      // A tie lies between 0 and 1 (2^n has no other odd divisor), and 0 is the even one.
      default -> more;
    };
  }
}
