package dev.plumbline.models;

import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.MatchResult;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Ids of outside checks (A3, C10) in the display names of tests, read from their source text, so
 * that tests of other modules need not be on the class path.
 *
 * <p>An id is a letter from A to K and one or two digits, anywhere in a string of {@code
 * DisplayName} or of the name of a parameterized or repeated test. Comments and other annotations
 * do not count. A test is given as {@code class.method}, the class being that of the file.
 */
final class CheckIds {
  static final Pattern ID = Pattern.compile("\\b[A-K]\\d{1,2}\\b");

  private static final Set<String> NAMING =
      Set.of("DisplayName", "ParameterizedTest", "RepeatedTest");

  /** What is looked at: texts, annotations, classes, and names and brackets before arguments. */
  private static final Pattern TOKEN =
      Pattern.compile(
          "(?s)(?<comment>/\\*.*?\\*/|//[^\n]*)|\"\"\".*?\"\"\"|'(?:\\\\.|[^'\\\\])*'"
              + "|(?<string>\"(?:\\\\.|[^\"\\\\\n])*\")|@(?<annotation>\\w+)\\b(?:\\s*\\()?"
              + "|\\bclass\\s+(?<type>\\w+)|\\b(?<method>\\w+)\\s*\\(|[()]");

  private CheckIds() {}

  /**
   * Reads one file.
   *
   * @param file its name without {@code .java}
   * @param source its text
   * @return ids by test, of tests that have any
   * @throws IllegalStateException for an id in a class's display name, where no test would carry it
   */
  static Map<String, Set<String>> of(String file, String source) {
    Map<String, Set<String>> found = new TreeMap<>();
    Set<String> ids = new TreeSet<>();
    boolean naming = false;
    int depth = 0; // of brackets
    Matcher token = TOKEN.matcher(source);
    while (token.find()) {
      if (token.group("comment") != null) {
        continue;
      }
      if (token.group("string") != null && naming) {
        ID.matcher(token.group("string")).results().map(MatchResult::group).forEach(ids::add);
      }
      if (depth == 0 && token.group("annotation") != null) {
        naming = token.group().endsWith("(") && NAMING.contains(token.group("annotation"));
      } else if (depth == 0 && !ids.isEmpty() && token.group("type") != null) {
        throw new IllegalStateException(
            "class " + token.group("type") + " has " + ids + " in its name: name a test by them");
      } else if (depth == 0 && !ids.isEmpty() && token.group("method") != null) {
        found.put(file + "." + token.group("method"), new TreeSet<>(ids));
        ids.clear();
      }
      depth += token.group().endsWith("(") ? 1 : token.group().equals(")") ? -1 : 0;
      naming &= depth > 0;
    }
    return found;
  }
}
