package dev.plumbline.fuzz;

import java.util.ArrayList;
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

  private Mutations() {}

  static String of(String text, long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    List<String> tokens = new ArrayList<>();
    TOKEN.matcher(text).results().map(MatchResult::group).forEach(tokens::add);
    int changes = 1 + random.nextInt(MOST_CHANGES);
    for (int i = 0; i < changes && !tokens.isEmpty(); i++) {
      change(tokens, random);
    }
    return String.join("", tokens);
  }

  private static void change(List<String> tokens, SplittableRandom random) {
    int at = random.nextInt(tokens.size());
    int end = Math.min(tokens.size(), at + 1 + random.nextInt(1 + random.nextInt(60)));
    switch (random.nextInt(9)) {
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
      default -> {
        // Deep nesting is rare: it takes a thousand times as long to read.
        int times = random.nextInt(40) == 0 ? DEEPEST : 3;
        String span = String.join("", tokens.subList(at, Math.min(end, at + 12)));
        tokens.set(at, span.repeat(times));
      }
    }
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
