package dev.plumbline.cosim;

import dev.plumbline.rtl.SourceLocation;
import dev.plumbline.toolchain.HostProcess;
import java.util.Optional;

/** A model that ended itself: by a system task, a failed assertion, logic that never settles. */
public final class DutEndedException extends DutException {
  private static final long serialVersionUID = 1;

  /** Most of a file's name in a message. */
  private static final int LONGEST = 200;

  private final Kind kind;
  private final transient SourceLocation location;
  private final String reason;
  private final int signal;

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
    INTERNAL("failed in its native code"),
    /** Its process, of a model that runs in one of its own, is gone. */
    CRASHED("crashed");

    private final String words;

    Kind(String words) {
      this.words = words;
    }
  }

  DutEndedException(
      String module, Kind kind, SourceLocation location, String reason, long cycle, String text) {
    this(module, kind, location, reason, cycle, text, 0);
  }

  private DutEndedException(
      String module,
      Kind kind,
      SourceLocation location,
      String reason,
      long cycle,
      String text,
      int signal) {
    super(
        at(
            place(location),
            module
                + " "
                + kind.words
                + " in cycle "
                + cycle
                + (reason.isEmpty() ? "" : ": " + reason)),
        reason,
        cycle,
        text,
        null);
    this.kind = kind;
    this.location = location;
    this.reason = reason;
    this.signal = signal;
  }

  /** Where it ended, for a message: the end of a file's name, which the design may have made. */
  private static String place(SourceLocation location) {
    String file = location.file();
    int from = Math.max(0, file.length() - LONGEST);
    return file.isEmpty()
        ? ""
        : new SourceLocation((from > 0 ? "..." : "") + file.substring(from), location.line())
            .toString();
  }

  /** The end of a process: how, and what was known before. */
  static DutEndedException crashed(
      String module, HostProcess.Ending ending, String message, long cycle, String text) {
    String reason = "its process ended by " + ending + (message.isEmpty() ? "" : ": " + message);
    SourceLocation nowhere = new SourceLocation("", 0);
    return new DutEndedException(
        module, Kind.CRASHED, nowhere, reason, cycle, text, ending.signal());
  }

  private DutEndedException(DutEndedException first) {
    super(
        "This model has ended in cycle " + first.cycle() + " and can only be closed",
        "",
        first.cycle(),
        "",
        first);
    this.kind = first.kind;
    this.location = first.location;
    this.reason = first.reason;
    this.signal = first.signal;
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

  /**
   * The signal that ended the model's process.
   *
   * @return its number; empty unless it crashed by one
   */
  public Optional<Integer> signal() {
    return signal == 0 ? Optional.empty() : Optional.of(signal);
  }

  @Override
  public boolean isAlike(DutException other) {
    return other instanceof DutEndedException ended
        && kind == ended.kind
        && location.equals(ended.location);
  }

  /**
   * What ended it, and where, in a few words.
   *
   * @return such as {@code failed an assertion at gear.sv:17}
   */
  public String brief() {
    String place = place(location);
    return kind.words + (place.isEmpty() ? "" : " at " + place);
  }

  @Override
  DutEndedException again() {
    return new DutEndedException(this);
  }
}
