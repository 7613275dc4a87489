package dev.plumbline.verdict;

import java.util.List;

/**
 * Something to be reported of a verdict: a label in plain words and one line or several. Lines are
 * reported one below the other, aligned where the first begins.
 *
 * @param label such as "seed"
 * @param lines one or more, without line breaks
 */
public record Fact(String label, List<String> lines) {
  public Fact {
    lines = List.copyOf(lines);
    if (lines.isEmpty()) {
      throw new IllegalArgumentException(
          "Fact \"" + label + "\" has no lines; give it one or more.");
    }
  }

  /**
   * A fact of one line, or of several with line breaks between them.
   *
   * @param label such as "seed"
   * @param text what there is to report
   * @return the fact
   */
  public static Fact of(String label, String text) {
    return new Fact(label, text.lines().count() == 0 ? List.of("") : text.lines().toList());
  }
}
