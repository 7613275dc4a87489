package dev.plumbline.models.program;

import dev.plumbline.models.ModelException;

/**
 * A scene program that is not valid; the message gives the operation, what was allowed and what to
 * do.
 */
public final class ProgramException extends ModelException {
  private static final long serialVersionUID = 1L;

  /** Address of the operation. */
  private final int address;

  ProgramException(int address, String message) {
    super(message, null);
    this.address = address;
  }

  /**
   * Which operation is at fault.
   *
   * @return its address, counted from 0; the length of the program where one is missing
   */
  public int address() {
    return address;
  }
}
