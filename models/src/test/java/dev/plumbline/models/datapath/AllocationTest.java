package dev.plumbline.models.datapath;

import dev.plumbline.models.Allocations;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import org.junit.jupiter.api.Test;

class AllocationTest {
  private static final int CASES = 1024;

  /** A step of every kind, narrow and wide, and a unit. */
  private static Datapath everything() {
    Format wide = Format.signed(40, 30);
    Datapath.Builder b = Datapath.named("everything");
    Value x = b.input("x", Format.signed(8, 8));
    Value y = b.input("y", wide);
    Value sum = b.add("sum", x, y);
    Value difference = b.subtract("difference", sum, b.negate("negated", x));
    Value product = b.multiply("product", x, y);
    Value square = b.multiply("square", x, x);
    Value rounded = b.convert("rounded", product, wide, Rounding.HALF_EVEN, Overflow.SATURATE);
    Value wrapped =
        b.convert("wrapped", difference, Format.signed(4, 4), Rounding.FLOOR, Overflow.WRAP);
    Value root = b.squareRoot("root", b.absolute("size", rounded), Rounding.FLOOR);
    Value chosen =
        b.select("chosen", b.equal("same", wrapped, x), root, b.minimum("less", rounded, y));
    Value quotient = b.divide("quotient", wrapped, x, Format.signed(8, 8));
    Value places = b.constant("places", Format.unsigned(3, 0), 3);
    Unit unit = Unit.of(half(), "y", v -> v[0] / 2, 1);
    Value low = b.field("low", y, 1, 0);
    b.output(b.choose("one", low, x, y, x, b.reinterpret("raw", x, Format.unsigned(8, 8))));
    b.output(b.concatenate("joined", x, b.rotateLeft("turned", x, low)));
    b.output(b.exclusiveOr("differ", y, b.bitNot("other", y))).output(b.ones("ones", y));
    b.output(b.crc("rest", b.reverseBits("mirror", x), y, 0x1021, true));
    Value size = b.absolute("whole", x);
    b.output(b.normalise("top", size, 20)).output(b.leadingZeros("zeros", size, 20));
    b.output(b.exactTable("entry", low, Format.bit(), new long[] {0, 1, 1, 0}));
    b.output(
        b.functionTable("sine", low, Format.signed(2, 9), Rounding.HALF_EVEN, v -> Math.sin(v)));
    b.output(b.shiftRight("right", b.shiftLeft("left", square, places), places));
    b.output(b.not("not", b.or("or", b.lessThan("a", x, y), b.atMost("c", chosen, y))));
    return b.output(b.maximum("larger", quotient, b.unit("unit", unit, x))).build();
  }

  private static Datapath half() {
    Datapath.Builder b = Datapath.named("half");
    Value x = b.scale("scaled", b.input("x", Format.signed(8, 8)), -1);
    b.output(b.convert("y", x, Format.signed(8, 8), Rounding.FLOOR, Overflow.WRAP));
    return b.build();
  }

  @Test
  void runsAllocateNothingForACase() {
    BitEvaluation bits = everything().bits(CASES);
    BoundsEvaluation bounds = everything().bounds(CASES);
    IdealEvaluation ideal = everything().ideal(CASES);
    for (int i = 0; i < CASES; i++) {
      bits.input(0, 0)[i] = i - 500L;
      bounds.input(0, 0)[i] = i - 500L;
      ideal.input(0, 0)[i] = i - 500L;
    }
    Allocations.requireNone(CASES, () -> bits.run(CASES));
    Allocations.requireNone(CASES, () -> bounds.run(CASES));
    Allocations.requireNone(CASES, () -> ideal.run(CASES));
  }
}
