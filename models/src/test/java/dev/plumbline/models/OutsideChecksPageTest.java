package dev.plumbline.models;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

/** The page of outside checks and the display names of all modules' tests agree. */
class OutsideChecksPageTest {
  private static final Path PAGE = Path.of("OUTSIDE-CHECKS.md");

  /** What the page calls a module's tests. */
  private static final Map<String, String> THROUGH =
      Map.of("models", "model", "harness", "harness", "rtl-samples", "RTL");

  private static final Pattern TEST = Pattern.compile("`(\\w+\\.\\w+)`");

  /** Cells of the rows of the page that begin with an id and have so many cells. */
  private static List<String[]> rows(String page, int cells) {
    return page.lines()
        .filter(line -> line.startsWith("| "))
        .map(line -> line.substring(2, line.length() - 2).split(" \\| ", -1))
        .filter(row -> CheckIds.ID.matcher(row[0]).matches() && row.length == cells)
        .toList();
  }

  /** As lines of "id test", from the page. */
  private static Set<String> onThePage(String page) {
    Set<String> lines = new TreeSet<>();
    for (String[] row : rows(page, 6)) {
      List<String> tests = TEST.matcher(row[5]).results().map(test -> test.group(1)).toList();
      assertTrue(!tests.isEmpty(), row[0] + " names no test");
      tests.forEach(test -> lines.add(row[0] + " " + test));
    }
    return lines;
  }

  /** As lines of "id test", from the sources of a module. */
  private static Set<String> inTests(String module) {
    Set<String> lines = new TreeSet<>();
    try (Stream<Path> files = Files.walk(Path.of("..", module, "src", "test", "java"))) {
      for (Path file : files.filter(path -> path.toString().endsWith(".java")).toList()) {
        String name = file.getFileName().toString().replace(".java", "");
        CheckIds.of(name, Files.readString(file))
            .forEach((test, ids) -> ids.forEach(id -> lines.add(id + " " + test)));
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    assertTrue(!lines.isEmpty(), "no ids in the tests of " + module);
    return lines;
  }

  @Test
  @DisplayName("every id in a test's name is on the page with that test, and the other way round")
  void pageAndTestsAgree() throws IOException {
    Set<String> tests = new TreeSet<>();
    THROUGH.keySet().forEach(module -> tests.addAll(inTests(module)));
    Set<String> page = onThePage(Files.readString(PAGE));
    assertEquals(Set.of(), without(tests, page), "tests with ids that " + PAGE + " does not have");
    assertEquals(Set.of(), without(page, tests), "what " + PAGE + " names and no test carries");
  }

  private static Set<String> without(Set<String> these, Set<String> those) {
    Set<String> left = new TreeSet<>(these);
    left.removeAll(those);
    return left;
  }

  @Test
  void everyRowNamesThroughWhatItIsHeld() throws IOException {
    Map<String, Set<String>> through = new TreeMap<>();
    for (String module : THROUGH.keySet()) {
      for (String line : inTests(module)) {
        String id = line.substring(0, line.indexOf(' '));
        through.computeIfAbsent(id, i -> new TreeSet<>()).add(THROUGH.get(module));
      }
    }
    for (String[] row : rows(Files.readString(PAGE), 6)) {
      assertEquals(through.get(row[0]), new TreeSet<>(List.of(row[4].split(", "))), row[0]);
    }
  }

  @Test
  void idsAreInOrderAndEachIsThereOnce() throws IOException {
    String page = Files.readString(PAGE);
    Comparator<String> order =
        Comparator.<String>comparingInt(id -> id.charAt(0))
            .thenComparingInt(id -> Integer.parseInt(id.substring(1)));
    List<String> all = new ArrayList<>();
    for (int cells : new int[] {6, 2}) {
      List<String> ids = rows(page, cells).stream().map(row -> row[0]).toList();
      assertEquals(ids.stream().sorted(order).toList(), ids);
      all.addAll(ids);
    }
    assertEquals(all.size(), Set.copyOf(all).size(), "an id twice");
    assertEquals(
        page.lines().filter(line -> line.matches("\\| [A-K]\\d+ .*")).count(),
        all.size(),
        "every row has all its cells");
  }

  @Test
  void aMissingIdOrTestIsSeen() {
    String source = "@Test @DisplayName(\"A1 B2: sums\") void sums() { }";
    Set<String> tests = lines(CheckIds.of("SumTest", source));
    String row = "| %s | 1 + 1 = 2 | common practice, no source | - | model | %s |\n";
    String both = row.formatted("A1", "`SumTest.sums`") + row.formatted("B2", "`SumTest.sums`");
    assertEquals(tests, onThePage(both));
    assertEquals(Set.of("A1 SumTest.sums"), onThePage(row.formatted("A1", "`SumTest.sums`")));
    assertEquals(
        Set.of("A1 SumTest.sums", "A1 SumTest.gone"),
        onThePage(row.formatted("A1", "`SumTest.sums`, `SumTest.gone`")));
    assertThrows(AssertionError.class, () -> onThePage(row.formatted("A1", "SumTest")));
  }

  private static Set<String> lines(Map<String, Set<String>> ids) {
    return ids.entrySet().stream()
        .flatMap(test -> test.getValue().stream().map(id -> id + " " + test.getKey()))
        .collect(Collectors.toSet());
  }

  @Test
  void idsAreReadWhereverTheirTestNamesThem() {
    String source =
        """
        /** C1 in a comment (a bracket */
        @DisplayName("a class without")
        class SomeTest {
          private static final String OTHER = "C2 in a text (";
          @ParameterizedTest(name = "A1, A12: {0} (first), \\"seed\\" " + seed(SEED) + " A3")
          @CsvSource({"C3", "C4"}) // C5 (
          void several(@Named("C6") int x) { call("C7", ')', "C8"); }

          @Test @DisplayName(
              "B4 0x2199 A4Z RegionBSPTree1D B123 a factory") Stream<DynamicTest> factory() {}
          @Test
          void none() { open("C9"); }
        }
        """;
    assertEquals(
        Map.of("Some.several", Set.of("A1", "A12", "A3"), "Some.factory", Set.of("B4")),
        CheckIds.of("Some", source));
    String onClass = "@DisplayName(\"A1\") class SomeTest { @Test void sum() {} }";
    assertEquals(
        "class SomeTest has [A1] in its name: name a test by them",
        assertThrows(IllegalStateException.class, () -> CheckIds.of("Some", onClass)).getMessage());
  }
}
