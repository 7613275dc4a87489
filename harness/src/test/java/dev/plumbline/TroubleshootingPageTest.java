package dev.plumbline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** The page about messages quotes messages that there are. */
class TroubleshootingPageTest {
  private static final Path PAGE = Path.of("TROUBLESHOOTING.md");

  @Test
  void everyHeadingIsPartOfAMessageInTheSources() throws IOException {
    StringBuilder sources = new StringBuilder();
    try (Stream<Path> files = Files.walk(Path.of("src/main"))) {
      for (Path file : files.filter(Files::isRegularFile).sorted().toList()) {
        sources.append(Files.readString(file));
      }
    }
    List<String> quoted =
        Pattern.compile("^### `(.*)`$", Pattern.MULTILINE)
            .matcher(Files.readString(PAGE))
            .results()
            .map((MatchResult heading) -> heading.group(1))
            .toList();

    assertTrue(quoted.size() > 15, quoted::toString);
    assertEquals(
        List.of(),
        quoted.stream().filter(text -> sources.indexOf(text.replace("\"", "\\\"")) < 0).toList());
  }
}
