package dev.plumbline.models.datapath;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.math.BigDecimal;
import java.math.BigInteger;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** What a fixed-point type promises of its operations, over a whole format. */
class AccuracyTest {
  private static final Format FORMAT = Format.signed(4, 3);
  private static final int CODES = 1 << FORMAT.width();

  /** Runs a step on all pairs of codes: case i is code i / CODES and code i % CODES, from min. */
  private static BitEvaluation allPairs(Datapath datapath) {
    BitEvaluation e = datapath.bits(CODES * CODES);
    for (int i = 0; i < CODES * CODES; i++) {
      e.input(0, 0)[i] = (long) i / CODES - CODES / 2;
      e.input(1, 0)[i] = (long) i % CODES - CODES / 2;
    }
    e.run(CODES * CODES);
    return e;
  }

  // Ada Reference Manual (ISO/IEC 8652) G.2.3, strict mode, "perfect result set": exactness as
  // published. The two neighbours follow: a rounding that never falls and keeps what is
  // representable takes a number between two neighbours g and h to at least g and at most h.
  @ParameterizedTest(name = "A11 {0}")
  @EnumSource
  @DisplayName("A11 sums are exact unless they overflow; products and quotients are neighbours")
  void operationsAreExactOrNeighbours(Rounding rounding) {
    Datapath.Builder b = Datapath.named("operations");
    Value x = b.input("x", FORMAT);
    Value y = b.input("y", FORMAT);
    b.output(b.convert("sum", b.add("s", x, y), FORMAT, rounding, Overflow.SATURATE));
    b.output(b.convert("difference", b.subtract("d", x, y), FORMAT, rounding, Overflow.SATURATE));
    b.output(b.convert("magnitude", b.absolute("m", x), FORMAT, rounding, Overflow.SATURATE));
    b.output(b.lessThan("less", x, y));
    b.output(b.convert("product", b.multiply("p", x, y), FORMAT, rounding, Overflow.SATURATE));
    b.output(b.divide("quotient", x, y, FORMAT));
    BitEvaluation e = allPairs(b.build());
    double lsbs = FORMAT.lsbs();
    double min = FORMAT.toReal(FORMAT.minCode());
    double max = FORMAT.toReal(FORMAT.maxCode());
    int compared = 0;
    for (int i = 0; i < CODES * CODES; i++) {
      double left = e.input(0, 0)[i] * lsbs;
      double right = e.input(1, 0)[i] * lsbs;
      compared += exact(left + right, e.output(0, 0)[i] * lsbs, min, max);
      compared += exact(left - right, e.output(1, 0)[i] * lsbs, min, max);
      compared += exact(Math.abs(left), e.output(2, 0)[i] * lsbs, min, max);
      assertEquals(left < right ? 1 : 0, e.output(3, 0)[i]);
      compared += neighbour(left * right, e.output(4, 0)[i] * lsbs, min, max);
      if (right != 0) {
        compared += neighbour(left / right, e.output(5, 0)[i] * lsbs, min, max);
      }
    }
    assertTrue(compared > 3 * CODES * CODES, "compared " + compared);
  }

  private static int exact(double real, double actual, double min, double max) {
    if (real < min || real > max) {
      return 0;
    }
    assertEquals(real, actual);
    return 1;
  }

  private static int neighbour(double real, double actual, double min, double max) {
    if (real < min || real > max) {
      return 0;
    }
    double places = (actual - real) / FORMAT.lsbs();
    assertTrue(Math.abs(places) < 1, real + " gives " + actual);
    return 1;
  }

  // ISO/IEC TR 18037 on fract types, as a compiler manual tabulates their ranges. The exact
  // product, 1, is one LSB above the highest code, and saturated is what goes no further than that.
  @Test
  @DisplayName("A12 a saturating (-1)*(-1) in s1.15 is 0x7FFF")
  void minusOneSquaredSaturates() {
    Format fraction = Format.signed(1, 15);
    Datapath.Builder b = Datapath.named("fraction");
    Value product = b.multiply("p", b.input("x", fraction), b.input("y", fraction));
    b.output(b.convert("z", product, fraction, Rounding.FLOOR, Overflow.SATURATE));
    BitEvaluation e = b.build().bits(1);
    e.input(0, 0)[0] = -32768;
    e.input(1, 0)[0] = -32768;
    e.run(1);
    assertEquals(0x7FFF, e.output(0, 0)[0]);
  }

  // Widrow, Kollar, Liu, IEEE TIM 45(2), 1996, on the columns themselves: a whole 16-bit format.
  @ParameterizedTest(name = "A7 {0}")
  @EnumSource(names = {"FLOOR", "HALF_CEILING", "HALF_EVEN"})
  void columnsHaveTheKnownErrorStatistics(Rounding rounding) {
    int k = 4;
    int codes = 1 << 16;
    Datapath.Builder b = Datapath.named("errors");
    Value x = b.input("x", Format.signed(1, 15));
    b.output(b.convert("y", x, Format.signed(2, 15 - k), rounding, Overflow.SATURATE));
    BitEvaluation e = b.build().bits(codes);
    for (int i = 0; i < codes; i++) {
      e.input(0, 0)[i] = (long) i - codes / 2;
    }
    e.run(codes);
    BigInteger sum = BigInteger.ZERO;
    BigInteger squares = BigInteger.ZERO;
    for (int i = 0; i < codes; i++) {
      BigInteger error = BigInteger.valueOf((e.output(0, 0)[i] << k) - (i - codes / 2));
      sum = sum.add(error);
      squares = squares.add(error.multiply(error));
    }
    // In kept LSB: 1/2^4 each, over 2^16 codes.
    BigDecimal mean = new BigDecimal(sum).divide(new BigDecimal(1 << 20));
    BigDecimal square = new BigDecimal(squares).divide(new BigDecimal(1L << 24));
    switch (rounding) {
      case FLOOR -> {
        assertEquals(-15.0 / 32, mean.doubleValue());
        assertEquals(85.0 / 1024, square.subtract(mean.pow(2)).doubleValue());
      }
      case HALF_CEILING -> {
        assertEquals(1.0 / 32, mean.doubleValue());
        assertEquals(85.0 / 1024, square.subtract(mean.pow(2)).doubleValue());
      }
      default -> {
        assertEquals(0, mean.doubleValue());
        assertEquals(43.0 / 512, square.doubleValue());
      }
    }
  }
}
