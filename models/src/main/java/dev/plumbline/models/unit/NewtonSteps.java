package dev.plumbline.models.unit;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;

/**
 * One over a magnitude by a table, two Newton steps and a correction: the floor, saturated.
 *
 * <p>Every step's value is what its name says it is: D = mantissa in [1/2, 1), estimates of 1/D.
 */
final class NewtonSteps {
  private static final int MANTISSA_BITS = 32;
  private static final int SEED_INDEX_BITS = 8;
  private static final int SEED_BITS = 10;

  /** Fraction bits of each correction 2 - Dr, and of each estimate r(2 - Dr). */
  private static final int[] CORRECTION_BITS = {24, 36};

  private static final int[] ESTIMATE_BITS = {20, 34};

  private NewtonSteps() {}

  /** From {@code magnitude} to {@code quotient}, both unsigned with the word's width and point. */
  static Datapath describe(Format word) {
    int width = word.width();
    int fraction = word.fractionBits();
    Format unsigned = new Format(false, width, fraction);
    Datapath.Builder b = Datapath.named("newton");
    Value magnitude = b.input("magnitude", unsigned, unsigned.minCode(), word.minCode().negate());

    // Of zero every bit leads; it is taken as one less, and the result is not used.
    Value zeros = b.leadingZeros("zeros", magnitude, width);
    Value leading = b.minimum("leading", zeros, integer(b, "most", width - 1L));
    Value places = b.add("places", leading, integer(b, "widening", MANTISSA_BITS - width));
    Value code = b.scale("code", magnitude, fraction);
    Value shifted = b.shiftLeft("shifted", code, places);
    Value bits = b.field("bits", shifted, MANTISSA_BITS - 1, 0);
    Value mantissa = b.scale("mantissa", bits, -MANTISSA_BITS);

    int top = MANTISSA_BITS - 2; // the bit below the leading one
    Value index = b.field("index", bits, top, top - SEED_INDEX_BITS + 1);
    Value estimate =
        b.table(
            "seed",
            index,
            Format.unsigned(1, SEED_BITS),
            MidpointTable.reciprocals(SEED_INDEX_BITS, SEED_BITS));
    Value two = b.constant("two", Format.unsigned(2, 0), 2);
    for (int step = 1; step <= CORRECTION_BITS.length; step++) {
      Value product = b.multiply("product_" + step, mantissa, estimate);
      // Never negative: no estimate exceeds 1/D by more than the seed does.
      Value correction =
          b.convert(
              "correction_" + step,
              b.subtract("distance_" + step, two, product),
              Format.unsigned(2, CORRECTION_BITS[step - 1]),
              Rounding.FLOOR,
              Overflow.SATURATE);
      Value better = b.multiply("better_" + step, estimate, correction);
      Format rounded = Format.unsigned(3, ESTIMATE_BITS[step - 1]);
      estimate = b.convert("estimate_" + step, better, rounded, Rounding.FLOOR, Overflow.SATURATE);
    }

    int estimateBits = ESTIMATE_BITS[ESTIMATE_BITS.length - 1];
    Value most = integer(b, "shift_of_none", estimateBits + width - 2L * fraction);
    Value wanted = b.subtract("shift_wanted", most, leading);
    Value nothing = integer(b, "nothing", 0);
    Value farOver = b.lessThan("far_over", wanted, nothing);
    Value shift = b.maximum("shift", wanted, nothing);
    Value scaled =
        b.scale("aligned", b.shiftRight("shifted_back", estimate, shift), estimateBits - fraction);
    Value all = b.constant("all", unsigned, unsigned.maxCode());
    Value first = b.select("quotient_0", farOver, all, b.minimum("limited", scaled, all));

    Value one = b.constant("one", Format.bit(), 1);
    Value remainder = b.subtract("remainder", one, b.multiply("product", first, magnitude));
    Value place = b.scale("divisor", magnitude, -fraction);
    Value up = b.scale("up", b.atMost("one_more", place, remainder), -fraction);
    Value quotient = b.add("quotient", first, up);
    b.output(
        "quotient", b.convert("saturated", quotient, unsigned, Rounding.FLOOR, Overflow.SATURATE));
    return b.build();
  }

  private static Value integer(Datapath.Builder b, String name, long code) {
    return b.constant(name, Format.unsigned(32, 0), code);
  }
}
