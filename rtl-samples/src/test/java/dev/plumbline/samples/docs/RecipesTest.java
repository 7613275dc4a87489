package dev.plumbline.samples.docs;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.samples.SampleRtl;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.MatchResult;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import javax.tools.ToolProvider;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/** The recipes are compiled, and run in one JVM, as they stand on their page. */
@Execution(ExecutionMode.CONCURRENT)
class RecipesTest {
  private static final Path ROOT = SampleRtl.FOLDER.getParent().getParent();

  /** Where the RTL of the page stands. */
  private static final List<Path> FOLDERS =
      List.of(
          ROOT.resolve("harness/src/test/rtl/recipes"),
          ROOT.resolve("harness/src/test/rtl/flow"),
          SampleRtl.FOLDER);

  private static final int RECIPES = 19;

  /** Recipes that drive by hand leave no row in the report. */
  private static final int BY_HAND = 3;

  @TempDir Path chip;

  /** Writes the classes, each behind the imports of the page, and compiles them; their names. */
  private List<String> compiled() throws IOException {
    List<String> blocks =
        Pattern.compile("(?s)```java\n(.*?)```")
            .matcher(Files.readString(ROOT.resolve("harness/RECIPES.md")))
            .results()
            .map(match -> match.group(1))
            .toList();
    List<String> names = new ArrayList<>();
    List<String> command =
        new ArrayList<>(
            List.of("-cp", System.getProperty("java.class.path"), "-d", chip.toString()));
    for (String block : blocks.subList(1, blocks.size())) {
      Matcher name = Pattern.compile("class (\\w+) ").matcher(block);
      assertTrue(name.find(), block);
      Path file = chip.resolve(name.group(1) + ".java");
      Files.writeString(file, blocks.get(0) + block);
      names.add(name.group(1));
      command.add(file.toString());
    }
    int status =
        ToolProvider.getSystemJavaCompiler().run(null, null, null, command.toArray(String[]::new));
    assertEquals(0, status, () -> names + " compile");
    return names;
  }

  @Test
  void everyRecipeCompilesAndHasItsRtl() throws IOException {
    assertEquals(RECIPES, compiled().size());
    List<String> files =
        Pattern.compile("\"rtl/(\\w+\\.s?v)\"")
            .matcher(Files.readString(ROOT.resolve("harness/RECIPES.md")))
            .results()
            .map((MatchResult match) -> match.group(1))
            .toList();
    assertEquals(RECIPES, files.size());
    for (String file : files) {
      assertEquals(1, FOLDERS.stream().filter(at -> Files.exists(at.resolve(file))).count(), file);
    }
  }

  @Test
  @Tag("thorough")
  void everyRecipePasses() throws Exception {
    Files.createDirectories(chip.resolve("rtl"));
    for (Path folder : FOLDERS) {
      try (Stream<Path> files = Files.list(folder)) {
        for (Path file : files.toList()) {
          Files.copy(file, chip.resolve("rtl").resolve(file.getFileName().toString()));
        }
      }
    }
    List<String> command =
        new ArrayList<>(
            List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "--enable-native-access=ALL-UNNAMED",
                "-XX:+UseSerialGC",
                "-XX:TieredStopAtLevel=1",
                "-Dplumbline.optimised=false",
                "-cp",
                chip + ":" + System.getProperty("java.class.path"),
                RunTests.class.getName()));
    command.addAll(compiled());
    Path log = chip.resolve("log");
    Process process =
        new ProcessBuilder(command)
            .directory(chip.toFile())
            .redirectErrorStream(true)
            .redirectOutput(log.toFile())
            .start();
    assertEquals(0, process.waitFor(), Files.readString(log));
    long rows = Files.readAllLines(chip.resolve("reports/latest/summary.csv")).size();
    assertEquals(1 + RECIPES - BY_HAND, rows, "a row for each bench");
  }
}
