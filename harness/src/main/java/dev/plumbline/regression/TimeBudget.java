package dev.plumbline.regression;

import dev.plumbline.report.BenchRecord;
import java.util.List;
import java.util.function.LongSupplier;

/**
 * A time that benches share by need. A bench is first tried on a few cases, which tells its rate;
 * then it gets as many cases as its share of the time that is left has room for, so that what one
 * leaves the next ones have.
 *
 * <p>Need is a weight: 1; three times that where the bench was not green in one of its last five
 * runs; twice where its rarest coverage point was met by fewer than 100 cases in the last run, and
 * twice where it was not run before.
 */
final class TimeBudget {
  /** Cases that a bench is tried on. */
  static final long TRIAL = 20_000;

  static final long LONGEST_TRIAL = 2_000_000;

  /** A trial may cost this share of a bench's time. */
  private static final double SHORT = 0.05;

  private static final long MOST = 1L << 40;
  private static final int LAST = 5;
  private static final long RARE = 100;

  private final long end;
  private final LongSupplier clock;

  /** A budget that begins now; the clock tells nanoseconds. */
  TimeBudget(double seconds, LongSupplier clock) {
    this.clock = clock;
    this.end = clock.getAsLong() + (long) (seconds * 1e9);
  }

  /** Seconds; 0 when the time is over. */
  double left() {
    return Math.max(0, (end - clock.getAsLong()) / 1e9);
  }

  static double weight(List<BenchRecord> before) {
    if (before.isEmpty()) {
      return 2;
    }
    List<BenchRecord> last = before.subList(Math.max(0, before.size() - LAST), before.size());
    long rarest = last.get(last.size() - 1).rarestPoint();
    double weight = last.stream().allMatch(BenchRecord::passed) ? 1 : 3;
    return rarest >= 0 && rarest < RARE ? 2 * weight : weight;
  }

  /** Whether a trial was over so soon that ten times its cases tell more. */
  boolean isTooShort(double share, double trialSeconds) {
    return trialSeconds < SHORT * left() * share;
  }

  /** How many cases find room in a share of the time that is left, and no fewer than were tried. */
  long cases(double share, long tried, double trialSeconds) {
    double rate = tried / Math.max(trialSeconds, 1e-3);
    return Math.max(tried, (long) Math.min(MOST, left() * share * rate));
  }

  /**
   * Minutes as a property says.
   *
   * @return seconds; 0 where it is not set
   */
  static double seconds(String text) {
    if (text.isBlank()) {
      return 0;
    }
    if (!text.strip().matches("[0-9]{1,6}(\\.[0-9]{1,3})?") || Double.parseDouble(text) <= 0) {
      throw new IllegalArgumentException(
          "Property plumbline.minutes cannot be \""
              + text
              + "\"; a number of minutes above 0, such as 90 or 0.5, is allowed.");
    }
    return 60 * Double.parseDouble(text.strip());
  }
}
