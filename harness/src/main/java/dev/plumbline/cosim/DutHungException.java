package dev.plumbline.cosim;

import java.time.Duration;

/** A model that made no progress for as long as it was given, and was ended. */
public final class DutHungException extends DutException {
  private static final long serialVersionUID = 1;

  private final Duration timeout;

  DutHungException(String module, Duration timeout, long cycle, String text) {
    super(
        module
            + " did not get through cycle "
            + cycle
            + " within "
            + timeout.toMillis()
            + " ms; look for a loop that does not end, or allow more by withTimeout",
        "",
        cycle,
        text,
        null);
    this.timeout = timeout;
  }

  private DutHungException(DutHungException first) {
    super(
        "This model was ended in cycle " + first.cycle() + " and can only be closed",
        "",
        first.cycle(),
        "",
        first);
    this.timeout = first.timeout;
  }

  /**
   * How long it was given.
   *
   * @return the time
   */
  public Duration timeout() {
    return timeout;
  }

  @Override
  DutHungException again() {
    return new DutHungException(this);
  }
}
