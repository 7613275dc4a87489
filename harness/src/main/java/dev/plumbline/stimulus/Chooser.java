package dev.plumbline.stimulus;

import java.util.List;

/**
 * Chooses parts of a mix by weight, for runs of 1 to 64 cases; the same for every cut into calls.
 */
final class Chooser {
  private static final int LONGEST_RUN = 64;

  private RandomStream stream;
  private final int[] upTo; // running sums of the weights
  private int chosen;
  private int left;

  Chooser(List<? extends Share<?>> shares, long seed) {
    this.stream = RandomStream.of(seed);
    this.upTo = new int[shares.size()];
    int sum = 0;
    for (int i = 0; i < upTo.length; i++) {
      sum = Math.addExact(sum, shares.get(i).weight());
      upTo[i] = sum;
    }
  }

  /** Chooses as one that is made with another seed. */
  void restart(long seed) {
    stream = RandomStream.of(seed);
    left = 0;
  }

  static void check(List<?> shares) {
    if (shares.isEmpty()) {
      throw new IllegalArgumentException("A mix of nothing cannot be drawn from; give a share.");
    }
  }

  /** How many of the next cases come from {@link #chosen}: 1 up to limit. */
  int run(int limit) {
    if (left == 0) {
      left = 1 + stream.below(LONGEST_RUN);
      int at = stream.below(upTo[upTo.length - 1]);
      chosen = 0;
      while (upTo[chosen] <= at) {
        chosen++;
      }
    }
    int run = Math.min(left, limit);
    left -= run;
    return run;
  }

  int chosen() {
    return chosen;
  }
}
