package dev.plumbline.models.parsing;

import dev.plumbline.models.ModelException;

/**
 * A scene or a word layout that is not valid; the message gives what stood where, what was allowed
 * there and what to do.
 */
public final class TextException extends ModelException {
  private static final long serialVersionUID = 1L;

  /** From 1; 0 where there is no text. */
  private final int line;

  /** From 1; 0 where there is no text. */
  private final int column;

  public TextException(Location place, String message, Throwable cause) {
    super(message, cause);
    this.line = place.line();
    this.column = place.column();
  }

  /**
   * The line of the text.
   *
   * @return counted from 1; 0 for a scene that was not read from a text
   */
  public int line() {
    return line;
  }

  /**
   * The column of the text.
   *
   * @return counted from 1 in characters, a tab being one; 0 for a scene that was not read from a
   *     text
   */
  public int column() {
    return column;
  }
}
