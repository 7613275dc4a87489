package dev.plumbline.models.datapath;

import java.util.List;

/**
 * One step of a datapath that does something else than described, as a fault in hardware would, or
 * several steps alike: a block that stands there three times has its fault three times. Made and
 * evaluated by {@link Variations}.
 */
public final class Variation {
  private final Kind kind;
  private final String words;
  private final List<Part> parts;

  /**
   * The change of one step.
   *
   * @param loop runs in place of the step's own
   * @param spoilt the lane to be restored after the run, since nobody fills it; or null
   * @param atEnd whether it runs after all steps instead: what others took of the step stays
   */
  record Part(Columns columns, Value value, Loop loop, Lane spoilt, boolean atEnd) {
    Part(Columns columns, Value value, Loop loop, Lane spoilt) {
      this(columns, value, loop, spoilt, false);
    }

    /** What the step gives. */
    Lane result() {
      return columns.lane(value);
    }

    /** Exchanges the step's loop for another, and says what it was. */
    Loop exchange(Loop other) {
      Loop before = columns.loops()[value.index()];
      columns.loops()[value.index()] = other;
      return before;
    }
  }

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

  Variation(Kind kind, String words, List<Part> parts) {
    this.kind = kind;
    this.words = words;
    this.parts = List.copyOf(parts);
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
   * How many steps are changed.
   *
   * @return 1, or more where steps are changed alike
   */
  public int places() {
    return parts.size();
  }

  /**
   * Whether it takes one decision for another.
   *
   * @return whether the kind is {@link Kind#EXCHANGED} and every changed step gives one bit
   */
  public boolean isOtherFlag() {
    return kind == Kind.EXCHANGED
        && parts.stream().allMatch(part -> part.value().format().width() == 1);
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

  List<Part> parts() {
    return parts;
  }
}
