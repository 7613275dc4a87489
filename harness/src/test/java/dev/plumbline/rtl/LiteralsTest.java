package dev.plumbline.rtl;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.math.BigInteger;
import java.util.Optional;
import org.junit.jupiter.api.Test;

class LiteralsTest {
  /** IEEE 1800-2017, 5.9.1, table 5-1. */
  @Test
  void everyEscapeStandsForItsCharacter() {
    assertEquals("\n\t\\\"\u000b\f\u0007", Literals.unescape("\\n\\t\\\\\\\"\\v\\f\\a"));
    assertEquals("A1", Literals.unescape("\\1011"));
    assertEquals("\u00071", Literals.unescape("\\0071"));
    assertEquals("Ag", Literals.unescape("\\x41g"));
    assertEquals("xg", Literals.unescape("\\xg"));
    assertEquals("end\\", Literals.unescape("end\\"));
  }

  @Test
  void bytesAreReadAsUtf8WhereTheyAreThat() {
    assertEquals("é", Literals.utf8("\u00c3\u00a9"));
    assertEquals("\u00ff", Literals.utf8("\u00ff"));
    assertEquals("plain", Literals.utf8("plain"));
  }

  @Test
  void constantsAreReadInAnyBaseWithTheirSign() {
    assertEquals(Optional.of(BigInteger.valueOf(12)), Constants.number("32'shc", false));
    assertEquals(Optional.of(BigInteger.valueOf(-1)), Constants.number("4'shf", false));
    assertEquals(Optional.of(BigInteger.valueOf(-1)), Constants.number("4'hf", true));
    assertEquals(Optional.of(BigInteger.valueOf(15)), Constants.number("4'hf", false));
    assertEquals(Optional.of(BigInteger.valueOf(5)), Constants.number("3'b101", false));
    assertEquals(Optional.empty(), Constants.number("8'b1x0z1010", true));
    assertEquals(Optional.empty(), Constants.number("\"4'hf\"", true));
  }
}
