package dev.plumbline.models.datapath;

import static dev.plumbline.models.datapath.Variation.Kind.DECISION;
import static dev.plumbline.models.datapath.Variation.Kind.WIDTH;

/**
 * What may go wrong inside a root that is found digit by digit, as most hardware finds it (M. D.
 * Ercegovac, T. Lang, Division and Square Root: Digit-Recurrence Algorithms and Implementations,
 * Kluwer 1994): a digit is 1 where what it adds to the square still fits.
 */
final class RootVariations {
  /** Bits that the remainder may lack. */
  private static final int MOST_LOST = 3;

  private RootVariations() {}

  static void of(Step root, VariationMaker maker) {
    Lane from = maker.columns().lane(root.operand(0));
    Lane to = maker.columns().lane(maker.value());
    int digits = (root.operand(0).format().width() + 1) / 2;
    maker.after(DECISION, "misses every exact fit", missed(from, to, -1));
    for (int digit = 0; digit < digits; digit++) {
      maker.after(DECISION, "misses an exact fit at digit " + digit, missed(from, to, digit));
    }
    if (from.high == null) {
      for (int lost = 1; lost <= MOST_LOST; lost++) {
        int kept = digits + 1 - lost;
        if (kept > 0) {
          maker.replaced(
              WIDTH,
              "keeps " + kept + " bits of its remainder",
              count -> narrow(from, to, digits, kept, count));
        }
      }
    }
  }

  /** A digit that misses an exact fit leaves all below it at 1: the root of a square is 1 less. */
  private static LaneChange missed(Lane from, Lane to, int digit) {
    return (lane, count) -> {
      for (int i = 0; i < count; i++) {
        long root = to.low[i];
        boolean exact =
            root > 0
                && root * root == from.low[i]
                && Math.multiplyHigh(root, root) == (from.high == null ? 0 : from.high[i]);
        boolean here = digit < 0 || Long.numberOfTrailingZeros(root) == digit;
        to.low[i] = exact && here ? root - 1 : root;
      }
    };
  }

  private static void narrow(Lane from, Lane to, int digits, int kept, int count) {
    long mask = (1L << kept) - 1;
    for (int i = 0; i < count; i++) {
      long root = 0;
      long remainder = 0;
      for (int digit = digits - 1; digit >= 0; digit--) {
        long down = remainder << 2 | from.low[i] >>> 2 * digit & 3;
        long needed = root << 2 | 1;
        boolean fits = down >= needed;
        root = root << 1 | (fits ? 1 : 0);
        remainder = (fits ? down - needed : down) & mask;
      }
      to.low[i] = root;
    }
  }
}
