package dev.plumbline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** Rules of the sources that no compiler holds. */
class SourceRulesTest {
  /** What words or reads numbers and letters by the user's locale unless it is told another. */
  private static final Pattern BY_LOCALE =
      Pattern.compile(
          "\\.formatted\\(" // takes no locale
              + "|(?<![\\w.])String\\s*\\.format\\((?!\\s*Locale\\.ROOT)"
              + "|\\.printf\\((?!\\s*Locale\\.ROOT)"
              + "|\\.to(Lower|Upper)Case\\(\\)"
              + "|new (Formatter|Scanner|DecimalFormat|SimpleDateFormat)\\("
              + "|\\bNumberFormat\\."
              + "|DateTimeFormatter\\.ofPattern\\(\"[^\"]*\"\\)");

  @Test
  void whatIsWordedByTheLocaleIsFound() {
    for (String wrong :
        List.of(
            "String.format(\"%d\", 1)",
            "String.format(\n    \"%d\", 1)",
            "\"%d\".formatted(1)",
            "out.printf(\"%d\", 1)",
            "name.toLowerCase()",
            "DateTimeFormatter.ofPattern(\"yyyy\")")) {
      assertTrue(BY_LOCALE.matcher(wrong).find(), wrong);
    }
    for (String right :
        List.of(
            "String.format(Locale.ROOT, \"%d\", 1)",
            "String.format(\n    Locale.ROOT, \"%d\", 1)",
            "std::printf(\"%d\", 1)",
            "name.toLowerCase(Locale.ROOT)",
            "DateTimeFormatter.ofPattern(\"yyyy\", Locale.ROOT)")) {
      assertTrue(!BY_LOCALE.matcher(right).find(), right);
    }
  }

  @Test
  void nothingIsWordedByTheUsersLocale() throws IOException {
    List<String> found = new ArrayList<>();
    int read = 0;
    for (String folder :
        List.of("src/main/java", "../models/src/main/java", "../rtl-samples/src/test/java")) {
      for (Path file : sources(Path.of(folder))) {
        String text = Files.readString(file);
        Matcher match = BY_LOCALE.matcher(text);
        while (match.find()) {
          found.add(file + ":" + text.substring(0, match.start()).lines().count());
        }
        read++;
      }
    }
    assertTrue(read > 300, read + " sources");
    assertEquals(List.of(), found, "Locale.ROOT is missing");
  }

  /** What is thrown to a user; the others go from one package to another, or are Java's own. */
  private static final Pattern MADE =
      Pattern.compile(
          "new (?!IO|EOF|Interrupted|JsonParse|TypeConversion|Parameter|Unknown|Gone)"
              + "\\w+Exception\\(");

  private static final Pattern LITERAL = Pattern.compile("\"((?:[^\"\\\\\n]|\\\\.)*)\"");

  /** A word in single quotes; an apostrophe stands behind a letter. */
  private static final Pattern SINGLE_QUOTES = Pattern.compile("(?<![\\w)}\\\\])'[\\w:#%$.-]");

  @Test
  void messagesAreSentencesOfAtLeastTwoParts() throws IOException {
    List<String> found = new ArrayList<>();
    int read = 0;
    for (Path file : sources(Path.of("src/main/java"), Path.of("../models/src/main/java"))) {
      String text = Files.readString(file);
      Matcher match = MADE.matcher(text);
      while (match.find()) {
        String message = literals(text, match.end());
        if (message.isEmpty()) {
          continue; // made elsewhere
        }
        read++;
        // What failed, then what was allowed or what to do. Our base classes end the last sentence.
        boolean ends =
            !match.group().matches(".*(Illegal|Unchecked).*") || message.matches("(?s).*[.#]");
        if (!ends || !message.matches("(?s)[^a-z].*([;:]|[.] ).*(?<![,;])")) {
          found.add(file + ":" + text.substring(0, match.start()).lines().count() + message);
        }
      }
    }
    assertTrue(read > 150, read + " messages");
    assertEquals(List.of(), found);
  }

  @Test
  void valuesAreInDoubleQuotes() throws IOException {
    List<String> found = new ArrayList<>();
    int read = 0;
    for (Path file : sources(Path.of("src/main/java"), Path.of("../models/src/main/java"))) {
      String text = Files.readString(file).replaceAll("(?m)^ *(/?\\*|//).*", "");
      Matcher literal = LITERAL.matcher(text);
      while (literal.find()) {
        read++;
        String words = literal.group(1);
        // A shell's own quotes, patterns of a date, and of what Verilator says.
        boolean isOther = words.matches("(.*-Dplumbline\\.|yyyy|Parent instance).*");
        if (!isOther && isInSingleQuotes(words)) {
          found.add(file + ": " + words);
        }
      }
    }
    assertTrue(read > 3_000, read + " literals");
    assertEquals(List.of(), found);
    assertTrue(isInSingleQuotes("port 'in_x' is not there"));
    assertTrue(isInSingleQuotes("with ':low' it is active low"));
    assertFalse(isInSingleQuotes("the rays' case is the executor's"));
  }

  private static boolean isInSingleQuotes(String words) {
    return SINGLE_QUOTES.matcher(words).find() && words.contains(" ");
  }

  /** The literals of a call's arguments; # stands for what is between them. */
  private static String literals(String text, int from) {
    StringBuilder all = new StringBuilder();
    int depth = 1;
    boolean inside = false;
    boolean between = false;
    for (int i = from; depth > 0; i++) {
      char c = text.charAt(i);
      if (c == '"') {
        inside = !inside;
        if (inside && between) {
          all.append('#');
        }
        between = false;
      } else if (inside) {
        all.append(c == '\\' ? text.charAt(++i) : c);
      } else {
        depth += c == '(' ? 1 : c == ')' ? -1 : 0;
        between |= Character.isLetter(c);
      }
    }
    boolean onlyValues = all.toString().replace("#", "").isBlank();
    return onlyValues ? "" : between ? all + "#" : all.toString();
  }

  static List<Path> sources(Path... folders) throws IOException {
    List<Path> all = new ArrayList<>();
    for (Path folder : folders) {
      try (Stream<Path> files = Files.walk(folder)) {
        files.filter(file -> file.toString().endsWith(".java")).sorted().forEach(all::add);
      }
    }
    return all;
  }
}
