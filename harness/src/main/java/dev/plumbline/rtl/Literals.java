package dev.plumbline.rtl;

import dev.plumbline.text.PlainText;
import java.math.BigInteger;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Literals as Verilog writes them and as Verilator's options take them. */
final class Literals {
  private static final Pattern NEGATIVE_SIZED =
      Pattern.compile("-\\s*(\\d[\\d_]*)\\s*'([sS]?)([hHdDoObB])\\s*([0-9a-fA-F_]+)");

  /** The widest number that Verilator takes unless it is set otherwise. */
  private static final int WIDEST = 1 << 16;

  private Literals() {}

  /**
   * A literal in the words of Verilator's {@code -G}, which takes backslashes in strings as they
   * stand, ends a string at the next double quote, and refuses the sign before a sized number.
   */
  static String forOverride(String parameter, String literal) {
    String text = literal.strip();
    if (text.length() > 1 && text.startsWith("\"") && text.endsWith("\"")) {
      String plain = unescape(text.substring(1, text.length() - 1));
      if (plain.indexOf('"') >= 0) {
        throw new RtlException(
            "Parameter \""
                + parameter
                + "\" cannot be overridden by "
                + PlainText.quoted(literal)
                + ": Verilator takes no double quote inside a string there; set it in a wrapper"
                + " module",
            List.of());
      }
      return '"' + plain + '"';
    }
    Matcher negative = NEGATIVE_SIZED.matcher(text);
    if (!negative.matches()) {
      return text;
    }
    try {
      int width = Integer.parseInt(negative.group(1).replace("_", ""));
      String digits = negative.group(4).replace("_", "");
      BigInteger value =
          new BigInteger(digits, Constants.radix(negative.group(3).toLowerCase(Locale.ROOT)));
      if (width > 0 && width <= WIDEST) {
        BigInteger bits = value.negate().mod(BigInteger.ONE.shiftLeft(width));
        return width + "'" + negative.group(2) + "h" + bits.toString(16);
      }
    } catch (NumberFormatException e) {
      // Reported below, in the same words as a width that nothing has.
    }
    throw new RtlException(
        "Parameter \""
            + parameter
            + "\" cannot be overridden by "
            + PlainText.quoted(literal)
            + ": a sized number has 1 to "
            + WIDEST
            + " bits and digits of its base",
        List.of());
  }

  /** Text with its backslash escapes replaced by what they stand for (IEEE 1800-2017, 5.9.1). */
  static String unescape(String text) {
    StringBuilder plain = new StringBuilder();
    for (int i = 0; i < text.length(); i++) {
      char c = text.charAt(i);
      if (c != '\\' || i + 1 == text.length()) {
        plain.append(c);
        continue;
      }
      char escaped = text.charAt(++i);
      switch (escaped) {
        case 'n' -> plain.append('\n');
        case 't' -> plain.append('\t');
        case 'v' -> plain.append('\u000b');
        case 'f' -> plain.append('\f');
        case 'a' -> plain.append('\u0007');
        case 'r' -> plain.append('\r');
        case 'x' -> {
          int end = digits(text, i + 1, 2, 16);
          String code = text.substring(i + 1, end);
          plain.append(code.isEmpty() ? 'x' : (char) Integer.parseInt(code, 16));
          i = end - 1;
        }
        case '0', '1', '2', '3', '4', '5', '6', '7' -> {
          int end = digits(text, i, 3, 8);
          plain.append((char) Integer.parseInt(text.substring(i, end), 8));
          i = end - 1;
        }
        default -> plain.append(escaped);
      }
    }
    return plain.toString();
  }

  /** Bytes that came one a character, read as UTF-8 where they are that. */
  static String utf8(String bytes) {
    if (bytes.chars().allMatch(c -> c < 0x80) || bytes.chars().anyMatch(c -> c > 0xff)) {
      return bytes;
    }
    try {
      return StandardCharsets.UTF_8
          .newDecoder()
          .decode(ByteBuffer.wrap(bytes.getBytes(StandardCharsets.ISO_8859_1)))
          .toString();
    } catch (CharacterCodingException e) {
      return bytes;
    }
  }

  private static int digits(String text, int from, int atMost, int radix) {
    int end = from;
    while (end < text.length()
        && end < from + atMost
        && Character.digit(text.charAt(end), radix) >= 0) {
      end++;
    }
    return end;
  }
}
