package dev.plumbline.models.program;

import dev.plumbline.models.parsing.Tokens;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;

/**
 * Memory contents as text that {@code $readmemh} takes (IEEE 1800-2017, 21.4): hexadecimal words
 * apart by white space, underscores between digits, both kinds of comments, {@code @address} in
 * hexadecimal.
 */
public final class MemoryFile {
  private MemoryFile() {}

  /**
   * Writes words from address 0, one a line, each with all its digits.
   *
   * @param words 0 or more each
   * @param width bits of a word; it sets the number of digits
   * @param remarks a comment for each word, or an empty list for none
   * @param out where to; left open
   */
  public static void write(BigInteger[] words, int width, List<String> remarks, Appendable out) {
    int digits = (width + 3) / 4;
    try {
      for (int i = 0; i < words.length; i++) {
        String hex = words[i].toString(16);
        out.append("0".repeat(Math.max(0, digits - hex.length()))).append(hex);
        if (!remarks.isEmpty()) {
          out.append(" // ").append(remarks.get(i));
        }
        out.append('\n');
      }
    } catch (IOException e) {
      throw new UncheckedIOException(
          "Memory file not written: " + e.getMessage() + "; what it is written to has to take it.",
          e);
    }
  }

  /**
   * Reads words; addresses that the text jumps over are zero.
   *
   * @param text the whole file
   * @param width bits of a word
   * @param words of the memory; the text may have fewer
   * @return the words from address 0 to the last one given
   * @throws IllegalArgumentException with the line when something is no word, too wide or beyond
   *     the memory
   */
  public static List<BigInteger> read(String text, int width, int words) {
    BigInteger[] memory = new BigInteger[words];
    Arrays.fill(memory, BigInteger.ZERO);
    int next = 0;
    int used = 0;
    int line = 0;
    for (String row : withoutComments(text).split("\n", -1)) {
      line++;
      for (String token : row.trim().split("\\s+", -1)) {
        if (token.isEmpty()) {
          continue;
        }
        boolean isAddress = token.startsWith("@");
        BigInteger value = hex(isAddress ? token.substring(1) : token, token, line);
        if (isAddress ? value.bitLength() > 31 : next >= words || value.bitLength() > width) {
          throw new IllegalArgumentException(
              "Memory file, line "
                  + line
                  + ": \""
                  + Tokens.shown(token)
                  + "\" "
                  + (next >= words ? "at address " + next : "")
                  + " does not fit: the memory has "
                  + words
                  + " words of "
                  + width
                  + " bits.");
        }
        if (isAddress) {
          next = value.intValue();
        } else {
          memory[next++] = value;
          used = Math.max(used, next);
        }
      }
    }
    return new ArrayList<>(Arrays.asList(memory).subList(0, used));
  }

  private static BigInteger hex(String digits, String token, int line) {
    String plain = digits.replace("_", "").toLowerCase(Locale.ROOT);
    if (plain.isEmpty() || digits.startsWith("_") || !plain.matches("[0-9a-f]+")) {
      throw new IllegalArgumentException(
          "Memory file, line "
              + line
              + ": \""
              + Tokens.shown(token)
              + "\" is no word: hexadecimal digits with underscores between are;"
              + " x and z have no meaning here.");
    }
    return new BigInteger(plain, 16);
  }

  /** Comments become blanks; line ends stay, for the line numbers. */
  private static String withoutComments(String text) {
    StringBuilder out = new StringBuilder();
    int i = 0;
    while (i < text.length()) {
      if (text.startsWith("//", i)) {
        int end = text.indexOf('\n', i);
        i = end < 0 ? text.length() : end;
      } else if (text.startsWith("/*", i)) {
        int end = text.indexOf("*/", i + 2);
        int stop = end < 0 ? text.length() : end + 2;
        out.append(' ');
        text.substring(i, stop).chars().filter(c -> c == '\n').forEach(c -> out.append('\n'));
        i = stop;
      } else {
        out.append(text.charAt(i++));
      }
    }
    return out.toString();
  }
}
