package dev.plumbline.samples;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.time.Instant;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;

class NightTest {
  private static final String BEGAN = "2026-11-29T01-00-00Z";
  private static final Instant LATER = Instant.parse("2026-11-29T01:10:00Z");

  @Test
  void aNightIsCountedFromWhenMavenBegan() {
    assertEquals(OptionalDouble.of(4_800), Night.left(1, "90", BEGAN, LATER));
    assertEquals(OptionalDouble.of(3_720), Night.left(0.8, "90", BEGAN, LATER));
  }

  @Test
  void aNightThatIsOverStillTriesEachBench() {
    assertEquals(OptionalDouble.of(1), Night.left(1, "5", BEGAN, LATER));
  }

  @Test
  void withoutMinutesThereIsNone() {
    assertEquals(OptionalDouble.empty(), Night.left(1, "", BEGAN, LATER));
    assertEquals(OptionalDouble.empty(), Night.left(1, "90", "", LATER));
  }
}
