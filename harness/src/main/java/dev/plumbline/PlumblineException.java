package dev.plumbline;

/**
 * Something that Plumbline was asked for and cannot do, or cannot do any more: every exception of
 * the harness is one, but for an argument out of its range, which is an {@link
 * IllegalArgumentException}, and a call out of turn, an {@link IllegalStateException}.
 *
 * <p>The message has its parts in one order, in sentences: where in the source, its file and line
 * with a colon behind; what failed, and the value; what was allowed; what to do. What a program or
 * a DUT printed follows on lines of its own. The reference models have a family of their own,
 * {@code dev.plumbline.models.ModelException}: they know nothing of the harness, and {@code cosim}
 * knows nothing of them, so no class could be the base of both.
 */
public abstract class PlumblineException extends RuntimeException {
  private static final long serialVersionUID = 1;

  /**
   * Makes the exception.
   *
   * @param message what failed and the value, what was allowed, what to do; further lines are what
   *     was printed. A full stop is put where the first paragraph ends without one
   * @param cause what lies behind it, or null
   */
  protected PlumblineException(String message, Throwable cause) {
    super(sentences(message), cause);
  }

  /**
   * Puts a place before what happened there.
   *
   * @param place such as {@code ball.sv:12}; empty where there is none
   * @param message what failed
   * @return the message, behind the place and a colon
   */
  protected static String at(String place, String message) {
    return place.isEmpty() ? message : place + ": " + message;
  }

  private static String sentences(String message) {
    int end = message.indexOf('\n');
    String first = (end < 0 ? message : message.substring(0, end)).stripTrailing();
    String rest = end < 0 ? "" : message.substring(end);
    boolean ended = first.isEmpty() || ".!?:".indexOf(first.charAt(first.length() - 1)) >= 0;
    return (ended ? first : first + ".") + rest;
  }
}
