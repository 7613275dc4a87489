package dev.plumbline.contract;

import dev.plumbline.PlumblineException;
import dev.plumbline.rtl.SourceLocation;

/**
 * A contract that cannot be held against its design: a port that is not there, a width or a sign
 * that does not fit, promises that contradict each other.
 */
public class ContractException extends PlumblineException {
  private static final long serialVersionUID = 1;

  /**
   * Makes the exception.
   *
   * @param message what failed, the value, where, what is allowed, what to do
   */
  public ContractException(String message) {
    super(message, null);
  }

  /**
   * Makes the exception with its cause.
   *
   * @param message what failed, the value, where, what is allowed, what to do
   * @param cause what was thrown before
   */
  public ContractException(String message, Throwable cause) {
    super(message, cause);
  }

  /**
   * Makes the exception for a place in the RTL.
   *
   * @param place of the port or whatever it is about
   * @param message what failed, the value, what is allowed, what to do
   */
  public ContractException(SourceLocation place, String message) {
    super(at(place.file().isEmpty() ? "" : place.toString(), message), null);
  }
}
