package dev.plumbline.bus;

import dev.plumbline.PlumblineException;

/** A transfer that did not end, or a register file in text that cannot be read. */
public final class BusException extends PlumblineException {
  private static final long serialVersionUID = 1L;

  BusException(String message) {
    super(message, null);
  }
}
