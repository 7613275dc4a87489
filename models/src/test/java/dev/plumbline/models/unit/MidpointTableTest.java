package dev.plumbline.models.unit;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

/** Figures of Das Sarma and Matula, IEEE Transactions on Computers 43(8), 1994, 932-940. */
class MidpointTableTest {

  @Test
  @DisplayName("B11: the worst relative error of rebuilt tables is the published one")
  void worstErrorIsThePublishedOne() {
    assertEquals(.0028534, worst(8, 8), .5e-7);
    assertEquals(.0023727, worst(8, 9), .5e-7);
    assertEquals(7.1812e-4, worst(10, 10), .5e-8);
  }

  @Test
  @DisplayName("B11: the error stays below 2^-(k+1) (1 + 2^-(g+1)), and comes near it")
  void errorStaysBelowThePublishedBound() {
    for (int k = 5; k <= 10; k++) {
      for (int guard = 0; guard <= 4; guard++) {
        double bound = Math.scalb(1 + Math.scalb(1, -guard - 1), -k - 1);
        double worst = worst(k, k + guard);
        assertTrue(worst <= bound, "k " + k + ", guard " + guard + ": " + worst);
        assertTrue(worst > .85 * bound, "k " + k + ", guard " + guard + ": " + worst);
      }
    }
  }

  @Test
  void seedsFitElevenBitsWithTheFirstOneBelowTwoAndTheLastOneAboveOne() {
    long[] seeds = MidpointTable.reciprocals(8, 10);
    assertEquals(256, seeds.length);
    assertEquals(2044, seeds[0]);
    assertEquals(1025, seeds[255]);
  }

  /** The error is largest at one of the ends of a slice. */
  private static double worst(int indexBits, int fractionBits) {
    long[] entries = MidpointTable.reciprocals(indexBits, fractionBits);
    double worst = 0;
    for (int i = 0; i < entries.length; i++) {
      for (int end = 0; end <= 1; end++) {
        double d = Math.scalb((double) entries.length + i + end, -indexBits - 1);
        worst = Math.max(worst, Math.abs(1 - d * Math.scalb((double) entries[i], -fractionBits)));
      }
    }
    return worst;
  }
}
