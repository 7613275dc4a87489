package dev.plumbline.toolchain;

import dev.plumbline.rtl.RtlSource;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Everything an elaboration depended on, so that a later one of the same source need not be run
 * when nothing of it has changed: the content of each file read, the names in each folder searched
 * (a new file there could come before the one read), and the environment variables that file lists
 * name.
 *
 * <p>Memory files are read when a model runs, not when it is built, so they are not part of it.
 *
 * @param lines what was looked at, each with the digest of what was seen
 */
record Receipt(List<String> lines) {
  private static final Pattern SEARCHED =
      Pattern.compile("\\+incdir\\+([^\\s+]+)|-I\\s*(\\S+)|-y\\s+(\\S+)");
  private static final Pattern VARIABLE = Pattern.compile("\\$[({]?(\\w+)");

  Receipt {
    lines = List.copyOf(lines);
  }

  /** Notes down what a source depends on, given the files that Verilator read. */
  static Receipt of(RtlSource source, List<Path> filesRead) throws IOException {
    Set<Path> folders = new LinkedHashSet<>(source.includeFolders());
    folders.addAll(source.libraryFolders());
    folders.add(Path.of(""));
    Set<String> variables = new TreeSet<>();
    for (Path list : filesRead) {
      folders.add(list.resolveSibling(""));
    }
    for (Path list : source.fileLists()) {
      String text = new String(Files.readAllBytes(list), StandardCharsets.UTF_8);
      folders.addAll(searched(text));
      VARIABLE.matcher(text).results().forEach(found -> variables.add(found.group(1)));
    }
    List<String> lines = new ArrayList<>();
    for (Path file : filesRead) {
      lines.add(line("file", file.toString()));
    }
    for (Path folder : folders) {
      lines.add(line("folder", folder.toString()));
      for (Path file : filesRead) {
        // A file found in one folder under a name with folders in it may come to be in another.
        for (Path other : folders) {
          if (file.startsWith(other) && other.relativize(file).getNameCount() > 1) {
            lines.add(line("there", folder.resolve(other.relativize(file)).toString()));
          }
        }
      }
    }
    for (String variable : variables) {
      lines.add(line("variable", variable));
    }
    return new Receipt(lines.stream().distinct().toList());
  }

  /** The folders that a file list has searched. */
  static List<Path> searched(String list) {
    return SEARCHED
        .matcher(list)
        .results()
        .map(found -> firstGroup(found))
        .filter(Receipt::isName) // no other is of a folder there is: a list may be anything
        .map(Path::of)
        .toList();
  }

  /** Whether a file can have a name: none with a NUL, and none that this JVM's locale lacks. */
  private static boolean isName(String name) {
    try {
      Path unused = Path.of(name);
      return true;
    } catch (InvalidPathException e) {
      return false;
    }
  }

  private static String firstGroup(java.util.regex.MatchResult found) {
    for (int i = 1; i <= found.groupCount(); i++) {
      if (found.group(i) != null) {
        return found.group(i);
      }
    }
    throw new AssertionError("one of the groups matched");
  }

  /** The files whose content was looked at. */
  List<Path> files() {
    return lines.stream()
        .map(line -> line.split(" ", 3))
        .filter(parts -> parts[0].equals("file"))
        .map(parts -> Path.of(parts[2]))
        .toList();
  }

  /** Whether all is as it was. */
  boolean stillHolds() {
    try {
      for (String line : lines) {
        String[] parts = line.split(" ", 3);
        if (!line.equals(line(parts[0], parts[2]))) {
          return false;
        }
      }
      return true;
    } catch (IOException e) {
      return false;
    }
  }

  private static String line(String kind, String name) throws IOException {
    String seen =
        switch (kind) {
          case "file" -> Digest.of(Path.of(name));
          case "folder" -> names(Path.of(name));
          case "there" -> Boolean.toString(Files.exists(Path.of(name)));
          case "variable" -> Digest.of(String.valueOf(System.getenv(name)));
          default -> throw new IOException("a receipt of another version: " + kind);
        };
    return kind + " " + seen + " " + name;
  }

  private static String names(Path folder) throws IOException {
    Set<String> names = new TreeSet<>();
    if (Files.isDirectory(folder)) {
      try (var files = Files.newDirectoryStream(folder)) {
        files.forEach(file -> names.add(file.getFileName().toString()));
      }
    }
    return new Digest().addAll(names).hex();
  }

  /**
   * The files that a run of Verilator says it read, in its own order; its own files are left out.
   */
  static List<Path> filesRead(Path verFiles, Path include) throws IOException {
    return filesRead(Files.readAllLines(verFiles), include);
  }

  /** The same of the lines of Verilator's record. */
  static List<Path> filesRead(List<String> record, Path include) {
    // S <size> <inode> <times> "<name>"
    Pattern source = Pattern.compile("S .*\"(.*)\"");
    List<Path> files = new ArrayList<>();
    for (String line : record) {
      Matcher matcher = source.matcher(line);
      if (matcher.matches() && line.indexOf('\0') < 0) {
        Path file = named(matcher.group(1));
        if (Files.isRegularFile(file) && !file.startsWith(include)) {
          files.add(file);
        }
      }
    }
    return files;
  }

  /** A file whose changes cannot be noticed must not be built from. */
  private static Path named(String name) {
    if (!isName(name)) {
      throw new ToolchainException(
          "The name of the file \""
              + name
              + "\" has characters that Java cannot write in this locale; set LC_ALL=C.UTF-8 and"
              + " run it again");
    }
    return Path.of(name);
  }
}
