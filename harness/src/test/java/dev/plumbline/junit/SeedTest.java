package dev.plumbline.junit;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class SeedTest {
  @ParameterizedTest
  @CsvSource({
    "7, 7",
    "-7, -7",
    "' 20261125 ', 20261125",
    "0x10, 16",
    "0XfF, 255",
    "0xffffffffffffffff, -1",
    "0x8000000000000000, -9223372036854775808",
    "9223372036854775807, 9223372036854775807"
  })
  void decimalAndHexadecimalAreRead(String text, long seed) {
    assertEquals(seed, Seed.parse(text));
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "seven", "1.5", "0x", "9223372036854775808", "0x10000000000000000"})
  void anythingElseIsRefusedByItsText(String text) {
    IllegalArgumentException error =
        assertThrows(IllegalArgumentException.class, () -> Seed.parse(text));
    assertEquals(
        "Property plumbline.seed cannot be \""
            + text
            + "\"; a whole number of 64 bits is allowed, decimal or hexadecimal with 0x before it.",
        error.getMessage());
  }

  @Test
  void streamsOfATestStandApart() {
    Seed seed = new Seed(1, "bell");
    assertEquals(seed.stream().next(), seed.stream().next());
    assertNotEquals(seed.stream().next(), seed.stream("order").next());
    assertNotEquals(seed.stream("order").next(), seed.stream("values").next());
    assertNotEquals(seed.value(), new Seed(2, "bell").value());
    assertNotEquals(seed.value(), new Seed(1, "gong").value());
  }
}
