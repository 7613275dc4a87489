package dev.plumbline.verdict;

import static org.junit.jupiter.api.Assertions.assertEquals;

import dev.plumbline.models.datapath.FloatFormat;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import java.math.BigDecimal;
import java.math.BigInteger;
import java.util.Locale;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Isolated;

@Isolated("changes what all tests share")
class CodeTextTest {
  @Test
  void hexHasTheDigitsOfTheFormatInTwosComplement() {
    assertEquals("0xffff8000", hex(Format.signed(16, 16), -0x8000));
    assertEquals("0x00000001", hex(Format.signed(16, 16), 1));
    assertEquals("0x3ffff", hex(Format.signed(2, 16), -1), "18 bits");
    assertEquals("0x1", hex(Format.bit(), 1));
    assertEquals(
        "0xffffffffffffffff",
        CodeText.hex(Format.unsigned(64, 0), Format.unsigned(64, 0).maxCode()));
  }

  @Test
  void realValuesHaveAtMostFifteenDigits() {
    assertEquals("-0.5", CodeText.real(Format.signed(16, 16), BigInteger.valueOf(-0x8000)));
    assertEquals("0", CodeText.real(Format.signed(16, 16), BigInteger.ZERO));
    assertEquals("0.0000152587890625", CodeText.real(Format.signed(16, 16), BigInteger.ONE));
    assertEquals("9.5367431640625E-7", CodeText.real(Format.signed(1, 20), BigInteger.ONE));
    assertEquals(
        "18446744073709600000",
        CodeText.real(Format.unsigned(64, 0), Format.unsigned(64, 0).maxCode()));
    assertEquals(
        "1.23456789012346E+29", CodeText.number(new BigDecimal("123456789012345678901234567890")));
  }

  /** Codes and numbers from IEEE 754-2019, table 3.5 and clause 3.4; 0x3555 is 1365/4096. */
  @Test
  void codesOfFloatingPointAreShownAsTheirNumbers() {
    Operand half = new Operand("half", FloatFormat.binary16());
    assertEquals("1", real(half, 0x3C00));
    assertEquals("-2", real(half, 0xC000));
    assertEquals("0.333251953125", real(half, 0x3555));
    assertEquals("65504", real(half, 0x7BFF));
    assertEquals("5.96046447753906E-8", real(half, 1));
    assertEquals("0", real(half, 0));
    assertEquals("-0", real(half, 0x8000));
    assertEquals("Infinity", real(half, 0x7C00));
    assertEquals("-Infinity", real(half, 0xFC00));
    assertEquals("NaN", real(half, 0x7E00));
    Operand single = new Operand("single", FloatFormat.binary32());
    assertEquals("3.14159274101257", real(single, Float.floatToIntBits((float) Math.PI)));
    assertEquals(
        "half = 0x3c00  1", CodeText.operand(half, BigInteger.valueOf(0x3C00)), "as in a failure");
  }

  private static String real(Operand operand, long code) {
    return CodeText.real(operand, BigInteger.valueOf(code));
  }

  @Test
  void theLocaleMakesNoDifference() {
    Locale before = Locale.getDefault();
    try {
      Locale.setDefault(Locale.forLanguageTag("ar-EG"));
      assertEquals("-1.25", CodeText.real(Format.signed(4, 4), BigInteger.valueOf(-20)));
      assertEquals("0xec", hex(Format.signed(4, 4), -20));
    } finally {
      Locale.setDefault(before);
    }
  }

  private static String hex(Format format, long code) {
    return CodeText.hex(format, BigInteger.valueOf(code));
  }
}
