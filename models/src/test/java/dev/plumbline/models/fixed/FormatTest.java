package dev.plumbline.models.fixed;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.math.BigDecimal;
import java.math.BigInteger;
import java.util.Random;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class FormatTest {
  // R. Yates, Fixed-Point Arithmetic: An Introduction, 2013, 5.2 and 5.4: A(a,b) has a + b + 1
  // bits.
  @ParameterizedTest(name = "A1 A({0},{1})")
  @CsvSource({
    "0, 15, -1, 0.999969482421875",
    "3, 12, -8, 7.999755859375",
    "7, 8, -128, 127.99609375",
    "13, 2, -8192, 8191.75",
    "15, 16, -32768, 32767.9999847412109375"
  })
  void rangesAreThoseOfTheNotationWithoutTheSignBit(int a, int b, BigDecimal min, BigDecimal max) {
    Format format = Format.signed(a + 1, b);
    assertEquals(a + b + 1, format.width());
    assertEquals(Math.pow(2, -b), format.lsbs());
    assertEquals(0, min.compareTo(format.toDecimal(format.minCode())));
    assertEquals(0, max.compareTo(format.toDecimal(format.maxCode())));
  }

  // "Q (number format)", public encyclopaedia text: one convention counts the sign bit, one not.
  @Test
  @DisplayName("A2 integer bits count the sign bit: s15.1 ends at -16384 and 16383.5")
  void integerBitsCountTheSignBit() {
    Format counted = Format.signed(15, 1);
    assertEquals(16, counted.width());
    assertEquals(-16384.0, counted.toReal((short) 0x8000));
    assertEquals(16383.5, counted.toReal(0x7FFF));
    Format uncounted = Format.signed(3 + 1, 12);
    assertEquals(16, uncounted.width());
    assertEquals(-8.0, uncounted.toReal((short) 0x8000));
    assertEquals(7.999755859375, uncounted.toReal(0x7FFF));
    Format unsigned = Format.unsigned(1, 15);
    assertEquals(1.999969482421875, unsigned.toReal(unsigned.maxCode()));
  }

  // Lecture notes, Fixed-Point Arithmetics Part II; S. Arar, The Q Format and Addition Examples.
  @Test
  @DisplayName("A3 0.2625 is 0x2199 or 0x219A in 15 fraction bits; 0101.0110b is 5.375")
  void realsAreEncodedAsPublished() {
    Format format = Format.signed(1, 15);
    BigDecimal value = new BigDecimal("0.2625");
    assertEquals(
        BigInteger.valueOf(0x2199), format.toCode(value, Rounding.FLOOR, Overflow.SATURATE));
    assertEquals(
        BigInteger.valueOf(0x219A), format.toCode(value, Rounding.HALF_CEILING, Overflow.SATURATE));
    assertEquals(5.375, Format.unsigned(4, 4).toReal(0b0101_0110));
  }

  // Two's complement; ISO/IEC TR 18037 as a compiler manual tabulates its ranges. (-1)*(-1) = 1 is
  // one LSB above the highest code, where saturation stops.
  @Test
  @DisplayName(
      "A6 A12 -(-32768) wraps to itself and saturates to 32767; so does (-1)*(-1) in s1.15")
  void overflowWrapsOrSaturates() {
    Format integer = Format.signed(16, 0);
    BigInteger negated = integer.minCode().negate();
    assertEquals(integer.minCode(), Overflow.WRAP.apply(negated, integer));
    assertEquals(integer.maxCode(), Overflow.SATURATE.apply(negated, integer));
    Format fraction = Format.signed(1, 15);
    assertEquals(-1.0, fraction.toReal(fraction.minCode()));
    assertEquals(1 - 0x1p-15, fraction.toReal(fraction.maxCode()));
    assertEquals(1 - 0x1p-31, Format.signed(1, 31).toReal(0x7FFFFFFF));
    assertEquals(
        BigInteger.valueOf(0x7FFF), fraction.toCode(1.0, Rounding.FLOOR, Overflow.SATURATE));
  }

  @Test
  void wrapKeepsTheLowBitsInEveryWidth() {
    for (int width : new int[] {1, 2, 5}) {
      Format signed = new Format(true, width, 0);
      Format unsigned = new Format(false, width, 0);
      for (int code = -100; code <= 100; code++) {
        int unused = 32 - width;
        BigInteger exact = BigInteger.valueOf(code);
        assertEquals(code << unused >> unused, Overflow.WRAP.apply(exact, signed).intValue());
        assertEquals(code << unused >>> unused, Overflow.WRAP.apply(exact, unsigned).intValue());
      }
    }
  }

  @Test
  void wordsHoldEveryCodeOfEveryWidth() {
    Random random = new Random(4);
    for (int width = 1; width <= 128; width++) {
      for (boolean signed : new boolean[] {true, false}) {
        Format format = new Format(signed, width, 7);
        assertEquals(width > 64 ? 2 : 1, format.words());
        for (int i = 0; i < 20; i++) {
          BigInteger any = new BigInteger(128, random).subtract(BigInteger.ONE.shiftLeft(127));
          BigInteger code =
              i == 0
                  ? format.minCode()
                  : i == 1 ? format.maxCode() : Overflow.WRAP.apply(any, format);
          long[] words = format.toWords(code);
          assertEquals(code.longValue(), words[0]);
          assertEquals(code, format.fromWords(words));
        }
      }
    }
    assertArrayEquals(new long[] {-1, -1}, Format.signed(65, 0).toWords(BigInteger.valueOf(-1)));
    assertEquals(0x1.0p64, Format.unsigned(64, 0).toReal(-1L));
  }

  @Test
  void decimalsAreExactBothSidesOfThePoint() {
    assertEquals("0.0000152587890625", decimal(Format.signed(16, 16), 1));
    assertEquals("-40", decimal(new Format(true, 8, -3), -5));
    assertEquals("0", decimal(Format.signed(16, 16), 0));
    Format far = new Format(false, 4, 500);
    assertEquals(Math.scalb(9.0, -500), far.toReal(9));
    assertEquals(9, far.toCode(Math.scalb(9.5, -500), Rounding.FLOOR, Overflow.WRAP).intValue());
  }

  private static String decimal(Format format, long code) {
    return format.toDecimal(BigInteger.valueOf(code)).toPlainString();
  }

  @Test
  void namesCountAllIntegerBits() {
    assertEquals("s16.16", Format.signed(16, 16).toString());
    assertEquals("u1.0", Format.bit().toString());
    assertEquals("s-3.11", Format.signed(-3, 11).toString());
    assertEquals(32, Format.signed(18, 14).width());
    assertEquals(18, Format.signed(2, 16).width());
  }

  @Test
  void infinitiesSaturateAndNanIsRefused() {
    Format format = Format.signed(4, 4);
    assertEquals(
        format.maxCode(),
        format.toCode(Double.POSITIVE_INFINITY, Rounding.FLOOR, Overflow.SATURATE));
    assertEquals(
        format.minCode(),
        format.toCode(Double.NEGATIVE_INFINITY, Rounding.FLOOR, Overflow.SATURATE));
    assertRefused(
        "No code for NaN in s4.4",
        () -> format.toCode(Double.NaN, Rounding.FLOOR, Overflow.SATURATE));
    assertRefused(
        "No code for Infinity in s4.4",
        () -> format.toCode(Double.POSITIVE_INFINITY, Rounding.FLOOR, Overflow.WRAP));
  }

  @Test
  void numbersOfAnEndlessScaleAreRefusedAndOthersRounded() {
    Format format = Format.signed(4, 4);
    assertRefused(
        "No code for a number of scale -1000000000 in s4.4",
        () -> format.toCode(new BigDecimal("1e1000000000"), Rounding.FLOOR, Overflow.SATURATE));
    assertRefused(
        "No code for a number of scale 10001 in s4.4",
        () -> format.toCode(new BigDecimal("1e-10001"), Rounding.FLOOR, Overflow.SATURATE));
    assertEquals(
        format.maxCode(),
        format.toCode(new BigDecimal("1e10000"), Rounding.FLOOR, Overflow.SATURATE));
    assertEquals(
        BigInteger.valueOf(-1),
        format.toCode(new BigDecimal("-1e-10000"), Rounding.FLOOR, Overflow.SATURATE));
    assertRefused(
        "Format with 2147483647 bits", () -> Format.signed(Integer.MAX_VALUE, Integer.MAX_VALUE));
  }

  @Test
  void whatCannotBeAFormatOrACodeIsRefusedWithWhatIsAllowed() {
    assertRefused("the width has to be 1 to 128", () -> Format.signed(0, 0));
    assertRefused("Format with 129 bits", () -> Format.unsigned(129, 0));
    assertRefused("-512 to 512", () -> new Format(true, 8, 513));
    assertRefused(
        "Code 128 in s8.0: it has to be -128 to 127", () -> Format.signed(8, 0).toReal(128));
    assertRefused("the format takes 2", () -> Format.signed(65, 0).fromWords(1));
    assertFalse(Format.unsigned(8, 0).holds(BigInteger.valueOf(-1)));
  }

  private static void assertRefused(String part, Runnable action) {
    String message = assertThrows(IllegalArgumentException.class, action::run).getMessage();
    assertTrue(message.contains(part), message);
  }
}
