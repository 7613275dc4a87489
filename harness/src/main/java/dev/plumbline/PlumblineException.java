package dev.plumbline;

/**
 * Something that Plumbline was asked for and cannot do, or cannot do any more: every exception of
 * the harness is one, but for an argument out of its range, which is an {@link
 * IllegalArgumentException}.
 *
 * <p>The message has its parts in one order, in sentences: where in the source (its file and line,
 * first, with a colon); what failed and the value; what was allowed; what to do. What a program or
 * a DUT printed follows on lines of its own. The reference models have a family of their own,
 * {@code dev.plumbline.models.ModelException}, since they know nothing of the harness and {@code
 * cosim} knows nothing of them.
 */
public abstract class PlumblineException extends RuntimeException {
  private static final long serialVersionUID = 1;

  /**
   * Makes the exception.
   *
   * @param message what failed, the value, where, what was allowed, what to do
   * @param cause what lies behind it, or null
   */
  protected PlumblineException(String message, Throwable cause) {
    super(message, cause);
  }
}
