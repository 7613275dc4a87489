package dev.plumbline.samples;

import dev.plumbline.regression.Regression;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import java.util.OptionalDouble;

/**
 * The time of a night: {@code plumbline.minutes} from when Maven began, which {@code
 * plumbline.began} says. The planted faults come first and begin no more after a third; the
 * regression ends at four fifths, the sweeps with the night.
 */
public final class Night {
  private static final DateTimeFormatter BEGAN =
      DateTimeFormatter.ofPattern("yyyy-MM-dd'T'HH-mm-ss'Z'", Locale.ROOT);

  /** What there is at least, so that a night that is over still tries each bench. */
  private static final double LEAST = 1;

  private static final double FOR_FAULTS = 1.0 / 3;

  private Night() {}

  /**
   * When the night began, by which what there may be no time for is put in another order each
   * night.
   *
   * @return the time as Maven has it; empty where no night is set
   */
  public static String began() {
    return System.getProperty("plumbline.began", "");
  }

  /**
   * Whether faults may still be planted.
   *
   * @return true where no night is set, too
   */
  public static boolean hasTimeForFaults() {
    OptionalDouble left = left(FOR_FAULTS);
    return left.isEmpty() || left.getAsDouble() > LEAST;
  }

  /**
   * The time from now to a share of the night.
   *
   * @param share of all of it, 0 to 1
   * @return seconds; empty where no night is set
   */
  static OptionalDouble left(double share) {
    return left(share, System.getProperty("plumbline.minutes", ""), began(), Instant.now());
  }

  static OptionalDouble left(double share, String minutes, String began, Instant now) {
    if (minutes.isBlank() || began.isBlank()) {
      return OptionalDouble.empty();
    }
    Instant start = LocalDateTime.parse(began, BEGAN).toInstant(ZoneOffset.UTC);
    double spent = Duration.between(start, now).toMillis() / 1e3;
    return OptionalDouble.of(Math.max(LEAST, share * Regression.seconds(minutes) - spent));
  }
}
