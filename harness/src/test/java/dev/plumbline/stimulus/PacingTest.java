package dev.plumbline.stimulus;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;

class PacingTest {
  private static final int CYCLES = 100_000;

  @Test
  void backToBackIsActiveInEveryCycle() {
    assertEquals(CYCLES, active(Pacing.backToBack()));
    assertTrue(Pacing.backToBack().isBackToBack());
  }

  @Test
  void bubblesComeAsOftenAsTheyShould() {
    double sigma = Math.sqrt(CYCLES * 0.25 * 0.75);
    assertEquals(0.75 * CYCLES, active(Pacing.bubbles(0.25)), 5 * sigma);
    assertEquals(CYCLES, active(Pacing.bubbles(0)));
  }

  @Test
  void burstsAndGapsHaveTheirMeanLengths() {
    long[] column = column(Pacing.bursts(6, 3));
    int bursts = 0;
    for (int i = 1; i < CYCLES; i++) {
      bursts += column[i] > column[i - 1] ? 1 : 0;
    }
    assertEquals(6 * CYCLES / 9.0, (double) Arrays.stream(column).sum(), 0.03 * CYCLES);
    assertEquals(CYCLES / 9.0, bursts, 0.003 * CYCLES);
  }

  @Test
  void variedPacingHasPhasesOfAllKinds() {
    long[] column = column(Pacing.varied());
    int longestRun = 0;
    int longestGap = 0;
    for (int i = 0, run = 0, gap = 0; i < CYCLES; i++) {
      run = column[i] != 0 ? run + 1 : 0;
      gap = column[i] == 0 ? gap + 1 : 0;
      longestRun = Math.max(longestRun, run);
      longestGap = Math.max(longestGap, gap);
    }
    assertTrue(longestRun > 200, "back to back for a while: " + longestRun);
    assertTrue(longestGap > 10, "thin for a while: " + longestGap);
  }

  @Test
  void aPatternDoesNotDependOnTheCutIntoCalls() {
    for (Pacing pacing : List.of(Pacing.bubbles(0.5), Pacing.bursts(4, 4), Pacing.varied())) {
      long[] cut = new long[CYCLES];
      Pacing.Pattern pattern = pacing.open(17);
      for (int from = 0; from < CYCLES; from += 1000) {
        pattern.fill(cut, from, from + 333);
        pattern.fill(cut, from + 333, from + 1000);
      }
      assertArrayEquals(column(pacing), cut, pacing::toString);
    }
  }

  @Test
  void impossiblePacingIsRefused() {
    assertEquals(
        "Pacing cannot have bubbles with probability 1.0; allowed is 0 up to, not including, 1.",
        assertThrows(IllegalArgumentException.class, () -> Pacing.bubbles(1)).getMessage());
    assertEquals(
        "Pacing cannot have bursts of 0 and gaps of 3 cycles; 1 or more is allowed.",
        assertThrows(IllegalArgumentException.class, () -> Pacing.bursts(0, 3)).getMessage());
  }

  private static double active(Pacing pacing) {
    return (double) Arrays.stream(column(pacing)).sum();
  }

  private static long[] column(Pacing pacing) {
    long[] column = new long[CYCLES];
    pacing.open(17).fill(column, 0, CYCLES);
    return column;
  }
}
