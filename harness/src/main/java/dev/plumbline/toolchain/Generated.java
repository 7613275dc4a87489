package dev.plumbline.toolchain;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/**
 * The C++ that Verilator made of a design.
 *
 * @param folder where it is
 * @param sources names of its source files
 * @param headers names of its headers
 * @param bytes size of the source files together
 */
record Generated(Path folder, List<String> sources, List<String> headers, long bytes) {
  /** The header of the class that has the ports as members, without which nothing was written. */
  static final String ROOT_HEADER = VerilatorArguments.PREFIX + "___024root.h";

  /**
   * Bytes of C++ from which a design is large: compiling takes time in proportion, and a second
   * compiler beside the first is worth reading the headers twice.
   */
  private static final long LARGE = 400_000;

  private static final Pattern TURNS = Pattern.compile("\\(0x([0-9a-f]+)U < \\S*IterCount\\)");
  private static final int MOST_TURNS_DIGITS = 4; // hexadecimal

  boolean isLarge() {
    return bytes >= LARGE;
  }

  /** The source files in so many shares of about the same size. */
  List<List<String>> shares(int count) throws IOException {
    List<List<String>> shares = new ArrayList<>();
    long[] sizes = new long[count];
    for (int i = 0; i < count; i++) {
      shares.add(new ArrayList<>());
    }
    Map<String, Long> sized = new HashMap<>();
    for (String source : sources) {
      sized.put(source, Files.size(folder.resolve(source)));
    }
    Comparator<String> largestFirst = Comparator.comparing(source -> -sized.get(source));
    for (String source : sources.stream().sorted(largestFirst).toList()) {
      int least = 0;
      for (int i = 1; i < count; i++) {
        least = sizes[i] < sizes[least] ? i : least;
      }
      sizes[least] += sized.get(source);
      shares.get(least).add(source);
    }
    shares.forEach(Collections::sort);
    return shares;
  }

  static Generated in(Path folder) throws IOException {
    List<String> sources = names(folder, ".cpp");
    long bytes = 0;
    for (String source : sources) {
      bytes += Files.size(folder.resolve(source));
    }
    return new Generated(folder, sources, names(folder, ".h"), bytes);
  }

  private static List<String> names(Path folder, String ending) throws IOException {
    try (Stream<Path> files = Files.list(folder)) {
      return files
          .map(file -> file.getFileName().toString())
          .filter(name -> name.endsWith(ending))
          .sorted()
          .toList();
    }
  }

  String headersOfPorts() throws IOException {
    return Files.readString(folder.resolve(ROOT_HEADER), StandardCharsets.ISO_8859_1)
        + Files.readString(
            folder.resolve(VerilatorArguments.PREFIX + ".h"), StandardCharsets.ISO_8859_1);
  }

  /**
   * Whether every evaluation gives up after a few turns on logic that does not settle, as it does
   * unless an argument says otherwise.
   */
  boolean settlesSoon() throws IOException {
    boolean any = false;
    for (String source : sources) {
      String code = Files.readString(folder.resolve(source), StandardCharsets.ISO_8859_1);
      for (MatchResult limit : (Iterable<MatchResult>) TURNS.matcher(code).results()::iterator) {
        any = true;
        if (limit.group(1).length() > MOST_TURNS_DIGITS) {
          return false;
        }
      }
    }
    return any;
  }

  /** The parts of the run-time library that Verilator says it needs, and ours. */
  List<String> objects() throws IOException {
    String makefile = Files.readString(folder.resolve(VerilatorArguments.PREFIX + "_classes.mk"));
    List<String> objects = new ArrayList<>(List.of("runtime"));
    Pattern.compile("VM_GLOBAL_\\w+ \\+= \\\\\\n((?:[ \\t]+.*\\\\\\n)*)")
        .matcher(makefile)
        .results()
        .map(MatchResult::group)
        .flatMap(group -> Pattern.compile("(?m)^[ \\t]+(\\w+)").matcher(group).results())
        .forEach(name -> objects.add(name.group(1)));
    return objects;
  }

  /** Whether the design calls functions that are not its own. */
  boolean importsC() throws IOException {
    Path header = folder.resolve(VerilatorArguments.PREFIX + "__Dpi.h");
    return Files.exists(header)
        && Files.readString(header, StandardCharsets.ISO_8859_1).contains("// DPI import");
  }

  void addTo(Digest digest) throws IOException {
    for (List<String> names : List.of(sources, headers)) {
      for (String name : names) {
        digest.add(name).add(Files.readAllBytes(folder.resolve(name)));
      }
    }
  }
}
