package dev.plumbline.models.unit;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.Evaluated;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import java.util.function.DoubleUnaryOperator;
import java.util.stream.LongStream;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

/**
 * A user's own approximation, described as a datapath of look-ups: straight lines through a table
 * with steps of 2^-8.
 *
 * <p>Error at most h^2/8 of the largest second derivative: Pang, An Introduction to Computational
 * Physics, 2.1; the worst errors were rebuilt independently.
 */
class InterpolationTest {
  private static final int STEP_BITS = 8;
  private static final int OFFSET_BITS = 8;
  private static final int VALUE_BITS = 40;

  @Test
  @DisplayName("B13: 1/x on [1, 2) is 3.7924e-6 off at worst, below 2^-18")
  void reciprocal() {
    check(x -> 1 / x, 2, 3.7924e-6, 0x1p-18);
  }

  @Test
  @DisplayName("B13: the root on [1, 4) is 4.7544e-7 off at worst, below 2^-21")
  void root() {
    check(Math::sqrt, 4, 4.7544e-7, 0x1p-21);
  }

  @Test
  @DisplayName("B13: one over the root on [1, 4) is 1.4236e-6 off at worst, below 3 * 2^-21")
  void reciprocalRoot() {
    check(x -> 1 / Math.sqrt(x), 4, 1.4236e-6, 3 * 0x1p-21);
  }

  private static void check(DoubleUnaryOperator f, int end, double worst, double bound) {
    int fraction = STEP_BITS + OFFSET_BITS;
    long[] codes = LongStream.range(1L << fraction, (long) end << fraction).toArray();
    long[] y = Evaluated.bits(describe(f, end), new long[][] {codes}).codes("y");
    double seen = 0;
    for (int i = 0; i < codes.length; i++) {
      double exact = f.applyAsDouble(Math.scalb((double) codes[i], -fraction));
      seen = Math.max(seen, Math.abs(Math.scalb((double) y[i], -VALUE_BITS) - exact));
    }
    assertEquals(worst, seen, 1e-4 * worst);
    assertTrue(seen < bound, "worst " + seen);
  }

  private static Datapath describe(DoubleUnaryOperator f, int end) {
    int slices = end << STEP_BITS;
    long[] values = new long[slices];
    long[] slopes = new long[slices];
    for (int i = 1 << STEP_BITS; i < slices; i++) {
      values[i] = code(f, i);
      slopes[i] = code(f, i + 1) - values[i];
    }
    Datapath.Builder b = Datapath.named("straight_lines");
    int bits = 2 + STEP_BITS + OFFSET_BITS;
    Value x = b.input("x", Format.unsigned(2, STEP_BITS + OFFSET_BITS));
    int indexBits = Integer.numberOfTrailingZeros(slices);
    Value index = b.field("index", x, OFFSET_BITS + indexBits - 1, OFFSET_BITS);
    Value offset = b.scale("offset", b.field("low", x, OFFSET_BITS - 1, 0), -OFFSET_BITS);
    Value value = b.table("value", index, new Format(true, VALUE_BITS + 3, VALUE_BITS), values);
    Value slope = b.table("slope", index, new Format(true, VALUE_BITS, VALUE_BITS), slopes);
    Value line = b.add("line", value, b.multiply("rise", slope, offset));
    Format result = new Format(true, VALUE_BITS + 3, VALUE_BITS);
    assertEquals(bits, x.format().width());
    b.output(
        "y",
        b.convert(
            "rounded",
            line,
            result,
            dev.plumbline.models.fixed.Rounding.HALF_CEILING,
            dev.plumbline.models.fixed.Overflow.SATURATE));
    return b.build();
  }

  private static long code(DoubleUnaryOperator f, int slice) {
    double x = Math.scalb((double) slice, -STEP_BITS);
    return Math.round(Math.scalb(f.applyAsDouble(x), VALUE_BITS));
  }
}
