package dev.plumbline.lockstep;

import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.function.IntPredicate;

/**
 * Which of its sources a signal has taken: where in every row it has what one of them has while a
 * bit is 1, and what another one has while that is 0, it is what a multiplexer gives.
 */
final class Multiplexers {
  /** Rows of each kind in which both sources differ, so that it is told which was taken. */
  private static final int FEW = 4;

  private final List<SignalSlices> windows; // of the same signals

  Multiplexers(List<SignalSlices> windows) {
    this.windows = windows;
  }

  /**
   * The source that a signal without a register has taken in a row of the first window; -1 where it
   * takes none, or where it may be more than one.
   *
   * @param isRight whether a bit is known to be right there: by another one anything may be taken
   */
  int taken(int g, List<Integer> sources, int row, IntPredicate isRight) {
    Set<Integer> taken = new HashSet<>();
    int width = width(g);
    for (int bit : sources) {
      if (width(bit) != 1 || !isRight.test(bit)) {
        continue;
      }
      for (int one : sources) {
        for (int other : sources) {
          boolean areThree = one != other && bit != one && bit != other;
          if (areThree
              && width(one) == width
              && width(other) == width
              && isChoice(g, bit, one, other)) {
            taken.add(windows.get(0).bits(bit, 0, 1, row) == 1 ? one : other);
          }
        }
      }
    }
    return taken.size() == 1 ? taken.iterator().next() : -1;
  }

  private int width(int g) {
    return windows.get(0).signal(g).width();
  }

  private boolean isChoice(int g, int bit, int one, int other) {
    int width = width(g);
    int ones = 0;
    int others = 0;
    for (SignalSlices window : windows) {
      for (int row = 0; row < window.rows(); row++) {
        boolean isOne = window.bits(bit, 0, 1, row) == 1;
        long first = window.bits(one, 0, width, row);
        long second = window.bits(other, 0, width, row);
        if (window.bits(g, 0, width, row) != (isOne ? first : second)) {
          return false;
        }
        if (first != second) {
          ones += isOne ? 1 : 0;
          others += isOne ? 0 : 1;
        }
      }
    }
    return Math.min(ones, others) >= FEW;
  }
}
