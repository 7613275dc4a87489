package dev.plumbline.cosim;

import dev.plumbline.PlumblineException;

/**
 * A port that is not there, or that cannot be used as asked: the name, what was wrong, what there
 * is instead.
 */
public class PortException extends PlumblineException {
  private static final long serialVersionUID = 1;

  /**
   * Makes the exception.
   *
   * @param message what failed and what to do
   */
  public PortException(String message) {
    super(message, null);
  }
}
