package dev.plumbline.models.program;

import java.util.Locale;

/** A program as lines of text. */
final class Disassembly {
  private Disassembly() {}

  static String of(Program program, int marked) {
    StringBuilder text = new StringBuilder();
    int digits = String.valueOf(program.length() - 1).length();
    int indent = 0;
    for (int address = 0; address < program.length(); address++) {
      Operation operation = program.at(address);
      if (operation.kind() == OperationKind.CLOSE) {
        indent = 0;
      }
      text.append(
          String.format(
              Locale.ROOT,
              "%s%0" + digits + "d  %s%s%n",
              address == marked ? "-> " : "   ",
              address,
              "  ".repeat(indent),
              operation.text(program.formats())));
      indent += operation.kind() == OperationKind.BEGIN ? 1 : 0;
      indent += operation.kind() == OperationKind.CLOSE ? 0 : operation.kind().growth();
    }
    return text.toString().replace(System.lineSeparator(), "\n");
  }
}
