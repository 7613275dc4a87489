package dev.plumbline.fuzz;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;

/**
 * Spoils texts: deletes, duplicates, exchanges and nests tokens and lines, puts extreme numbers in
 * the place of others, cuts the end off. The same seed spoils a text in the same way.
 */
final class Mutations {
  private static final Pattern TOKEN = Pattern.compile("\\d+|\\w+|\\s+|[^\\w\\s]");

  /** Where numbers overflow, and characters that end or open something. */
  private static final List<String> EXTREMES =
      List.of(
          "0",
          "-1",
          "1",
          "32",
          "64",
          "65",
          "255",
          "2147483647",
          "2147483648",
          "-2147483649",
          "4294967295",
          "4294967296",
          "9223372036854775808",
          "99999999999",
          "1e999",
          "0x",
          "",
          " ",
          "\n",
          "\"",
          "'",
          "<",
          ">",
          "[",
          "]",
          "{",
          "}",
          "(",
          ")",
          "/*",
          "//",
          "@",
          "#",
          "\\",
          "&",
          "\u0000",
          "\u00e9",
          "\ud800",
          "%",
          ":",
          ",",
          ".");

  private static final int MOST_CHANGES = 4;
  private static final int DEEPEST = 3000;
  private static final int LONGEST = 100_000;

  private Mutations() {}

  /** The tokens of a text, which take longer to find than to spoil. */
  static List<String> tokens(String text) {
    return TOKEN.matcher(text).results().map(MatchResult::group).toList();
  }

  /** A text spoilt: its tokens in three of four seeds, its bytes in the fourth. */
  static byte[] of(List<String> text, long seed) {
    return seed % 4 == 3
        ? bytes(String.join("", text).getBytes(StandardCharsets.UTF_8), seed)
        : spoilt(text, seed).getBytes(StandardCharsets.UTF_8);
  }

  private static byte[] bytes(byte[] text, long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    byte[] spoilt = text;
    int changes = 1 + random.nextInt(MOST_CHANGES);
    for (int i = 0; i < changes && spoilt.length > 0; i++) {
      int at = random.nextInt(spoilt.length);
      switch (random.nextInt(5)) {
        case 0 -> spoilt[at] ^= (byte) (1 << random.nextInt(8));
        case 1 -> spoilt[at] = (byte) random.nextInt(256);
        case 2 -> spoilt[at] = spoilt[random.nextInt(spoilt.length)];
        case 3 -> {
          int end = Math.min(spoilt.length, at + 1 + random.nextInt(9));
          byte[] shorter = Arrays.copyOf(spoilt, spoilt.length - (end - at));
          System.arraycopy(spoilt, end, shorter, at, spoilt.length - end);
          spoilt = shorter;
        }
        default -> {
          byte[] longer = Arrays.copyOf(spoilt, spoilt.length + 1);
          System.arraycopy(spoilt, at, longer, at + 1, spoilt.length - at);
          longer[at] = (byte) random.nextInt(256);
          spoilt = longer;
        }
      }
    }
    return spoilt;
  }

  private static String spoilt(List<String> text, long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    List<String> tokens = new ArrayList<>(text);
    int changes = 1 + random.nextInt(MOST_CHANGES);
    for (int i = 0; i < changes && !tokens.isEmpty(); i++) {
      change(tokens, random);
    }
    return String.join("", tokens);
  }

  private static void change(List<String> tokens, SplittableRandom random) {
    int at = random.nextInt(tokens.size());
    int end = Math.min(tokens.size(), at + 1 + random.nextInt(1 + random.nextInt(60)));
    switch (random.nextInt(10)) {
      case 0 -> tokens.remove(at);
      case 1 -> tokens.add(at, tokens.get(at));
      case 2 -> tokens.set(at, tokens.get(random.nextInt(tokens.size())));
      case 3 -> tokens.set(at, EXTREMES.get(random.nextInt(EXTREMES.size())));
      case 4 -> number(tokens, at, random);
      case 5 -> tokens.subList(at, end).clear();
      case 6 -> tokens.addAll(random.nextInt(tokens.size()), List.copyOf(tokens.subList(at, end)));
      case 7 -> {
        if (random.nextInt(8) == 0) {
          tokens.subList(at, tokens.size()).clear();
        } else {
          tokens.add(at, EXTREMES.get(random.nextInt(EXTREMES.size())));
        }
      }
      case 8 -> another(tokens, at, random);
      default -> {
        // Deep nesting is rare: it takes a thousand times as long to read.
        int times = random.nextInt(40) == 0 ? DEEPEST : 3;
        String span = String.join("", tokens.subList(at, Math.min(end, at + 12)));
        tokens.set(at, span.repeat(Math.min(times, 1 + LONGEST / Math.max(1, span.length()))));
      }
    }
  }

  /** Puts another token of the same kind in the place of one: so references come to form rings. */
  private static void another(List<String> tokens, int at, SplittableRandom random) {
    char kind = kind(tokens.get(at));
    for (int tries = 0; tries < 20; tries++) {
      String other = tokens.get(random.nextInt(tokens.size()));
      if (kind(other) == kind && !other.equals(tokens.get(at))) {
        tokens.set(at, other);
        return;
      }
    }
  }

  private static char kind(String token) {
    char first = token.isEmpty() ? ' ' : token.charAt(0);
    return Character.isDigit(first) ? '0' : Character.isLetter(first) ? 'a' : ' ';
  }

  /** Puts an extreme, or another number of the text, in the place of the next number. */
  private static void number(List<String> tokens, int from, SplittableRandom random) {
    for (int i = from; i < tokens.size(); i++) {
      String token = tokens.get(i);
      if (!token.isEmpty() && Character.isDigit(token.charAt(0))) {
        tokens.set(
            i,
            random.nextBoolean()
                ? EXTREMES.get(random.nextInt(14))
                : Integer.toString(random.nextInt(40)));
        return;
      }
    }
  }
}
