package dev.plumbline.toolchain;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Tells {@code $error}, {@code $fatal} and failed assertions apart, which 5.006 prints and ends
 * alike: by what Verilator wrote around the end, and by the word in the source.
 *
 * <p>Verilator guards whatever belongs to an assertion, its {@code else} included, with the switch
 * for assertions ({@code assertOn}); an end that is not guarded is a plain one.
 */
final class Ends {
  /** As runtime.cpp has them. */
  enum Kind {
    ASSERTION(0),
    ERROR(1),
    FATAL(2),
    UNTOLD(3);

    private final int code;

    Kind(int code) {
      this.code = code;
    }
  }

  // Possessive, so that a string of any length is passed over without recursion.
  private static final Pattern PART =
      Pattern.compile("\"(?:\\\\.|[^\"\\\\])*+\"|//[^\n]*|[{};]|assertOn|VL_STOP_MT\\(");
  private static final Pattern PLACE =
      Pattern.compile("VL_STOP_MT\\(\"((?:\\\\.|[^\"\\\\])*+)\", (\\d{1,9})");

  private final Map<String, Boolean> guarded = new TreeMap<>();
  private final Map<String, Kind> kinds = new TreeMap<>();

  Ends() {}

  /** Looks through what Verilator wrote, and at the lines of the source that it names. */
  static Ends of(Generated cpp) throws IOException {
    Ends ends = new Ends();
    for (String file : cpp.sources()) {
      ends.scan(Files.readString(cpp.folder().resolve(file), StandardCharsets.ISO_8859_1));
    }
    Map<String, List<String>> sources = new HashMap<>();
    ends.guarded.forEach(
        (place, guarded) -> ends.kinds.put(place, guarded ? Kind.ASSERTION : word(place, sources)));
    return ends;
  }

  /** Walks through blocks, and notes for each end whether a guard is around it. */
  void scan(String code) {
    Deque<Boolean> blocks = new ArrayDeque<>();
    boolean guard = false;
    Matcher part = PART.matcher(code);
    while (part.find()) {
      switch (part.group()) {
        case "{" -> {
          blocks.push(guard || (!blocks.isEmpty() && blocks.peek()));
          guard = false;
        }
        case "}" -> {
          if (!blocks.isEmpty()) {
            blocks.pop();
          }
          guard = false;
        }
        case ";" -> guard = false;
        case "assertOn" -> guard = true;
        case "VL_STOP_MT(" -> {
          Matcher place = PLACE.matcher(code).region(part.start(), code.length());
          if (place.lookingAt()) {
            boolean inside = guard || (!blocks.isEmpty() && blocks.peek());
            // Where both share a line, the run had better end.
            guarded.merge(place.group(1) + "\", " + place.group(2), inside, Boolean::logicalOr);
          }
        }
        default -> {}
      }
    }
  }

  /** What the line of a plain end calls; a macro's use does not tell. */
  private static Kind word(String place, Map<String, List<String>> sources) {
    int end = place.lastIndexOf("\", ");
    String line = line(sources, place.substring(0, end), place.substring(end + 3));
    if (line.contains("$fatal")) {
      return Kind.FATAL;
    }
    return line.contains("$error") ? Kind.ERROR : Kind.UNTOLD;
  }

  private static String line(Map<String, List<String>> sources, String file, String number) {
    int line = Integer.parseInt(number);
    List<String> lines = sources.computeIfAbsent(file, Ends::lines);
    return line >= 1 && line <= lines.size() ? lines.get(line - 1) : "";
  }

  private static List<String> lines(String file) {
    try {
      return Files.readAllLines(Path.of(file), StandardCharsets.ISO_8859_1);
    } catch (IOException | InvalidPathException e) {
      return List.of();
    }
  }

  /** The function that the run-time support asks; a place that is not known is an assertion. */
  String code() {
    StringBuilder code = new StringBuilder();
    code.append("int plumb_end_at(const char* file, int line) {\n");
    kinds.forEach(
        (place, kind) -> {
          if (kind != Kind.ASSERTION) {
            int end = place.lastIndexOf("\", ");
            code.append("  if (line == ")
                .append(place.substring(end + 3))
                .append(" && std::strcmp(file, \"")
                .append(place, 0, end)
                .append("\") == 0) return ")
                .append(kind.code)
                .append(";\n");
          }
        });
    return code.append("  return 0;\n}\n").toString();
  }
}
