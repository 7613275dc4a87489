package dev.plumbline.toolchain;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.Deque;
import java.util.List;
import java.util.regex.Pattern;

/**
 * Has both sides of a plain choice evaluated, and one of them taken without a branch. A compiler
 * makes a branch of {@code c ? a : b} where a side is read from memory, and a processor guesses a
 * branch on random data wrong every other time, which costs it as much as a dozen operations.
 *
 * <p>Sides are left alone that might not be evaluated without harm or might take long: those with a
 * call, another choice, an index or a distance of shift that is not constant, a division.
 */
final class Branches {
  private static final int LONGEST = 300;
  private static final int LONGEST_WITH_BLANKS = 8 * LONGEST;

  private static final Pattern CAST = Pattern.compile("\\((?:[CSIQ]Data)\\)");
  private static final Pattern BLANK = Pattern.compile("\\s+");
  private static final String NUMBER = "(?:0x[0-9a-fA-F]+|\\d+)U?(?:LL)?";

  /** What a side may be made of; shifts and indices of constants alone. */
  private static final Pattern PLAIN =
      Pattern.compile(
          "(?:[A-Za-z_]\\w*(?!\\w|\\()|->|\\.(?=[A-Za-z_])|(?<!\\w)"
              + NUMBER
              + "(?!\\w)|\\["
              + NUMBER
              + "\\]|<<"
              + NUMBER
              + "|>>"
              + NUMBER
              + "|[<>=!]=|[<>](?![<>])|[-+*&|^~()](?!\\+|=))+");

  private static final Pattern STEPS = Pattern.compile("\\+\\+|--");

  /** An open parenthesis, and where the choice in it has its signs. */
  private static final class Open {
    private final int at;
    private int question = -1;
    private int colon = -1;
    private boolean other;

    Open(int at) {
      this.at = at;
    }

    void question(int place) {
      other |= question >= 0;
      question = place;
    }

    void colon(int place) {
      other |= colon >= 0;
      colon = place;
    }
  }

  /** What takes the place of one character. */
  private record Edit(int at, String text) {}

  private Branches() {}

  /** Changes what is evaluated often among generated files. */
  static void tidy(Path folder, List<String> sources) throws IOException {
    for (String source : sources) {
      if (!source.contains("__Slow") && !source.contains("__Syms")) {
        Path file = folder.resolve(source);
        String code = Files.readString(file, StandardCharsets.ISO_8859_1);
        Files.writeString(file, of(code), StandardCharsets.ISO_8859_1);
      }
    }
  }

  /** The file's text with calls of {@code plumb::choose}, line for line. */
  static String of(String code) {
    List<Edit> edits = new ArrayList<>();
    Deque<Open> open = new ArrayDeque<>();
    for (int i = 0; i < code.length(); i++) {
      char c = code.charAt(i);
      Open inner = open.peek();
      switch (c) {
        case '"', '\'' -> i = endOfText(code, i);
        case '/' -> i = code.startsWith("//", i) ? endOfLine(code, i) : i;
        case '(' -> open.push(new Open(i));
        case ')' -> {
          if (inner != null) {
            open.pop();
            add(code, inner, i, edits);
          }
        }
        case ';', '{', '}' -> open.clear();
        case '?' -> {
          if (inner != null) {
            inner.question(i);
          }
        }
        case ':' -> {
          if (code.startsWith("::", i)) {
            i++;
          } else if (inner != null) {
            inner.colon(i);
          }
        }
        case ',' -> {
          if (inner != null) {
            inner.other = true;
          }
        }
        default -> {}
      }
    }
    edits.sort(Comparator.comparingInt(Edit::at));
    StringBuilder changed = new StringBuilder();
    int from = 0;
    for (Edit edit : edits) {
      changed.append(code, from, edit.at()).append(edit.text());
      from = edit.at() + 1;
    }
    return changed.append(code, from, code.length()).toString();
  }

  private static void add(String code, Open open, int end, List<Edit> edits) {
    boolean isChoice = open.question >= 0 && open.colon > open.question && !open.other;
    boolean isCall = open.at > 0 && Character.isJavaIdentifierPart(code.charAt(open.at - 1));
    if (isChoice
        && !isCall
        && isPlain(code.substring(open.question + 1, open.colon))
        && isPlain(code.substring(open.colon + 1, end))) {
      edits.add(new Edit(open.at, "plumb::choose(bool("));
      edits.add(new Edit(open.question, "),"));
      edits.add(new Edit(open.colon, ","));
    }
  }

  private static boolean isPlain(String side) {
    if (side.length() > LONGEST_WITH_BLANKS) {
      return false; // of choices in choices each would be looked through again
    }
    String plain = CAST.matcher(BLANK.matcher(side).replaceAll("")).replaceAll("");
    return plain.length() <= LONGEST
        && !STEPS.matcher(plain).find()
        && PLAIN.matcher(plain).matches();
  }

  private static int endOfText(String code, int begin) {
    char quote = code.charAt(begin);
    int end = begin + 1;
    while (end < code.length() && code.charAt(end) != quote) {
      end += code.charAt(end) == '\\' ? 2 : 1;
    }
    return end;
  }

  private static int endOfLine(String code, int begin) {
    int end = code.indexOf('\n', begin);
    return end < 0 ? code.length() : end;
  }
}
