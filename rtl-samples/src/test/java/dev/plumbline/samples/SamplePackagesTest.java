package dev.plumbline.samples;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** Which package of the samples uses which; a package that is not here fails. */
class SamplePackagesTest {
  private static final Map<String, Set<String>> ARROWS =
      Map.of(
          "samples", Set.of(),
          "samples.faults", Set.of("samples"),
          "samples.speed", Set.of("samples"));

  private static final Pattern USE = Pattern.compile("dev\\.plumbline\\.(samples[a-z.]*)\\.[A-Z]");
  private static final int LONGEST = 470;

  @Test
  void packagesUseOnlyWhatThePlanSays() throws IOException {
    Map<String, Set<String>> used = new TreeMap<>();
    try (Stream<Path> files = Files.walk(Path.of("src/main/java/dev/plumbline"))) {
      for (Path file : files.filter(path -> path.toString().endsWith(".java")).toList()) {
        String folder =
            Path.of("src/main/java/dev/plumbline").relativize(file.getParent()).toString();
        Set<String> arrows = used.computeIfAbsent(folder.replace('/', '.'), f -> new TreeSet<>());
        String text = Files.readString(file);
        Matcher use = USE.matcher(text);
        while (use.find()) {
          arrows.add(use.group(1));
        }
        assertTrue(text.lines().count() <= LONGEST, file + " is too long");
      }
    }
    used.forEach((name, arrows) -> arrows.remove(name));
    assertEquals(new TreeMap<>(ARROWS).toString(), used.toString());
  }
}
