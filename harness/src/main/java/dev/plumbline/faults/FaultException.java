package dev.plumbline.faults;

import dev.plumbline.PlumblineException;

/** A fault that cannot be planted, mostly since the RTL has changed where it was to stand. */
public final class FaultException extends PlumblineException {
  private static final long serialVersionUID = 1;

  FaultException(String message) {
    super(message, null);
  }
}
