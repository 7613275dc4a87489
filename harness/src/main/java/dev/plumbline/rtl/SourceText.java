package dev.plumbline.rtl;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The source itself, asked for the little that the XML form does not tell.
 *
 * <p>Everything here answers the empty string when the file cannot be read or the place is not
 * known; callers then take the commoner case.
 */
final class SourceText {
  private static final Pattern LAST_WORD = Pattern.compile("([A-Za-z_$][\\w$]*|\\S)\\s*$");

  private static final Pattern COMMENT = Pattern.compile("(?s)//[^\n]*|/\\*.*?\\*/");

  /** Enough for a keyword and a comment after it. */
  private static final int LINES = 5;

  private final Map<String, List<String>> files = new HashMap<>();

  /** The text from a node's first character over a few lines, comments taken out. */
  String from(Node node) {
    List<String> lines = lines(node.location.file());
    int line = node.location.line() - 1;
    if (line < 0 || line >= lines.size() || node.column < 1) {
      return "";
    }
    String first = lines.get(line);
    StringBuilder text = new StringBuilder();
    text.append(first.substring(Math.min(first.length(), node.column - 1)));
    for (String next : lines.subList(line + 1, Math.min(lines.size(), line + LINES))) {
      text.append('\n').append(next);
    }
    return COMMENT.matcher(text).replaceAll(" ");
  }

  /** The last word or sign before a node's first character, on the same line or the one before. */
  String wordBefore(Node node) {
    List<String> lines = lines(node.location.file());
    int line = node.location.line() - 1;
    if (line < 0 || line >= lines.size() || node.column < 1) {
      return "";
    }
    String before =
        lines.get(line).substring(0, Math.min(lines.get(line).length(), node.column - 1));
    if (before.isBlank() && line > 0) {
      before = lines.get(line - 1);
    }
    Matcher matcher = LAST_WORD.matcher(before);
    return matcher.find() ? matcher.group(1) : "";
  }

  private List<String> lines(String file) {
    return files.computeIfAbsent(file, SourceText::read);
  }

  private static List<String> read(String file) {
    try {
      // Latin-1 reads any bytes; columns that Verilator counts are bytes too.
      return Files.readAllLines(Path.of(file), StandardCharsets.ISO_8859_1);
    } catch (IOException | InvalidPathException e) {
      return List.of();
    }
  }
}
