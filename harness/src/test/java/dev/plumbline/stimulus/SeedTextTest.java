package dev.plumbline.stimulus;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Isolated;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

@Isolated("changes what all tests share")
class SeedTextTest {
  @ParameterizedTest
  @CsvSource({
    "7, 7",
    "-7, -7",
    "+7, 7",
    "' 20261125 ', 20261125",
    "0x10, 16",
    "0XfF, 255",
    "0xffffffffffffffff, -1",
    "0x8000000000000000, -9223372036854775808",
    "9223372036854775807, 9223372036854775807",
    "9223372036854775808, -9223372036854775808",
    "18446744073709551615, -1",
    "-9223372036854775808, -9223372036854775808"
  })
  void decimalAndHexadecimalWithASignOrWithoutAreRead(String text, long seed) {
    assertEquals(seed, SeedText.parse(text));
    assertEquals(seed, SeedText.parse(SeedText.of(seed)));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        "seven",
        "1.5",
        "0x",
        "0x-1",
        "18446744073709551616",
        "-9223372036854775809",
        "0x10000000000000000",
        "\u0661"
      })
  void anythingElseIsRefusedByItsText(String text) {
    IllegalArgumentException error =
        assertThrows(IllegalArgumentException.class, () -> SeedText.parse(text));
    assertEquals(
        "A seed cannot be \""
            + text
            + "\"; a whole number of 64 bits is allowed, with a sign or without, decimal or"
            + " hexadecimal with 0x before it.",
        error.getMessage());
  }

  @Test
  void aTextWithoutEndIsNotQuotedToItsEnd() {
    IllegalArgumentException error =
        assertThrows(IllegalArgumentException.class, () -> SeedText.parse("9".repeat(100_000)));
    assertTrue(error.getMessage().contains("9...\"; a whole number"), error.getMessage());
  }

  @Test
  void theRunsSeedIsOneUnlessSetAndNeverSilentlySo() {
    String before = System.getProperty(SeedText.PROPERTY);
    try {
      System.clearProperty(SeedText.PROPERTY);
      assertEquals(1, SeedText.ofRun());
      System.setProperty(SeedText.PROPERTY, "0x8000000000000001");
      assertEquals(Long.MIN_VALUE + 1, SeedText.ofRun());
      System.setProperty(SeedText.PROPERTY, "twelve");
      assertEquals(
          "Property plumbline.seed: A seed cannot be \"twelve\"",
          assertThrows(IllegalArgumentException.class, SeedText::ofRun)
              .getMessage()
              .replaceFirst(";.*", ""));
    } finally {
      if (before == null) {
        System.clearProperty(SeedText.PROPERTY);
      } else {
        System.setProperty(SeedText.PROPERTY, before);
      }
    }
  }
}
