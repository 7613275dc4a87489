package dev.plumbline.drive;

import dev.plumbline.stimulus.RandomStream;

/** Cycles between resets: drawn evenly from 1 to twice the mean less 1. */
public final class ResetGaps {
  private final RandomStream stream;
  private final int mean; // 0: never again

  /** Gaps by the chance of a reset in a cycle; 0 for none. */
  public ResetGaps(double chance, RandomStream stream) {
    this.stream = stream;
    this.mean = chance > 0 ? (int) Math.max(1, Math.min(1 << 30, Math.rint(1 / chance))) : 0;
  }

  /** The next gap; half of the largest long where there is no further reset. */
  public long next() {
    return mean == 0 ? Long.MAX_VALUE / 2 : 1 + stream.below(2 * mean - 1);
  }
}
