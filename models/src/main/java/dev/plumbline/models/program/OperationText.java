package dev.plumbline.models.program;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.parsing.Tokens;
import java.math.BigDecimal;
import java.math.BigInteger;
import java.util.List;
import java.util.Locale;

/** Reads an operation as {@link Operation#text} writes it. */
final class OperationText {
  private final String text;
  private final String[] words;
  private int next;

  OperationText(String text) {
    this.text = text;
    this.words = text.strip().split("\\s+", -1);
  }

  Operation read(SceneFormats formats) {
    OperationKind kind = kind(words[next++]);
    List<String> names = kind.operands();
    long[] operands = new long[names.size()];
    for (int i = 0; i < operands.length; i++) {
      operands[i] = code(names.get(i), formats.operand(names.get(i)));
    }
    Operation read =
        kind.isSolid()
            ? Operation.solid(kind, number("material"), operands)
            : kind == OperationKind.SKIP
                ? Operation.skip(number("to"), operands)
                : Operation.of(kind);
    if (next < words.length) {
      throw refused("\"" + Tokens.shown(words[next]) + "\" is too much", "nothing behind " + kind);
    }
    return read;
  }

  private OperationKind kind(String word) {
    for (OperationKind kind : OperationKind.values()) {
      if (kind.toString().equals(word)) {
        return kind;
      }
    }
    throw refused(
        "\"" + Tokens.shown(word) + "\" is no operation",
        String.join(", ", List.of(OperationKind.values()).stream().map(Object::toString).toList()));
  }

  private String word(String what) {
    if (next == words.length) {
      throw refused("its " + what + " is missing", "an operation with all it takes");
    }
    return words[next++];
  }

  /** An operand as a real number that is a code. */
  private long code(String name, Format format) {
    String word = word(name);
    try {
      if (word.length() <= 100) {
        BigDecimal number = new BigDecimal(word);
        if (Math.abs((long) number.scale()) <= 100) {
          BigInteger code =
              number
                  .multiply(new BigDecimal(BigInteger.ONE.shiftLeft(format.fractionBits())))
                  .toBigIntegerExact();
          if (format.holds(code)) {
            return code.longValueExact();
          }
        }
      }
    } catch (ArithmeticException | NumberFormatException e) {
      // refused below
    }
    throw refused(
        name + " is \"" + Tokens.shown(word) + "\"",
        String.format(Locale.ROOT, "a number that %s holds exactly", format));
  }

  private int number(String label) {
    String word = word(label);
    String digits = word.equals(label) ? word(label) : "";
    if (!digits.matches("\\d{1,9}")) {
      throw refused(
          "\"" + Tokens.shown(word) + "\" stands where " + label + " is due",
          label + " and a whole number from 0 on");
    }
    return Integer.parseInt(digits);
  }

  private IllegalArgumentException refused(String what, String allowed) {
    return new IllegalArgumentException(
        "Operation \""
            + Tokens.shown(text)
            + "\": "
            + what
            + "; allowed is "
            + allowed
            + ". Mend it.");
  }
}
