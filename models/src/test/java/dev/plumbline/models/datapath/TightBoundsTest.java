package dev.plumbline.models.datapath;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.util.Arrays;
import java.util.function.LongBinaryOperator;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.TestFactory;

/**
 * Bounds that accept everything are a defect: after one rounding of each operand, the bounds of a
 * step are exactly the least and the greatest of what it gives for either way of rounding.
 */
class TightBoundsTest {
  private static final Format FINE = Format.signed(4, 2);
  private static final Format COARSE = Format.signed(4, 0);

  /** Describes a step on two rounded operands. */
  interface Describe {
    Value step(Datapath.Builder b, Value x, Value y);
  }

  private static DynamicTest test(String name, Describe describe, LongBinaryOperator oracle) {
    return DynamicTest.dynamicTest(name, () -> check(describe, oracle));
  }

  private static void check(Describe describe, LongBinaryOperator oracle) {
    // Narrow columns; then two columns each, for the same codes.
    check(describe, oracle, COARSE);
    check(describe, oracle, new Format(true, 90, 0));
  }

  private static void check(Describe describe, LongBinaryOperator oracle, Format format) {
    Datapath.Builder b = Datapath.named("tight");
    Value x = b.convert("x", b.input("a", FINE), format, Rounding.FLOOR, Overflow.SATURATE);
    Value y = b.convert("y", b.input("b", FINE), format, Rounding.HALF_CEILING, Overflow.SATURATE);
    b.output(describe.step(b, x, y));
    BoundsEvaluation e = b.build().bounds(1 << 12);
    for (int i = 0; i < 1 << 12; i++) {
      e.input(0, 0)[i] = (i >> 6) - 32L;
      e.input(1, 0)[i] = (i & 63) - 32L;
    }
    e.run(1 << 12);
    int open = 0;
    for (int i = 0; i < 1 << 12; i++) {
      long[] given = new long[4];
      for (int way = 0; way < 4; way++) {
        given[way] =
            oracle.applyAsLong(
                either(e.input(0, 0)[i], way & 1, format),
                either(e.input(1, 0)[i], way >> 1, format));
      }
      Arrays.sort(given);
      int at = i;
      assertEquals(
          given[0] + " to " + given[3],
          e.low(0, 0)[i] + " to " + e.high(0, 0)[i],
          () -> "quarters " + e.input(0, 0)[at] + ", " + e.input(1, 0)[at]);
      open += given[0] < given[3] ? 1 : 0;
    }
    assertTrue(open > 0);
  }

  /** A quarter-code to its integer below or above, within the format. */
  private static long either(long quarters, int up, Format format) {
    long code = up == 0 ? Math.floorDiv(quarters, 4) : -Math.floorDiv(-quarters, 4);
    return format.equals(COARSE) ? Math.min(code, 7) : code;
  }

  private static long bit(boolean set) {
    return set ? 1 : 0;
  }

  @TestFactory
  Stream<DynamicTest> boundsAreTheHullOfBothWaysOfRounding() {
    return Stream.of(
        test("add", (b, x, y) -> b.add("z", x, y), Long::sum),
        test("subtract", (b, x, y) -> b.subtract("z", x, y), (x, y) -> x - y),
        test("negate", (b, x, y) -> b.negate("z", x), (x, y) -> -x),
        test("absolute", (b, x, y) -> b.absolute("z", x), (x, y) -> Math.abs(x)),
        test("multiply", (b, x, y) -> b.multiply("z", x, y), (x, y) -> x * y),
        test(
            "multiply by a point",
            (b, x, y) -> b.multiply("z", b.constant("k", COARSE, -3), y),
            (x, y) -> -3 * y),
        test("square", (b, x, y) -> b.multiply("z", x, x), (x, y) -> x * x),
        test("minimum", (b, x, y) -> b.minimum("z", x, y), Math::min),
        test("maximum", (b, x, y) -> b.maximum("z", x, y), Math::max),
        test(
            "maximum with zero", (b, x, y) -> b.maximum("z", x, zero(b)), (x, y) -> Math.max(x, 0)),
        test(
            "minimum with zero", (b, x, y) -> b.minimum("z", zero(b), y), (x, y) -> Math.min(y, 0)),
        test(
            "add to a point",
            (b, x, y) -> b.add("z", x, b.constant("k", COARSE, 5)),
            (x, y) -> x + 5),
        test("negative", (b, x, y) -> b.lessThan("z", x, zero(b)), (x, y) -> bit(x < 0)),
        test("positive", (b, x, y) -> b.lessThan("z", zero(b), x), (x, y) -> bit(0 < x)),
        test("not negative", (b, x, y) -> b.atMost("z", zero(b), y), (x, y) -> bit(0 <= y)),
        test("not positive", (b, x, y) -> b.atMost("z", y, zero(b)), (x, y) -> bit(y <= 0)),
        test("zero", (b, x, y) -> b.equal("z", zero(b), x), (x, y) -> bit(x == 0)),
        test("zero too", (b, x, y) -> b.equal("z", x, zero(b)), (x, y) -> bit(x == 0)),
        test("less than", (b, x, y) -> b.lessThan("z", x, y), (x, y) -> bit(x < y)),
        test("at most", (b, x, y) -> b.atMost("z", x, y), (x, y) -> bit(x <= y)),
        test("equal", (b, x, y) -> b.equal("z", x, y), (x, y) -> bit(x == y)),
        test(
            "not and",
            (b, x, y) -> b.not("z", b.and("both", sign(b, x, "p"), sign(b, y, "q"))),
            (x, y) -> bit(!(x < 0 && y < 0))),
        test(
            "or",
            (b, x, y) -> b.or("z", sign(b, x, "p"), sign(b, y, "q")),
            (x, y) -> bit(x < 0 || y < 0)),
        test(
            "select",
            (b, x, y) -> b.select("z", sign(b, x, "p"), b.constant("k", COARSE, 3), y),
            (x, y) -> x < 0 ? 3 : y),
        test(
            "select a lower point",
            (b, x, y) -> points(b, sign(b, x, "p"), -2, 3),
            (x, y) -> x < 0 ? -2 : 3),
        test(
            "select a higher point",
            (b, x, y) -> points(b, sign(b, x, "p"), 4, -5),
            (x, y) -> x < 0 ? 4 : -5));
  }

  private static Value points(Datapath.Builder b, Value condition, long whenTrue, long otherwise) {
    Value some = b.constant("some", COARSE, whenTrue);
    return b.select("z", condition, some, b.constant("other", COARSE, otherwise));
  }

  private static Value zero(Datapath.Builder b) {
    return b.constant("nothing", COARSE, 0);
  }

  private static Value sign(Datapath.Builder b, Value x, String name) {
    return b.lessThan(name, x, b.constant(name + "_zero", COARSE, 0));
  }
}
