package dev.plumbline.watch;

import dev.plumbline.PlumblineException;

/** What cannot be watched, and what could. */
public final class WatchException extends PlumblineException {
  private static final long serialVersionUID = 1;

  WatchException(String message, Throwable cause) {
    super(message, cause);
  }
}
