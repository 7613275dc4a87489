package dev.plumbline.report;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** The lines of the RTL about a signal: where it is declared, and where it is assigned. */
final class RtlLines {
  private static final Pattern PLACE = Pattern.compile("(.+):(\\d{1,9})");
  private static final int AROUND = 1;
  private static final int MOST = 24;

  private RtlLines() {}

  /** Empty where the signal has no place, or its file cannot be read any more. */
  static Optional<FactTable> of(String signal, String location) {
    Matcher place = PLACE.matcher(location);
    if (!place.matches()) {
      return Optional.empty();
    }
    List<String> lines = lines(place.group(1));
    int declared = Integer.parseInt(place.group(2));
    if (declared > lines.size()) {
      return Optional.empty();
    }
    String name = signal.replaceFirst("\\[.*", "").replaceFirst(".*\\.", "");
    // A blocking or non-blocking assignment to it, or to some of its bits or elements.
    Pattern assigned =
        Pattern.compile("(?<![\\w$])" + Pattern.quote(name) + "\\s*(\\[[^=<]*)?(<=|=(?!=)).*");
    TreeSet<Integer> shown = new TreeSet<>(List.of(declared));
    int first = -1;
    for (int line = 1; line <= lines.size() && shown.size() < MOST; line++) {
      if (line != declared && assigned.matcher(lines.get(line - 1)).find()) {
        first = first < 0 ? line : first;
        for (int near = line - AROUND; near <= line + AROUND; near++) {
          if (near >= 1 && near <= lines.size()) {
            shown.add(near);
          }
        }
      }
    }
    List<List<String>> rows = new ArrayList<>();
    int marked = -1;
    for (int line : shown) {
      marked = line == first ? rows.size() : marked;
      rows.add(List.of(Integer.toString(line), lines.get(line - 1).stripTrailing()));
    }
    return Optional.of(
        new FactTable(
            "RTL of " + signal + ", " + place.group(1), List.of("line", "source"), rows, marked));
  }

  private static List<String> lines(String file) {
    try {
      return Files.readAllLines(Path.of(file), StandardCharsets.ISO_8859_1);
    } catch (IOException | InvalidPathException e) {
      return List.of(); // the page is none the less right without them
    }
  }
}
