package dev.plumbline.toolchain;

import dev.plumbline.rtl.RtlException.Message;
import dev.plumbline.text.PlainText;
import java.io.PrintStream;
import java.util.List;
import java.util.Set;

/**
 * What Verilator warns of while a design is built. It is shown once a build, since a warning ends
 * none. Property {@code plumbline.warnings} is {@code all}, {@code none}, or the codes to show,
 * such as {@code WIDTH,LATCH}.
 */
final class LintWarnings {
  static final String PROPERTY = "plumbline.warnings";
  private static final int MOST = 12;

  private LintWarnings() {}

  /** Prints those that are asked for, the first few of them in full. */
  static void print(PrintStream to, String name, List<Message> messages, String wanted) {
    List<Message> warnings =
        messages.stream()
            .filter(message -> message.text().startsWith("warning"))
            .filter(message -> isWanted(message.text(), wanted))
            .toList();
    if (warnings.isEmpty()) {
      return;
    }
    StringBuilder text = new StringBuilder("Plumbline: Verilator warns of " + name + " (");
    text.append(warnings.size() == 1 ? "1 warning" : warnings.size() + " warnings");
    text.append("; -D" + PROPERTY + "=none leaves them out)\n");
    warnings.stream()
        .limit(MOST)
        .forEach(
            message -> text.append("  ").append(PlainText.line(message.toString())).append('\n'));
    if (warnings.size() > MOST) {
      text.append("  and ").append(warnings.size() - MOST).append(" more\n");
    }
    to.print(text); // in one piece, also when several designs are built
  }

  private static boolean isWanted(String text, String wanted) {
    if (wanted.equals("none")) {
      return false;
    }
    if (wanted.isEmpty() || wanted.equals("all")) {
      return true;
    }
    String code = text.substring("warning".length(), text.indexOf(':')).strip();
    return Set.of(wanted.split(",", -1)).contains(code);
  }
}
