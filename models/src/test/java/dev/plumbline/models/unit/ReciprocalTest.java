package dev.plumbline.models.unit;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.Evaluated;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.models.unit.Reciprocal.AtZero;
import java.math.BigInteger;
import java.util.List;
import java.util.Random;
import java.util.stream.LongStream;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

class ReciprocalTest {
  private static final Format WORD = Format.signed(16, 16);

  @Test
  @DisplayName("B2: handbook reciprocals of 65536/x, floor and nearest")
  void handbookReciprocals() {
    // Barlow's Tables (Comrie ed., 1941).
    long[] x = {3, 5, 6, 7, 9, 10, 11, 13, 17, 100, 255, 1000, 65535};
    long[] floor = {21845, 13107, 10922, 9362, 7281, 6553, 5957, 5041, 3855, 655, 257, 65, 1};
    long[] nearest = {21845, 13107, 10923, 9362, 7282, 6554, 5958, 5041, 3855, 655, 257, 66, 1};
    Reciprocal whole = Reciprocal.between(Format.unsigned(16, 0), Format.unsigned(1, 16));
    assertArrayEquals(floor, y(whole, x));
    assertArrayEquals(nearest, y(whole.withRounding(Rounding.HALF_CEILING), x));
    long[] codes = LongStream.of(x).limit(12).map(n -> n << 16).toArray();
    long[] floors = LongStream.of(floor).limit(12).toArray();
    assertArrayEquals(floors, y(Reciprocal.newton(32, 16), codes));
    assertArrayEquals(
        LongStream.of(floors).map(n -> -n).toArray(),
        y(Reciprocal.newton(32, 16), LongStream.of(codes).map(n -> -n).toArray()));
  }

  @Test
  void zeroAndTheEndsOfTheRangeGiveWhatIsDeclared() {
    Evaluated bits = newton(32, 16, 0, 1, -1, 2, -2, -1L << 31, (1L << 31) - 1, 1L << 16);
    long max = (1L << 31) - 1;
    // 1 / 2^-16 is 2^16, one beyond the word's 2^15; -2^15 is its own limit, which 1 / -2^-15
    // meets.
    assertArrayEquals(
        new long[] {max, max, -max - 1, max, -max - 1, -2, 2, 1L << 16}, bits.codes("y"));
    assertArrayEquals(new long[] {1, 0, 0, 0, 0, 0, 0, 0}, bits.codes("zero"));
    assertArrayEquals(new long[] {1, 1, 1, 1, 0, 0, 0, 0}, bits.codes("overflow"));
    Reciprocal none = Reciprocal.newton(32, 16).withAtZero(AtZero.ZERO);
    assertArrayEquals(new long[] {0, 1L << 16}, y(none, 0, 1L << 16));
    assertArrayEquals(new long[] {0}, y(Reciprocal.between(WORD, WORD).withAtZero(AtZero.ZERO), 0));
  }

  @Test
  void newtonGivesTheFloorForEveryCodeOfEverySmallWord() {
    for (int width = 8; width <= 11; width++) {
      for (int fraction = 0; fraction < width; fraction++) {
        long end = 1L << (width - 1);
        checkNewton(width, fraction, LongStream.range(-end, end).toArray());
      }
    }
  }

  @Test
  void newtonGivesTheFloorForRandomCodesAndCornersOfLargeWords() {
    Random random = new Random(1994);
    for (int width = 12; width <= 32; width++) {
      for (int fraction = 0; fraction < width; fraction += 1 + random.nextInt(4)) {
        checkNewton(width, fraction, corners(width, fraction, random));
      }
    }
  }

  @Test
  @DisplayName("B6: 0 <= 2^2F - qx < x, and the reciprocal never rises, over all codes")
  void reciprocalNeverRises() {
    // Monotonicity: J.-M. Muller, Elementary Functions. Joints of a table are where it breaks.
    for (int fraction : new int[] {7, 10, 15}) {
      long[] codes = LongStream.range(1, 1 << 15).toArray();
      Evaluated bits = newton(16, fraction, codes);
      long[] y = bits.codes("y");
      for (int i = 0; i < codes.length; i++) {
        long left = (1L << (2 * fraction)) - y[i] * codes[i];
        boolean saturated = bits.codes("overflow")[i] == 1;
        assertTrue(left >= 0 && (saturated || left < codes[i]), "code " + codes[i]);
        assertTrue(i == 0 || y[i] <= y[i - 1], "code " + codes[i]);
      }
    }
  }

  @Test
  @DisplayName("B7: each estimate stays below 1/D, with the square of the error before it")
  void eachStepSquaresTheErrorFromBelow() {
    Random random = new Random(7);
    long[] codes = LongStream.generate(() -> 1 + (random.nextInt() >>> 1)).limit(4096).toArray();
    Evaluated bits =
        Evaluated.bits(
            Reciprocal.newton(32, 16).datapath(),
            new long[][] {codes},
            "quotient.mantissa",
            "quotient.seed",
            "quotient.estimate_1",
            "quotient.estimate_2");
    for (int i = 0; i < codes.length; i++) {
      BigInteger m = BigInteger.valueOf(bits.codes("quotient.mantissa")[i]);
      assertEquals(32, m.bitLength());
      // Errors 1 - Dr as whole numbers over 2^(32 + fraction bits of r).
      BigInteger e0 = error(m, bits.codes("quotient.seed")[i], 10);
      BigInteger e1 = error(m, bits.codes("quotient.estimate_1")[i], 20);
      BigInteger e2 = error(m, bits.codes("quotient.estimate_2")[i], 34);
      assertTrue(e1.signum() >= 0 && e2.signum() >= 0, "an estimate above 1/D");
      // e' - e^2 lies in 0 .. D (r 2^-c + 2^-n), r < 2: over 2^84 and 2^104.
      BigInteger more1 = e1.shiftLeft(32).subtract(e0.pow(2));
      BigInteger more2 = e2.shiftLeft(38).subtract(e1.pow(2));
      assertTrue(more1.signum() >= 0 && more2.signum() >= 0);
      assertTrue(more1.compareTo(m.multiply(sum(84 - 32 - 23, 84 - 32 - 20))) <= 0);
      assertTrue(more2.compareTo(m.multiply(sum(104 - 32 - 35, 104 - 32 - 34))) <= 0);
    }
  }

  private static BigInteger error(BigInteger mantissa, long estimate, int fractionBits) {
    return BigInteger.ONE
        .shiftLeft(32 + fractionBits)
        .subtract(mantissa.multiply(BigInteger.valueOf(estimate)));
  }

  private static BigInteger sum(int a, int b) {
    return BigInteger.ONE.shiftLeft(a).add(BigInteger.ONE.shiftLeft(b));
  }

  @Test
  @DisplayName("B5: a reciprocal is half-way only at 2^(p+1), and goes as the rounding says")
  void tieGoesAsDeclared() {
    Reciprocal whole = Reciprocal.between(Format.signed(8, 0), Format.signed(8, 4));
    long[] x = {32, -32, 31, -31, 33, -33};
    assertArrayEquals(new long[] {0, -1, 0, -1, 0, -1}, y(whole, Rounding.FLOOR, x));
    assertArrayEquals(new long[] {0, 0, 0, 0, 0, 0}, y(whole, Rounding.TOWARD_ZERO, x));
    assertArrayEquals(new long[] {1, 0, 1, -1, 0, 0}, y(whole, Rounding.HALF_CEILING, x));
    assertArrayEquals(new long[] {1, -1, 1, -1, 0, 0}, y(whole, Rounding.HALF_AWAY, x));
    assertArrayEquals(new long[] {0, 0, 1, -1, 0, 0}, y(whole, Rounding.HALF_EVEN, x));
  }

  @Test
  void everyFormatRoundingAndOverflowAgreesWithTheJdk() {
    List<Format> inputs = List.of(Format.signed(4, 4), Format.unsigned(2, 6), Format.signed(8, 0));
    List<Format> outputs = List.of(Format.signed(4, 4), Format.unsigned(3, 5), Format.signed(1, 8));
    for (Format input : inputs) {
      for (Format output : outputs) {
        for (Rounding rounding : Rounding.values()) {
          for (Overflow overflow : Overflow.values()) {
            Reciprocal unit =
                Reciprocal.between(input, output).withRounding(rounding).withOverflow(overflow);
            checkAll(unit, input, output, rounding, overflow);
          }
        }
      }
    }
  }

  private static void checkAll(
      Reciprocal unit, Format input, Format output, Rounding rounding, Overflow overflow) {
    long[] codes = all(input);
    Evaluated bits = Evaluated.bits(unit.datapath(), new long[][] {codes});
    for (int i = 0; i < codes.length; i++) {
      long x = codes[i];
      BigInteger y = x == 0 ? output.maxCode() : Exact.reciprocal(x, input, output, rounding);
      String which = input + " to " + output + " " + rounding + " " + overflow + ", code " + x;
      assertEquals(Exact.limited(y, output, overflow).longValueExact(), bits.codes("y")[i], which);
      boolean beyond = x == 0 || !output.holds(y);
      assertEquals(beyond ? 1 : 0, bits.codes("overflow")[i], which);
      assertEquals(x == 0 ? 1 : 0, bits.codes("zero")[i], which);
    }
  }

  @Test
  void boundsHoldBitsAndIdealAndAreTwoPlacesWideAtMost() {
    for (int fraction = 0; fraction < 10; fraction++) {
      Format word = new Format(true, 10, fraction);
      checkLaws(Reciprocal.newton(10, fraction).datapath(), word, 2);
      for (Rounding rounding : Rounding.values()) {
        checkLaws(Reciprocal.between(word, word).withRounding(rounding).datapath(), word, 2);
      }
      Datapath wraps = Reciprocal.between(word, word).withOverflow(Overflow.WRAP).datapath();
      checkLaws(wraps, word, 1023);
    }
  }

  private static void checkLaws(Datapath datapath, Format word, long worst) {
    List<Evaluated.Width> widths = Evaluated.lawsHold(datapath, new long[][] {all(word)}, 1e-9);
    assertTrue(widths.get(0).worst() <= worst, word + " " + widths);
    // One that wraps may give anything where 2^2F / |code| is beyond 2^9, that is for at most
    // 2 * 2^(2F-9) of 1024 codes: a quarter of them in s2.8, all but zero in s1.9.
    long usual = worst > 2 && word.fractionBits() == 9 ? worst : 2;
    assertTrue(widths.get(0).median() <= usual, word + " " + widths);
    assertEquals(0, widths.get(1).worst(), "zero is decided");
  }

  @Test
  void stepNamesAreStages() {
    List<String> steps =
        Reciprocal.newton(32, 16).datapath().steps().stream().map(o -> o.name()).toList();
    List<String> inside =
        List.of(
            "leading",
            "mantissa",
            "seed",
            "product_1",
            "correction_1",
            "estimate_1",
            "product_2",
            "correction_2",
            "estimate_2",
            "shift",
            "far_over",
            "quotient_0",
            "remainder",
            "quotient");
    assertTrue(steps.containsAll(inside.stream().map(s -> "quotient." + s).toList()), "" + steps);
    assertTrue(steps.containsAll(List.of("negative", "zero", "magnitude", "overflow", "y")));
  }

  @Test
  void whatCannotBeIsRefused() {
    assertRefused(
        "Reciprocal by Newton steps in 33 bits with 16 fraction bits: the width has to be 8 to 32,"
            + " the fraction bits 0 to width - 1.",
        () -> Reciprocal.newton(33, 16));
    assertRefused(
        "Reciprocal by Newton steps with HALF_CEILING and SATURATE: the steps give TOWARD_ZERO and"
            + " SATURATE; take between(...) for others.",
        () -> Reciprocal.newton(32, 16).withRounding(Rounding.HALF_CEILING));
    assertRefused(
        "Reciprocal from s1.31 to s1.32: both have to be within 63 bits, and their fraction bits 0"
            + " to 62 together; give formats with fewer bits.",
        () -> Reciprocal.between(Format.signed(1, 31), Format.signed(1, 32)));
    IllegalStateException wraps =
        assertThrows(
            IllegalStateException.class,
            () -> Reciprocal.between(WORD, WORD).withOverflow(Overflow.WRAP).unit());
    assertTrue(wraps.getMessage().startsWith("Unit of a reciprocal from s16.16 to s16.16 that"));
  }

  private static void assertRefused(String message, Runnable call) {
    assertEquals(message, assertThrows(IllegalArgumentException.class, call::run).getMessage());
  }

  /** Against 2^2F / |x| in longs, which the JDK divides. */
  private static void checkNewton(int width, int fraction, long[] codes) {
    Evaluated bits = newton(width, fraction, codes);
    long max = (1L << (width - 1)) - 1;
    for (int i = 0; i < codes.length; i++) {
      long x = codes[i];
      long quotient = x == 0 ? Long.MAX_VALUE : (1L << (2 * fraction)) / Math.abs(x);
      long y = x < 0 ? -Math.min(quotient, max + 1) : Math.min(quotient, max);
      boolean beyond = quotient > (x < 0 ? max + 1 : max);
      String which = "W " + width + ", F " + fraction + ", code " + x;
      assertEquals(y, bits.codes("y")[i], which);
      assertEquals(beyond ? 1 : 0, bits.codes("overflow")[i], which);
    }
  }

  /** Ends, powers of two, random magnitudes, and codes about exact quotients. */
  private static long[] corners(int width, int fraction, Random random) {
    long max = (1L << (width - 1)) - 1;
    LongStream.Builder codes = LongStream.builder();
    for (long near = -2; near <= 2; near++) {
      for (int power = 0; power < width; power++) {
        codes.add((1L << power) + near);
      }
      for (int i = 0; i < 60; i++) {
        long divisor = 1 + (random.nextLong() >>> (64 - width) >>> random.nextInt(width));
        codes.add((1L << (2 * fraction)) / divisor + near);
      }
    }
    for (int i = 0; i < 300; i++) {
      codes.add(random.nextLong() >> (64 - width) >> random.nextInt(width));
    }
    return codes
        .build()
        .filter(c -> c <= max && c >= -max - 1)
        .flatMap(c -> LongStream.of(c, c == -max - 1 ? c : -c))
        .toArray();
  }

  private static long[] all(Format format) {
    return LongStream.rangeClosed(
            format.minCode().longValueExact(), format.maxCode().longValueExact())
        .toArray();
  }

  private static Evaluated newton(int width, int fraction, long... codes) {
    return Evaluated.bits(Reciprocal.newton(width, fraction).datapath(), new long[][] {codes});
  }

  private static long[] y(Reciprocal unit, Rounding rounding, long... codes) {
    return y(unit.withRounding(rounding), codes);
  }

  private static long[] y(Reciprocal unit, long... codes) {
    return Evaluated.bits(unit.datapath(), new long[][] {codes}).codes("y");
  }
}
