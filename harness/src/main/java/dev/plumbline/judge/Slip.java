package dev.plumbline.judge;

import dev.plumbline.drive.OutputCheck;
import java.util.Arrays;
import java.util.function.IntPredicate;

/**
 * Watches for a stream whose results stand some places away from where they are looked for, because
 * a result was lost (places above 0) or came without a case (below 0).
 */
public final class Slip {
  /** Most places that are tried. */
  public static final int FARTHEST = 4;

  /** Results in turn that have to fit; more than a diagnosis looks at. */
  private static final int RUN = 2 * ResultOrder.RUN;

  /** Results of the run that are wrong where they stand, so that a constant is not believed. */
  private static final int WRONG = RUN / 4;

  /** Bits that have to fit, since a few bits fit by chance. */
  private static final int BITS = 32;

  private final int run;
  private final int[] fits = new int[2 * FARTHEST + 1]; // by places: results in turn
  private final int[] wrong = new int[2 * FARTHEST + 1]; // of these: wrong where they stand
  private final long[] before = new long[2 * FARTHEST + 1]; // mismatches before the first of those
  private int watch; // results for which places are still tried
  private long found;

  Slip(OutputCheck[] checks) {
    int bits = 0;
    for (OutputCheck check : checks) {
      bits += check.operand().format().width();
    }
    this.run = Math.max(RUN, (BITS + bits - 1) / bits);
  }

  /**
   * Takes note of a result.
   *
   * @param outside whether it is wrong where it stands
   * @param mismatches counted before it
   * @param fitsAt whether it would be right so many places on
   * @return how many places on the stream stands; 0 while that is not known to differ
   */
  int result(boolean outside, long mismatches, IntPredicate fitsAt) {
    watch = outside ? run : watch - 1;
    if (watch == 0) {
      forget(); // all is well again
      return 0;
    }
    for (int places = -FARTHEST; places <= FARTHEST; places++) {
      int i = places + FARTHEST;
      if (places == 0 || !fitsAt.test(places)) {
        fits[i] = 0;
        wrong[i] = 0;
        continue;
      }
      fits[i]++;
      if (outside && wrong[i]++ == 0) {
        before[i] = mismatches;
      }
      if (fits[i] >= run && wrong[i] >= WRONG) {
        found = before[i];
        forget();
        return places;
      }
    }
    return 0;
  }

  /** Whether right results are to be reported as well, because some were wrong lately. */
  boolean isWatching() {
    return watch > 0;
  }

  /** Mismatches counted before the run that showed the slip. */
  long before() {
    return found;
  }

  /** Begins anew. */
  void forget() {
    Arrays.fill(fits, 0);
    Arrays.fill(wrong, 0);
    watch = 0;
  }
}
