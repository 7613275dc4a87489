package dev.plumbline.cosim;

import dev.plumbline.PlumblineException;
import dev.plumbline.text.PlainText;
import java.util.ArrayList;
import java.util.List;

/**
 * A model that can run no further; only closing it is left. Later calls throw an exception of the
 * same type whose cause is the first.
 */
public abstract class DutException extends PlumblineException {
  private static final long serialVersionUID = 1;

  private final long cycle;
  private final String text;

  DutException(String message, String reason, long cycle, String text, DutException cause) {
    super(message + printed(PlainText.lines(text), reason), cause);
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

  /**
   * Whether two models ended in the same way: by the same task or assertion at the same place.
   *
   * @param other of the same module
   * @return whatever the cycle and the message
   */
  public boolean isAlike(DutException other) {
    return getClass() == other.getClass();
  }

  /** The same for a call that comes after the end. */
  abstract DutException again();

  /**
   * The last lines are the ones that say why, each up to 200 characters; {@link #text} has more.
   * What the message has as its reason is left out.
   */
  private static String printed(String text, String reason) {
    List<String> lines = new ArrayList<>();
    for (String line : text.stripTrailing().split("\n", -1)) {
      String words = line.substring(line.lastIndexOf(": ") + 1).strip();
      boolean end = line.matches("(\\[\\d+] )?%(Error|Fatal): .*");
      boolean reported = end && !words.isEmpty() && reason.contains(words);
      if (!reported) {
        lines.add(line);
      }
    }
    if (lines.stream().allMatch(String::isBlank)) {
      return "";
    }
    int from = Math.max(0, lines.size() - 20);
    StringBuilder printed = new StringBuilder(System.lineSeparator());
    printed.append(from == 0 ? "it printed:" : "it printed, in its last 20 lines:");
    for (String line : lines.subList(from, lines.size())) {
      printed.append(System.lineSeparator()).append("  ").append(PlainText.quoted(line));
    }
    return printed.toString();
  }
}
