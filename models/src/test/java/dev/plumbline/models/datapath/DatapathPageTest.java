package dev.plumbline.models.datapath;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.File;
import java.io.IOException;
import java.lang.reflect.Method;
import java.lang.reflect.Modifier;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import javax.tools.ToolProvider;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The page about the language: its table has every step, its examples print what it says. */
class DatapathPageTest {
  @TempDir Path folder;

  private static String page() throws IOException {
    return Files.readString(Path.of("DATAPATH.md"));
  }

  @Test
  void everyExamplePrintsWhatStandsBelowIt() throws Exception {
    Matcher example = Pattern.compile("(?s)```java\n(.*?)```\n\n```text\n(.*?)```").matcher(page());
    int examples = 0;
    while (example.find()) {
      examples++;
      assertEquals(example.group(2), printed(example.group(1)), example.group(1));
    }
    assertEquals(4, examples);
    assertEquals(4, page().split("```java", -1).length - 1);
  }

  private String printed(String source) throws Exception {
    Matcher name = Pattern.compile("(?m)^class (\\w+)").matcher(source);
    assertEquals(true, name.find());
    Path file = folder.resolve(name.group(1) + ".java");
    Files.writeString(file, source);
    String path = System.getProperty("java.class.path");
    int status =
        ToolProvider.getSystemJavaCompiler()
            .run(null, null, null, "-cp", path, "-d", folder.toString(), file.toString());
    assertEquals(0, status, () -> name.group(1) + " compiles");
    Path java = Path.of(System.getProperty("java.home"), "bin", "java");
    Path text = folder.resolve("printed.txt");
    Process run =
        new ProcessBuilder(
                java.toString(), "-cp", folder + File.pathSeparator + path, name.group(1))
            .redirectErrorStream(true)
            .redirectOutput(text.toFile())
            .start();
    assertEquals(0, run.waitFor(), () -> name.group(1) + " runs");
    return Files.readString(text).replace("\r\n", "\n");
  }

  @Test
  void theTableHasEveryStepAndNoOther() throws IOException {
    Set<String> methods =
        Stream.of(Datapath.Builder.class.getMethods())
            .filter(method -> method.getReturnType() == Value.class)
            .filter(method -> !Modifier.isStatic(method.getModifiers()))
            .map(Method::getName)
            .collect(Collectors.toCollection(TreeSet::new));
    methods.addAll(Set.of("next", "saturateTo", "grow"));
    String table = page().substring(page().indexOf("| method |"));
    List<String> cells =
        Pattern.compile("(?m)^\\| (`.*?) \\|")
            .matcher(table)
            .results()
            .map(r -> r.group(1))
            .toList();
    Set<String> named = new TreeSet<>();
    for (String cell : cells) {
      Pattern.compile("`(\\w+)`").matcher(cell).results().forEach(r -> named.add(r.group(1)));
    }
    assertEquals(methods, named);
  }
}
