package dev.plumbline.cosim;

import dev.plumbline.rtl.SourceLocation;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Which line of the RTL reads a memory file: the model knows the file's name alone. Found where one
 * {@code $readmem} names it, or where there is only one.
 */
final class MemoryFileLines {
  private MemoryFileLines() {}

  static Optional<SourceLocation> of(List<Path> sources, String name) {
    List<SourceLocation> all = new ArrayList<>();
    List<SourceLocation> naming = new ArrayList<>();
    for (Path source : sources) {
      int line = 0;
      for (String text : lines(source)) {
        line++;
        if (text.contains("$readmem")) {
          all.add(new SourceLocation(source.toString(), line));
          if (text.contains("\"" + name + "\"")) {
            naming.add(new SourceLocation(source.toString(), line));
          }
        }
      }
    }
    List<SourceLocation> found = naming.isEmpty() ? all : naming;
    return found.size() == 1 ? Optional.of(found.get(0)) : Optional.empty();
  }

  private static List<String> lines(Path source) {
    try {
      return Files.readAllLines(source, StandardCharsets.ISO_8859_1);
    } catch (IOException e) {
      return List.of(); // it was there when the model was built; the message has the file anyway
    }
  }
}
