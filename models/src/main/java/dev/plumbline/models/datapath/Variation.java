package dev.plumbline.models.datapath;

/**
 * One step of a datapath that does something else than described, as a fault in hardware would.
 * Made and evaluated by {@link Variations}.
 */
public final class Variation {
  private final Kind kind;
  private final String words;
  private final Columns columns;
  private final Value value;
  private final Loop loop;
  private final Lane spoilt;

  /** What is changed. */
  public enum Kind {
    /** What belongs to a case before or after stands in the place of the case's own. */
    NEIGHBOUR,
    /** Another rounding. */
    ROUNDING,
    /** Wrapped for saturated, the reverse, or a limit left out. */
    OVERFLOW,
    /** A sign lost, or one where there is none. */
    SIGN,
    /** One value in the place of another. */
    EXCHANGED,
    /** A constant or an entry of a table. */
    CONSTANT,
    /** A comparison, or what depends on it. */
    DECISION,
    /** High bits lost, or all moved by one place. */
    WIDTH,
    /** One bit that is always the same. */
    STUCK_BIT
  }

  /**
   * A variation.
   *
   * @param loop runs in place of the step's own
   * @param spoilt the lane to be restored after the run, since nobody fills it; or null
   */
  Variation(Kind kind, String words, Columns columns, Value value, Loop loop, Lane spoilt) {
    this.kind = kind;
    this.words = words;
    this.columns = columns;
    this.value = value;
    this.loop = loop;
    this.spoilt = spoilt;
  }

  /**
   * What is changed.
   *
   * @return the kind
   */
  public Kind kind() {
    return kind;
  }

  /**
   * The change, in words.
   *
   * @return such as {@code step limited rounds half even}
   */
  @Override
  public String toString() {
    return words;
  }

  Columns columns() {
    return columns;
  }

  int index() {
    return value.index();
  }

  Loop loop() {
    return loop;
  }

  Lane spoilt() {
    return spoilt;
  }
}
