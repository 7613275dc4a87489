package dev.plumbline.run;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

class WidthTallyTest {
  @Test
  void nothingSeenIsDistinguishedFromZero() {
    WidthTally tally = new WidthTally();
    assertEquals(-1, tally.median());
    assertEquals(-1, tally.worst());
    tally.sample(0);
    tally.worst(0);
    assertEquals(0, tally.median());
    assertEquals(0, tally.worst());
  }

  @Test
  void theMedianIsExactForSmallWidthsAndCloseForLargeOnes() {
    for (long width : new long[] {0, 1, 2, 255, 256, 300, 1_000_003, 1L << 40, Long.MAX_VALUE}) {
      WidthTally tally = new WidthTally();
      tally.sample(0);
      tally.sample(width);
      tally.sample(width);
      long median = tally.median();
      assertTrue(median <= width && median >= width - width / 16, () -> width + ": " + median);
      if (width < 256) {
        assertEquals(width, median);
      }
    }
  }

  @Test
  void talliesAddUp() {
    WidthTally left = new WidthTally();
    WidthTally right = new WidthTally();
    left.sample(3);
    left.worst(3);
    right.sample(5);
    right.sample(5);
    right.worst(9);
    left.add(right);
    assertEquals(5, left.median());
    assertEquals(9, left.worst());
  }
}
