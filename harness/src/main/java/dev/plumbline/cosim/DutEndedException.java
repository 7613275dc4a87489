package dev.plumbline.cosim;

import dev.plumbline.rtl.SourceLocation;

/** A model that ended itself: by a system task, a failed assertion, logic that never settles. */
public final class DutEndedException extends DutException {
  private static final long serialVersionUID = 1;

  private final Kind kind;
  private final transient SourceLocation location;
  private final String reason;

  /** What ended it. */
  public enum Kind {
    /** {@code $finish}; the cycle in which it was called is complete and counts. */
    FINISH("called $finish"),
    /** {@code $stop}. */
    STOP("called $stop"),
    /** {@code $error} outside an assertion. */
    ERROR("called $error"),
    /** {@code $fatal}, or an end that Verilator's run-time library asked for. */
    FATAL("called $fatal"),
    /** An assertion, {@code unique} or {@code priority} that does not hold. */
    ASSERTION("failed an assertion"),
    /** Logic that changes for ever within a cycle. */
    NOT_SETTLED("never settled"),
    /** A memory file that is missing or cannot be read. */
    MEMORY_FILE("could not read a memory file"),
    /** An error inside the native code that is none of these. */
    INTERNAL("failed in its native code");

    private final String words;

    Kind(String words) {
      this.words = words;
    }
  }

  DutEndedException(
      String module, Kind kind, SourceLocation location, String reason, long cycle, String text) {
    super(
        at(
            location.file().isEmpty() ? "" : location.toString(),
            module
                + " "
                + kind.words
                + " in cycle "
                + cycle
                + (reason.isEmpty() ? "" : ": " + reason)),
        cycle,
        text,
        null);
    this.kind = kind;
    this.location = location;
    this.reason = reason;
  }

  private DutEndedException(DutEndedException first) {
    super(
        "This model has ended in cycle " + first.cycle() + " and can only be closed",
        first.cycle(),
        "",
        first);
    this.kind = first.kind;
    this.location = first.location;
    this.reason = first.reason;
  }

  /**
   * What ended it.
   *
   * @return the kind
   */
  public Kind kind() {
    return kind;
  }

  /**
   * Where in the source.
   *
   * @return the place; its file is empty when there is none
   */
  public SourceLocation location() {
    return location;
  }

  /**
   * The message that went with it.
   *
   * @return the message; may be empty
   */
  public String reason() {
    return reason;
  }

  @Override
  DutEndedException again() {
    return new DutEndedException(this);
  }
}
