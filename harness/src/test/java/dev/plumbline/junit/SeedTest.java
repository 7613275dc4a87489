package dev.plumbline.junit;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;

import org.junit.jupiter.api.Test;

class SeedTest {
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
