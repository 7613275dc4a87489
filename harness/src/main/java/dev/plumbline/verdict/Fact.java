package dev.plumbline.verdict;

import dev.plumbline.models.datapath.Operand;
import java.util.ArrayList;
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

  /**
   * What a DUT was given in a row.
   *
   * @param operands the inputs, one or more
   * @param row with a code for each
   * @return fact "inputs", a line each: name, bits, value
   */
  public static Fact inputs(List<Operand> operands, Row row) {
    List<String> lines = new ArrayList<>();
    for (int i = 0; i < operands.size(); i++) {
      lines.add(CodeText.operand(operands.get(i), row.inputs().get(i)));
    }
    return new Fact("inputs", lines);
  }
}
