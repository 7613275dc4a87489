package dev.plumbline.models.fixed;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.math.BigDecimal;
import java.math.BigInteger;
import java.math.RoundingMode;
import java.util.Random;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

class RoundingTest {
  private static int rounded(Rounding rounding, double value) {
    return Format.signed(16, 0).toCode(value, rounding, Overflow.SATURATE).intValueExact();
  }

  // IEEE 754-2019 section 4.3 (names of the modes); Java SE 17 RoundingMode.
  @ParameterizedTest(name = "A4 {0}")
  @CsvSource({
    "FLOOR,      -3, -2, -1, 0, 1, 2",
    "TOWARD_ZERO,   -2, -1,  0, 0, 1, 2",
    "HALF_CEILING,   -2, -1,  0, 1, 2, 3",
    "HALF_AWAY, -3, -2, -1, 1, 2, 3",
    "HALF_EVEN, -2, -2,  0, 0, 2, 2"
  })
  void halvesGoWhereTheModeDirects(Rounding rounding, int a, int b, int c, int d, int e, int f) {
    int[] expected = {a, b, c, d, e, f};
    for (int i = 0; i < expected.length; i++) {
      double value = i - 2.5;
      assertEquals(expected[i], rounded(rounding, value), rounding + " of " + value);
      assertEquals(
          BigInteger.valueOf(expected[i]),
          rounding.divide(BigInteger.valueOf(2L * i - 5), BigInteger.TWO));
    }
  }

  // Java SE 17: Math.round, Math.rint and RoundingMode themselves are the oracle.
  @Test
  @DisplayName(
      "A5 half up is Math.round, half even is Math.rint, half away is RoundingMode.HALF_UP")
  void javaNamesAreNotTaken() {
    assertEquals(-2, rounded(Rounding.HALF_CEILING, -2.5));
    assertEquals(-3, rounded(Rounding.HALF_AWAY, -2.5));
    for (int i = -400; i <= 400; i++) {
      double value = i / 16.0;
      assertEquals(Math.round(value), rounded(Rounding.HALF_CEILING, value));
      assertEquals((int) Math.rint(value), rounded(Rounding.HALF_EVEN, value));
      assertEquals(java(value, RoundingMode.HALF_UP), rounded(Rounding.HALF_AWAY, value));
      assertEquals(java(value, RoundingMode.FLOOR), rounded(Rounding.FLOOR, value));
      assertEquals(java(value, RoundingMode.DOWN), rounded(Rounding.TOWARD_ZERO, value));
    }
  }

  private static int java(double value, RoundingMode mode) {
    return new BigDecimal(value).setScale(0, mode).intValueExact();
  }

  // Java Language Specification 15.17.2 and 15.19; two's complement.
  @Test
  @DisplayName("A6 dropping a bit is a floor, dividing is not")
  void shiftIsNotDivision() {
    assertEquals(-7 >> 1, Rounding.FLOOR.divide(BigInteger.valueOf(-7), BigInteger.TWO).intValue());
    assertEquals(-4, rounded(Rounding.FLOOR, -3.5));
    assertEquals(Math.floorDiv(-7, 2), rounded(Rounding.FLOOR, -3.5));
    assertEquals(-7 / 2, rounded(Rounding.TOWARD_ZERO, -3.5));
    for (int k = 1; k < 40; k++) {
      BigInteger unit = BigInteger.ONE.shiftLeft(k);
      assertEquals(-1, Rounding.FLOOR.divide(BigInteger.valueOf(-1), unit).intValue());
    }
  }

  // Widrow, Kollar, Liu, Statistical Theory of Quantization, IEEE TIM 45(2), 1996; J. O. Smith,
  // Mathematics of the DFT (limit 1/12). Exact sums over a whole signed format of 12 bits.
  @ParameterizedTest(name = "A7 {0} dropped bits")
  @CsvSource({"1", "2", "3", "4", "5", "6", "8"})
  void errorsHaveTheKnownMeanAndVariance(int k) {
    double unit = 1 << k;
    double[] floor = meanAndSquare(Rounding.FLOOR, k);
    assertEquals(-(1 - 1 / unit) / 2, floor[0]);
    assertEquals((1 - 1 / (unit * unit)) / 12, floor[1] - floor[0] * floor[0], 1e-15);
    double[] up = meanAndSquare(Rounding.HALF_CEILING, k);
    assertEquals(1 / (2 * unit), up[0]);
    assertEquals((1 - 1 / (unit * unit)) / 12, up[1] - up[0] * up[0], 1e-15);
    double[] even = meanAndSquare(Rounding.HALF_EVEN, k);
    assertEquals(0, even[0]);
    assertEquals((1 + 2 / (unit * unit)) / 12, even[1], 1e-15);
    if (k == 4) {
      assertEquals(-15.0 / 32, floor[0]);
      assertEquals(85.0 / 1024, floor[1] - floor[0] * floor[0]);
      assertEquals(1.0 / 32, up[0]);
      assertEquals(43.0 / 512, even[1]);
    }
  }

  /** In LSB that are kept; every sum is exact in a double. */
  private static double[] meanAndSquare(Rounding rounding, int k) {
    long sum = 0;
    long squares = 0;
    for (int code = -2048; code < 2048; code++) {
      long kept =
          rounding.divide(BigInteger.valueOf(code), BigInteger.ONE.shiftLeft(k)).longValueExact();
      long error = (kept << k) - code;
      sum += error;
      squares += error * error;
    }
    double unit = 1 << k;
    return new double[] {sum / 4096.0 / unit, squares / 4096.0 / unit / unit};
  }

  // Bennett 1948: 6.02 N + 1.76 dB for a sine over the full scale.
  @ParameterizedTest(name = "A8 {0} bits: {1} dB")
  @CsvSource({"8, 49.93", "12, 74.01", "16, 98.09"})
  void roundedSineHasTheKnownSignalToNoiseRatio(int bits, double decibels) {
    Format format = Format.signed(1, bits - 1);
    double signal = 0;
    double noise = 0;
    Random random = new Random(8);
    for (int i = 0; i < 100_000; i++) {
      double phase = 2 * Math.PI * random.nextDouble();
      double x = (1 - format.lsbs()) * Math.sin(phase);
      double error = format.toReal(format.toCode(x, Rounding.HALF_EVEN, Overflow.SATURATE)) - x;
      signal += x * x;
      noise += error * error;
    }
    // The amplitude is an LSB short of full scale, and 100000 samples scatter by some 0.02
    // dB.
    double missing = -20 * Math.log10(1 - format.lsbs());
    assertEquals(decibels, 10 * Math.log10(signal / noise) + missing, 0.1);
  }

  @ParameterizedTest
  @EnumSource
  void nothingIsAddedWhenNothingIsDropped(Rounding rounding) {
    for (int code = -9; code <= 9; code++) {
      BigInteger exact = BigInteger.valueOf(code);
      assertEquals(exact, rounding.divide(exact, BigInteger.ONE));
    }
  }

  @ParameterizedTest
  @EnumSource
  void anyEvenUnitRoundsAsDecimalsDo(Rounding rounding) {
    RoundingMode mode =
        switch (rounding) {
          case FLOOR -> RoundingMode.FLOOR;
          case TOWARD_ZERO -> RoundingMode.DOWN;
          case HALF_AWAY -> RoundingMode.HALF_UP;
          case HALF_EVEN -> RoundingMode.HALF_EVEN;
          case HALF_CEILING -> null;
        };
    for (int unit = 2; unit <= 20; unit += 2) {
      for (int code = -70; code <= 70; code++) {
        BigInteger actual = rounding.divide(BigInteger.valueOf(code), BigInteger.valueOf(unit));
        if (mode == null) {
          assertEquals(Math.floorDiv(2 * code + unit, 2 * unit), actual.intValue());
        } else {
          BigDecimal exact = new BigDecimal(code).divide(new BigDecimal(unit), 0, mode);
          assertEquals(exact.toBigInteger(), actual, code + "/" + unit);
        }
      }
    }
  }

  @Test
  void oddUnitsAreRefused() {
    for (int unit : new int[] {0, -2, 3}) {
      String message =
          assertThrows(
                  IllegalArgumentException.class,
                  () -> Rounding.FLOOR.divide(BigInteger.ONE, BigInteger.valueOf(unit)))
              .getMessage();
      assertTrue(message.contains("by " + unit + ":"), message);
    }
  }
}
