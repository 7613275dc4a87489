package dev.plumbline.models;

/**
 * A datapath, a program, a scene or a layout that cannot be: every exception of the models is one,
 * but for an argument out of its range, which is an {@link IllegalArgumentException}. Its message
 * says where, what failed and the value, what was allowed and what to do, in this order.
 */
public abstract class ModelException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  /**
   * Makes the exception.
   *
   * @param message where, what failed, what was allowed, what to do; a full stop is put where it
   *     ends without one
   * @param cause what lies behind it, or null
   */
  protected ModelException(String message, Throwable cause) {
    super(message.matches("(?s).*[.!?]") ? message : message + ".", cause);
  }
}
