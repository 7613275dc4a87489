package dev.plumbline.cosim;

import dev.plumbline.PlumblineException;
import dev.plumbline.text.PlainText;

/**
 * A model that can run no further; only closing it is left. Later calls throw an exception of the
 * same type whose cause is the first.
 */
public abstract class DutException extends PlumblineException {
  private static final long serialVersionUID = 1;

  private final long cycle;
  private final String text;

  DutException(String message, long cycle, String text, DutException cause) {
    super(text.isEmpty() ? message : message + said(PlainText.lines(text)), cause);
    this.cycle = cycle;
    this.text = text;
  }

  /**
   * In which cycle it ended.
   *
   * @return cycles since it was opened, the first one is 0; for a design without a clock rows
   */
  public long cycle() {
    return cycle;
  }

  /**
   * What the model had printed.
   *
   * @return the newest part of it
   */
  public String text() {
    return text;
  }

  /** The same for a call that comes after the end. */
  abstract DutException again();

  /** The last lines are the ones that tell why; {@link #text} has more. */
  private static String said(String text) {
    String[] lines = text.stripTrailing().split("\n", -1);
    int from = Math.max(0, lines.length - 20);
    StringBuilder said = new StringBuilder(System.lineSeparator());
    said.append(from == 0 ? "it printed:" : "it printed, in its last 20 lines:");
    for (int i = from; i < lines.length; i++) {
      said.append(System.lineSeparator()).append("  ").append(lines[i]);
    }
    return said.toString();
  }
}
