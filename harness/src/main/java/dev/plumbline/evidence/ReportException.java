package dev.plumbline.evidence;

import dev.plumbline.PlumblineException;

/** A file of a run that cannot be written or read; what was there before stays. */
public final class ReportException extends PlumblineException {
  private static final long serialVersionUID = 1;

  /**
   * Makes the exception.
   *
   * @param message what failed, the value, where, what was allowed, what to do
   * @param cause what lies behind it, or null
   */
  public ReportException(String message, Throwable cause) {
    super(message, cause);
  }
}
