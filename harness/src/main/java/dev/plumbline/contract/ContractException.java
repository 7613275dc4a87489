package dev.plumbline.contract;

/**
 * A contract that cannot be held against its design: a port that is not there, a width or a sign
 * that does not fit, promises that contradict each other.
 */
public class ContractException extends RuntimeException {
  private static final long serialVersionUID = 1;

  /**
   * Makes the exception.
   *
   * @param message what failed, the value, where, what is allowed, what to do
   */
  public ContractException(String message) {
    super(message);
  }
}
