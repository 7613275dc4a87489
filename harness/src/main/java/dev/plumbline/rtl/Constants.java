package dev.plumbline.rtl;

import java.math.BigInteger;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Numbers as Verilator prints elaborated constants: {@code 32'shc}, {@code 8'b1x0z1010}. */
final class Constants {
  private static final Pattern NUMBER =
      Pattern.compile("([1-9]\\d{0,8})'(s?)([hbdo])([0-9a-fA-F]+)");

  private Constants() {}

  /** The value, or empty when the text is no number or has x or z digits. */
  static Optional<BigInteger> number(String text, boolean signed) {
    Matcher matcher = NUMBER.matcher(text);
    if (!matcher.matches()) {
      return Optional.empty();
    }
    int width = Integer.parseInt(matcher.group(1));
    BigInteger value = new BigInteger(matcher.group(4), radix(matcher.group(3)));
    boolean negative = (signed || !matcher.group(2).isEmpty()) && value.testBit(width - 1);
    return Optional.of(negative ? value.subtract(BigInteger.ONE.shiftLeft(width)) : value);
  }

  /**
   * The place that a selection counts from its lowest, or -1 when it is not constant. Verilator may
   * give such a number a signed type in which it does not fit.
   */
  static int place(Node node) {
    return node.is("const")
        ? number(node.name, false)
            .filter(value -> value.bitLength() < Integer.SIZE)
            .map(BigInteger::intValue)
            .orElse(-1)
        : -1;
  }

  static int radix(String base) {
    return switch (base) {
      case "h" -> 16;
      case "d" -> 10;
      case "o" -> 8;
      default -> 2;
    };
  }

  /** The value of a {@code const} node, or empty when the node is something else. */
  static Optional<BigInteger> number(Node node) {
    return node.is("const")
        ? number(node.name, node.type != null && node.type.flag("signed"))
        : Optional.empty();
  }

  /** The bits of a number that holds text, as text: eight a character, leading zeros dropped. */
  static String text(BigInteger value) {
    StringBuilder text = new StringBuilder();
    for (BigInteger rest = value; rest.signum() > 0; rest = rest.shiftRight(8)) {
      text.insert(0, (char) (rest.intValue() & 0xff));
    }
    return Literals.utf8(text.toString());
  }
}
