package dev.plumbline.cosim;

import java.time.Duration;

/** A model that made no progress for as long as it was given, and was ended. */
public final class DutHungException extends DutException {
  private static final long serialVersionUID = 1;

  private final Duration patience;

  DutHungException(String module, Duration patience, long cycle, String text) {
    super(
        module
            + " did not get through cycle "
            + cycle
            + " within "
            + patience.toMillis()
            + " ms; look for a loop that does not end, or allow more by withPatience",
        cycle,
        text,
        null);
    this.patience = patience;
  }

  private DutHungException(DutHungException first) {
    super(
        "this model was ended in cycle " + first.cycle() + " and can only be closed",
        first.cycle(),
        "",
        first);
    this.patience = first.patience;
  }

  /**
   * How long it was given.
   *
   * @return the time
   */
  public Duration patience() {
    return patience;
  }

  @Override
  DutHungException again() {
    return new DutHungException(this);
  }
}
