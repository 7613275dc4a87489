package dev.plumbline.models.datapath;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.Allocations;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.math.BigInteger;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * Floating point against the JDK's own {@code float}, against exact rationals over whole small
 * formats, and against double arithmetic rounded again in another way. For sums, products,
 * quotients and roots of p bits, rounding to 53 bits first does no harm as 53 &gt;= 2p + 2 (S.
 * Figueroa, When is double rounding innocuous?, ACM SIGNUM Newsletter 30(3), 1995), which holds for
 * the 11 bits of a binary16; of a fused product and sum it says nothing.
 */
class FloatTest {
  private static final FloatFormat HALF = FloatFormat.binary16();
  private static final FloatFormat SINGLE = FloatFormat.binary32();
  private static final List<String> OPERATIONS =
      List.of("add", "subtract", "multiply", "divide", "fused", "root");

  /** All operations of one format, one output each. */
  private static Datapath operations(FloatFormat f) {
    Datapath.Builder b = Datapath.named("operations");
    Value x = b.input("x", f.bits());
    Value y = b.input("y", f.bits());
    Value z = b.input("z", f.bits());
    b.output(b.floatAdd("add", f, x, y)).output(b.floatSubtract("subtract", f, x, y));
    b.output(b.floatMultiply("multiply", f, x, y)).output(b.floatDivide("divide", f, x, y));
    b.output(b.floatFused("fused", f, x, y, z)).output(b.floatRoot("root", f, x));
    b.output(b.floatLessThan("less", f, x, y)).output(b.floatAtMost("most", f, x, y));
    return b.output(b.floatEqual("equal", f, x, y)).build();
  }

  /** Ends of the format, neighbours of ends, and what is near another operand. */
  private static long draw(FloatFormat f, Random random, long near) {
    long all = (1L << f.width()) - 1;
    long sign = random.nextBoolean() ? f.sign() : 0;
    return switch (random.nextInt(8)) {
      case 0 -> sign | random.nextInt(3);
      case 1 -> sign | (f.infinity() - 1 + random.nextInt(3));
      case 2 -> sign | ((1L << f.fractionBits()) - 1 + random.nextInt(3));
      case 3 -> (near ^ sign) + random.nextInt(3) & all;
      case 4 -> (near ^ sign ^ (long) random.nextInt(4) << f.fractionBits()) & all;
      case 5 -> sign | (f.nan() >> 1 & ~((1L << f.fractionBits()) - 1)) | random.nextInt(2);
      default -> random.nextLong() & all;
    };
  }

  static long[][] drawn(FloatFormat f, int cases, long seed) {
    Random random = new Random(seed);
    long[][] in = new long[3][cases];
    for (int i = 0; i < cases; i++) {
      in[0][i] = draw(f, random, 0);
      in[1][i] = draw(f, random, in[0][i]);
      double product = f.toReal(in[0][i]) * f.toReal(in[1][i]);
      in[2][i] = draw(f, random, f.toCode(product));
    }
    return in;
  }

  private interface Oracle {
    /** The code of an operation, by its place in the list. */
    long code(int operation, long x, long y, long z);
  }

  private static void check(FloatFormat f, long[][] in, int operations, Oracle oracle) {
    int cases = in[0].length;
    BitEvaluation bits = operations(f).bits(cases);
    for (int k = 0; k < 3; k++) {
      System.arraycopy(in[k], 0, bits.input(k, 0), 0, cases);
    }
    bits.run(cases);
    for (int operation = 0; operation < operations; operation++) {
      long[] given = bits.output(operation, 0);
      for (int i = 0; i < cases; i++) {
        long expected = oracle.code(operation, in[0][i], in[1][i], in[2][i]);
        if (expected != given[i]) {
          String row = OPERATIONS.get(operation) + " of " + f;
          row += String.format(" %x %x %x", in[0][i], in[1][i], in[2][i]);
          assertEquals(Long.toHexString(expected), Long.toHexString(given[i]), row);
        }
      }
    }
  }

  @Test
  void binary32IsTheFloatOfTheJdkBitForBit() {
    check(SINGLE, drawn(SINGLE, 200_000, 1), 6, FloatTest::jdk);
  }

  private static long jdk(int operation, long x, long y, long z) {
    float a = Float.intBitsToFloat((int) x);
    float b = Float.intBitsToFloat((int) y);
    float result =
        switch (operation) {
          case 0 -> a + b;
          case 1 -> a - b;
          case 2 -> a * b;
          case 3 -> a / b;
          case 4 -> Math.fma(a, b, Float.intBitsToFloat((int) z));
          default -> (float) Math.sqrt(a);
        };
    return Float.floatToIntBits(result) & 0xFFFFFFFFL;
  }

  /**
   * (1 + 2^-h)(1 + 2^-k) with h + k one more than the fraction's bits lies halfway between two
   * numbers; what is added is far too small for a double beside it, and decides all the same.
   */
  private static long[][] halfwayProducts(FloatFormat f) {
    int bits = f.fractionBits();
    int least = 1 - bits;
    long[][] in = new long[3][8 * bits];
    for (int h = 1; h <= bits; h++) {
      for (int i = 0; i < 8; i++) {
        int row = 8 * (h - 1) + i;
        double sign = (i & 1) == 0 ? 1 : -1;
        in[0][row] = f.toCode(sign * (1 + Math.pow(2, -h)));
        in[1][row] = f.toCode(1 + Math.pow(2, h - bits - 1));
        double tiny = (i & 4) == 0 ? f.toReal(1) : Math.pow(2, least - 60);
        in[2][row] = f.toCode((i & 2) == 0 ? tiny : -tiny);
      }
    }
    return in;
  }

  @Test
  void aRestTooSmallForADoubleDecidesATie() {
    check(SINGLE, halfwayProducts(SINGLE), 6, FloatTest::jdk);
    for (int bits = 2; bits < 24; bits++) {
      FloatFormat f = new FloatFormat(8, bits);
      checkExact(f, halfwayProducts(f));
    }
  }

  @Test
  void decisionsAreThoseOfTheJdk() {
    long[][] in = drawn(SINGLE, 20_000, 2);
    BitEvaluation bits = operations(SINGLE).bits(20_000);
    System.arraycopy(in[0], 0, bits.input(0, 0), 0, 20_000);
    System.arraycopy(in[1], 0, bits.input(1, 0), 0, 20_000);
    bits.run(20_000);
    for (int i = 0; i < 20_000; i++) {
      float a = Float.intBitsToFloat((int) in[0][i]);
      float b = Float.intBitsToFloat((int) in[1][i]);
      assertEquals(a < b, bits.output(6, 0)[i] == 1);
      assertEquals(a <= b, bits.output(7, 0)[i] == 1);
      assertEquals(a == b, bits.output(8, 0)[i] == 1);
    }
  }

  private static Oracle doubles(FloatFormat f) {
    return (operation, x, y, z) -> {
      double a = FloatOracle.number(f, x);
      double b = FloatOracle.number(f, y);
      return FloatOracle.nearest(
          f,
          switch (operation) {
            case 0 -> a + b;
            case 1 -> a - b;
            case 2 -> a * b;
            case 3 -> a / b;
            case 5 -> Math.sqrt(a);
            default -> throw new AssertionError();
          });
    };
  }

  @Test
  void everyCodeOfABinary16IsReadAndHasItsRoot() {
    long[][] in = new long[3][1 << 16];
    for (int code = 0; code < 1 << 16; code++) {
      in[0][code] = code;
      in[1][code] = code * 40503L & 0xFFFF;
      assertEquals(FloatOracle.number(HALF, code), HALF.toReal(code));
      assertEquals(HALF.isNan(code) ? HALF.nan() : code, HALF.toCode(HALF.toReal(code)));
    }
    BitEvaluation bits = operations(HALF).bits(1 << 16);
    System.arraycopy(in[0], 0, bits.input(0, 0), 0, 1 << 16);
    bits.run(1 << 16);
    for (int code = 0; code < 1 << 16; code++) {
      assertEquals(
          FloatOracle.nearest(HALF, Math.sqrt(FloatOracle.number(HALF, code))),
          bits.output(5, 0)[code]);
    }
    check(HALF, in, 4, doubles(HALF));
  }

  @Test
  void binary16IsWhatDoublesRoundedAgainGive() {
    check(HALF, drawn(HALF, 200_000, 3), 4, doubles(HALF));
  }

  @Test
  @Tag("thorough")
  void manyPairsOfBinary16() {
    long[][] in = new long[3][1 << 16];
    for (int x = 0; x < 1 << 16; x += 512) {
      for (int y = 0; y < 1 << 16; y++) {
        in[0][y] = x + (y * 7L + x / 16) % 512;
        in[1][y] = y;
      }
      check(HALF, in, 4, doubles(HALF));
    }
  }

  @Test
  void smallAndLargeFormatsAreExactRationalsRoundedOnce() {
    for (FloatFormat f :
        List.of(new FloatFormat(2, 1), new FloatFormat(3, 2), new FloatFormat(4, 3))) {
      int codes = 1 << f.width();
      int cases = codes * codes;
      long[][] in = new long[3][cases];
      for (int i = 0; i < cases; i++) {
        in[0][i] = i % codes;
        in[1][i] = i / codes;
        in[2][i] = (i * 31L + i / codes) % codes;
      }
      checkExact(f, in);
    }
    for (FloatFormat f :
        List.of(
            HALF,
            FloatFormat.bfloat16(),
            SINGLE,
            new FloatFormat(6, 9),
            new FloatFormat(8, 1),
            new FloatFormat(2, 23))) {
      checkExact(f, drawn(f, 3_000, f.hashCode()));
    }
  }

  private static void checkExact(FloatFormat f, long[][] in) {
    check(
        f,
        in,
        6,
        (operation, x, y, z) -> {
          if (!FloatOracle.special(f, operation, x, y, z)) {
            return FloatOracle.exact(f, operation, x, y, z);
          }
          double a = FloatOracle.number(f, x);
          double b = FloatOracle.number(f, y);
          // No rounding is left to do: zeros, infinities and what is no number, as doubles have
          // them.
          return FloatOracle.nearest(
              f,
              switch (operation) {
                case 0 -> a + b;
                case 1 -> a - b;
                case 2 -> a * b;
                case 3 -> a / b;
                case 4 -> Math.fma(a, b, FloatOracle.number(f, z));
                default -> Math.sqrt(a);
              });
        });
  }

  /** IEEE 754-2019: parameters of table 3.5, and the special cases of clauses 6 and 7. */
  @Test
  @DisplayName("A13: codes and special cases of small floating-point formats")
  void publishedCodesAndSpecialCases() {
    assertEquals(65504, HALF.toReal(0x7BFF));
    assertEquals(0x1p-14, HALF.toReal(0x0400));
    assertEquals(0x1p-24, HALF.toReal(0x0001));
    assertEquals(0x3555, HALF.toCode(1 / 3.0));
    assertEquals(0x7C00, HALF.toCode(65520)); // halfway to 65536, 4.3.1
    assertEquals(0x7BFF, HALF.toCode(Math.nextDown(65520.0)));
    assertEquals(0x40490FDBL, SINGLE.toCode(Math.PI));
    assertEquals(0x3EAAAAABL, SINGLE.toCode(1 / 3.0));
    assertEquals(0x4049, FloatFormat.bfloat16().toCode(Math.PI));
    assertEquals(0x7F7F, FloatFormat.bfloat16().infinity() - 1);
    long one = 0x3C00;
    long zero = 0x0000;
    long minusZero = 0x8000;
    long infinity = 0x7C00;
    long minusInfinity = 0xFC00;
    long nan = 0x7E00;
    assertEquals(nan, half(2, zero, infinity)); // 7.2 b
    assertEquals(nan, half(0, infinity, minusInfinity)); // 7.2 d
    assertEquals(nan, half(3, zero, minusZero)); // 7.2 e
    assertEquals(nan, half(3, infinity, minusInfinity)); // 7.2 e
    assertEquals(nan, half(5, 0xBC00, zero)); // 7.2 g
    assertEquals(minusInfinity, half(3, one, minusZero)); // 7.3
    assertEquals(zero, half(1, one, one)); // 6.3
    assertEquals(zero, half(0, zero, minusZero)); // 6.3
    assertEquals(minusZero, half(0, minusZero, minusZero)); // 6.3
    assertEquals(minusZero, half(5, minusZero, zero)); // 6.3
    assertEquals(minusZero, half(2, minusZero, one));
    assertEquals(nan, half(0, 0x7D01, one)); // 6.2: a signalling one comes out quiet
    assertEquals(0x0001, half(3, 0x0003, 0x4200)); // subnormal: 3 least numbers by 3
  }

  private static long half(int operation, long x, long y) {
    BitEvaluation bits = operations(HALF).bits(1);
    bits.input(0, 0)[0] = x;
    bits.input(1, 0)[0] = y;
    bits.run(1);
    return bits.output(operation, 0)[0];
  }

  /** Intervals of codes, of one sign and of both, through every operation. */
  @Test
  void everyResultOfAnIntervalIsWithinItsBounds() {
    FloatFormat f = new FloatFormat(3, 2);
    Datapath.Builder b = Datapath.named("intervals");
    Value[] open = new Value[3];
    Value away = b.input("away", Format.unsigned(2, 0));
    for (int k = 0; k < 3; k++) {
      Value x = b.input("x" + k, f.bits());
      Value end = b.add("more" + k, x, away);
      Value other = b.convert("end" + k, end, f.bits(), Rounding.FLOOR, Overflow.SATURATE);
      Value either = b.either("either" + k, x, other);
      open[k] = b.convert("open" + k, either, f.bits(), Rounding.FLOOR, Overflow.SATURATE);
    }
    b.output(b.floatAdd("add", f, open[0], open[1]));
    b.output(b.floatSubtract("subtract", f, open[0], open[1]));
    b.output(b.floatMultiply("multiply", f, open[0], open[1]));
    b.output(b.floatDivide("divide", f, open[0], open[1]));
    b.output(b.floatFused("fused", f, open[0], open[1], open[2]));
    b.output(b.floatRoot("root", f, open[0]));
    b.output(b.floatLessThan("less", f, open[0], open[1]));
    b.output(b.floatAtMost("most", f, open[0], open[1]));
    b.output(b.floatEqual("equal", f, open[0], open[1]));
    Datapath datapath = b.build();
    Random random = new Random(11);
    List<BigInteger[]> cases = Cases.random(datapath.inputs(), 3_000, random);
    Laws.hold(datapath, cases, 0);
    BoundsEvaluation bounds = datapath.bounds(1);
    BitEvaluation bits = operations(f).bits(1);
    for (BigInteger[] one : cases) {
      Cases.fill(datapath, bounds::input, List.<BigInteger[]>of(one), 0, 1);
      bounds.run(1);
      for (int k = 0; k < 3; k++) {
        long end = Math.min(one[k + 1].longValue() + one[0].longValue(), f.sign() * 2 - 1);
        long span = end - one[k + 1].longValue();
        bits.input(k, 0)[0] = one[k + 1].longValue() + random.nextInt((int) span + 1);
      }
      bits.run(1);
      for (int o = 0; o < 9; o++) {
        long code = bits.output(o, 0)[0];
        assertTrue(bounds.low(o, 0)[0] <= code && code <= bounds.high(o, 0)[0], datapath::table);
      }
    }
  }

  /** Points: both codes around the exact result, one where it is a code. */
  @Test
  void boundsAreTheCodesOnBothSides() {
    BoundsEvaluation bounds = operations(HALF).bounds(2);
    bounds.input(0, 0)[0] = HALF.toCode(1);
    bounds.input(1, 0)[0] = HALF.toCode(3);
    bounds.input(0, 0)[1] = HALF.toCode(-1);
    bounds.input(1, 0)[1] = HALF.toCode(3);
    bounds.run(2);
    assertEquals(0x3555, bounds.low(3, 0)[0]);
    assertEquals(0x3556, bounds.high(3, 0)[0]);
    assertEquals(0xB555, bounds.low(3, 0)[1]);
    assertEquals(0xB556, bounds.high(3, 0)[1]);
    assertEquals(0x4400, bounds.low(0, 0)[0]);
    assertEquals(0x4400, bounds.high(0, 0)[0]);
    for (FloatFormat f : List.of(HALF, SINGLE)) {
      Datapath datapath = operations(f);
      Laws.hold(datapath, Cases.random(datapath.inputs(), 3_000, new Random(4)), 0);
    }
  }

  @Test
  void runsAllocateNothingForACase() {
    Datapath datapath = operations(HALF);
    BitEvaluation bits = datapath.bits(1024);
    BoundsEvaluation bounds = datapath.bounds(1024);
    IdealEvaluation ideal = datapath.ideal(1024);
    Allocations.requireNone(1024, () -> bits.run(1024));
    Allocations.requireNone(1024, () -> bounds.run(1024));
    Allocations.requireNone(1024, () -> ideal.run(1024));
  }

  /** Every pair of corners of every kind of format, and their square of cases among each other. */
  @Test
  void cornersAreCodesWithTheirOwnResults() {
    for (FloatFormat f : List.of(HALF, SINGLE, FloatFormat.bfloat16(), new FloatFormat(2, 1))) {
      long[] corners = f.corners();
      int n = corners.length;
      long[][] in = new long[3][n * n];
      for (int i = 0; i < n * n; i++) {
        in[0][i] = corners[i % n];
        in[1][i] = corners[i / n];
        in[2][i] = corners[(i * 5 + i / n) % n];
        assertTrue(in[0][i] >= 0 && in[0][i] < 2 * f.sign());
      }
      checkExact(f, in);
    }
  }

  @Test
  void whatIsNoFormatOrNoCodeIsRefused() {
    assertThrows(DatapathException.class, () -> new FloatFormat(9, 10));
    assertThrows(DatapathException.class, () -> new FloatFormat(5, 24));
    Datapath.Builder b = Datapath.named("refused");
    Value x = b.input("x", Format.unsigned(17, 0));
    String message =
        assertThrows(DatapathException.class, () -> b.floatRoot("y", HALF, x)).getMessage();
    assertTrue(message.contains("takes x u17.0 as a code of binary16"), message);
  }
}
