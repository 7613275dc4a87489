package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.NavigableMap;
import java.util.Optional;
import java.util.Scanner;
import java.util.TreeMap;

/**
 * A value change dump as its readers in the tests take it, after the grammar of IEEE 1364-2005,
 * 18.2.
 */
final class Dump {
  private static final List<String> CONVERTERS = List.of("/usr/bin/vcd2fst", "/usr/bin/fst2vcd");

  private final Map<String, String> codes = new HashMap<>();
  private final Map<String, NavigableMap<Long, String>> values = new HashMap<>();
  private long last;

  private Dump() {}

  static Dump of(String text) {
    Dump dump = new Dump();
    Deque<String> scopes = new ArrayDeque<>();
    long time = 0;
    try (Scanner words = new Scanner(text)) {
      while (words.hasNext()) {
        String word = words.next();
        switch (word) {
          case "$scope" -> {
            words.next();
            scopes.addLast(words.next());
            skip(words);
          }
          case "$upscope" -> {
            scopes.removeLast();
            skip(words);
          }
          case "$var" -> {
            words.next();
            words.next();
            String code = words.next();
            dump.codes.put(String.join(".", scopes) + "." + words.next(), code);
            skip(words);
          }
          case "$comment", "$version", "$date", "$timescale", "$enddefinitions" -> skip(words);
          case "$dumpvars", "$dumpon", "$dumpoff", "$end" -> {}
          default -> {
            if (word.startsWith("#")) {
              time = Long.parseLong(word.substring(1));
              dump.last = time;
            } else if (word.startsWith("b")) {
              dump.set(words.next(), time, word.substring(1));
            } else {
              dump.set(word.substring(1), time, word.substring(0, 1));
            }
          }
        }
      }
    }
    return dump;
  }

  private static void skip(Scanner words) {
    while (!words.next().equals("$end")) {
      // until there
    }
  }

  private void set(String code, long time, String bits) {
    values
        .computeIfAbsent(code, key -> new TreeMap<>())
        .put(time, bits.replaceFirst("^0+(?=.)", ""));
  }

  boolean has(String path) {
    return codes.containsKey(path);
  }

  /** The last time stands behind the last cycle. */
  long lastCycle() {
    return last - 1;
  }

  Optional<Integer> number(String path, long cycle) {
    Map.Entry<Long, String> at = values.get(codes.get(path)).floorEntry(cycle);
    return at == null || at.getValue().contains("x")
        ? Optional.empty()
        : Optional.of(Integer.parseUnsignedInt(at.getValue(), 2));
  }

  /** Every change by signal; a value that is given again is none. */
  Map<String, NavigableMap<Long, String>> changes() {
    Map<String, NavigableMap<Long, String>> changes = new TreeMap<>();
    codes.forEach(
        (path, code) -> {
          NavigableMap<Long, String> of = new TreeMap<>();
          values
              .getOrDefault(code, new TreeMap<>())
              .forEach(
                  (time, bits) -> {
                    String plain = bits.replaceFirst("^x+$", "x");
                    if (of.isEmpty() || !of.lastEntry().getValue().equals(plain)) {
                      of.put(time, plain);
                    }
                  });
          changes.put(path, of);
        });
    return changes;
  }

  /** GTKWave's converters, of Debian's package gtkwave. */
  static void assumeConverter() {
    CONVERTERS.forEach(program -> assumeTrue(Files.isExecutable(Path.of(program)), program));
  }

  static String convertedAndBack(Path file, Path folder) throws IOException, InterruptedException {
    Path fst = folder.resolve("waveform.fst");
    Path back = folder.resolve("back.vcd");
    run(CONVERTERS.get(0), file.toString(), fst.toString());
    run(CONVERTERS.get(1), "-f", fst.toString(), "-o", back.toString());
    return Files.readString(back);
  }

  private static void run(String... command) throws IOException, InterruptedException {
    Process process =
        new ProcessBuilder(command)
            .redirectErrorStream(true)
            .redirectOutput(ProcessBuilder.Redirect.DISCARD)
            .start();
    assertEquals(0, process.waitFor(), String.join(" ", command));
  }
}
