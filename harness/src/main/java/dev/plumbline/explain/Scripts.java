package dev.plumbline.explain;

import dev.plumbline.drive.Binding;
import dev.plumbline.drive.Engine;
import dev.plumbline.drive.Script;
import dev.plumbline.drive.Script.Line;
import java.util.ArrayList;
import java.util.List;

/** Scripts that are made of cases. */
final class Scripts {
  /** Rows in which results of a stream are waited for. */
  private static final int MOST_WAIT = 4_096;

  private Scripts() {}

  /** A reset, then cases one after the other. */
  static Script following(Binding binding, long seed, List<long[]> cases) {
    List<Line> lines = head(binding);
    cases.forEach(words -> lines.add(new Line(false, true, true, words)));
    return new Script(Engine.Start.ZEROS, seed, 0, lines);
  }

  /** The reset that a script begins with, to add to. */
  static List<Line> head(Binding binding) {
    List<Line> lines = new ArrayList<>();
    boolean hasReset = binding.contract().reset().port() != null;
    for (int i = 0; hasReset && i < binding.contract().reset().cycles(); i++) {
      boolean valid = binding.contract().flow().inValid() == null;
      lines.add(new Line(true, valid, true, zeros(binding)));
    }
    return lines;
  }

  static long[] zeros(Binding binding) {
    return new long
        [binding.contract().reference().inputs().stream()
            .mapToInt(operand -> operand.format().words())
            .sum()];
  }

  /** A row at which all results are there, or never come. */
  static long lastRow(Binding binding, Script script) {
    long each = Math.max(1, binding.rowsOf(binding.contract().flow().cyclesOfCase()));
    return script.lines().size() * each + MOST_WAIT;
  }
}
