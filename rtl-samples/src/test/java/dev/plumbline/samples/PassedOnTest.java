package dev.plumbline.samples;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** What is set for Maven reaches the programs that its profiles start. */
class PassedOnTest {
  private static final Pattern READ =
      Pattern.compile("(?:getProperty|getLong|getInteger|getBoolean)\\(\\s*\"plumbline\\.(\\w+)\"");

  /** Read by tests alone, to which Surefire hands everything. */
  private static final Set<String> OF_TESTS =
      Set.of(
          "every", "everyFault", "faults", "long", "optimised", "route", "show", "stages", "table");

  @Test
  void everyPropertyThatIsReadIsPassedOn() throws IOException {
    Set<String> wanted = new TreeSet<>(List.of("seed", "cache", "warnings")); // read by other words
    for (String folder : List.of("../harness/src/main", "../models/src/main", "src/test/java")) {
      try (Stream<Path> files = Files.walk(Path.of(folder))) {
        for (Path file : files.filter(path -> path.toString().endsWith(".java")).toList()) {
          Matcher read = READ.matcher(Files.readString(file));
          while (read.find()) {
            wanted.add(read.group(1));
          }
        }
      }
    }
    wanted.removeAll(OF_TESTS);
    String pom = Files.readString(Path.of("pom.xml"));
    Set<String> missing = new TreeSet<>(wanted);
    missing.removeIf(name -> pom.contains("-Dplumbline." + name + "=${plumbline." + name + "}<"));

    assertTrue(wanted.contains("cache") && wanted.contains("reports"), () -> "found " + wanted);
    assertEquals(Set.of(), missing);
  }
}
