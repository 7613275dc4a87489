package dev.plumbline.toolchain;

import dev.plumbline.PlumblineException;

/**
 * A tool chain or cache that cannot be used: which part, what was found, what was wanted, what to
 * do.
 */
public class ToolchainException extends PlumblineException {
  private static final long serialVersionUID = 1;

  /**
   * Makes the exception.
   *
   * @param message what failed and what to do
   * @param cause what lies behind it, or null
   */
  public ToolchainException(String message, Throwable cause) {
    super(message, cause);
  }

  /**
   * Makes the exception without a cause.
   *
   * @param message what failed and what to do
   */
  public ToolchainException(String message) {
    this(message, null);
  }
}
