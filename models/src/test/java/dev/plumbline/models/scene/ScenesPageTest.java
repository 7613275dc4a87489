package dev.plumbline.models.scene;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.parsing.TextException;
import dev.plumbline.models.program.LayoutText;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.program.WordLayout;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;

/** Every snippet of the page about scenes is read as it stands there. */
class ScenesPageTest {
  private static final SceneFormats FORMATS =
      SceneFormats.of(Format.signed(16, 16), Format.signed(2, 16));
  private static final ProgramLimits LIMITS = new ProgramLimits(64, 4, 256);

  private static String page() throws IOException {
    return Files.readString(Path.of("SCENES.md"));
  }

  private static List<String> blocks(String language) throws IOException {
    return Pattern.compile("(?s)```" + language + "\n(.*?)```")
        .matcher(page())
        .results()
        .map(result -> result.group(1))
        .toList();
  }

  @Test
  void everySceneOfThePageIsAProgram() throws IOException {
    List<String> scenes = blocks("scene");
    assertEquals(3, scenes.size());
    for (String text : scenes) {
      Scene scene = Scene.parse(text);
      assertTrue(scene.program(FORMATS, LIMITS).length() > 4, text);
      assertEquals(scene, Scene.parse(scene.toString()));
    }
  }

  @Test
  void theErrorOfThePageIsTheOneThatComes() throws IOException {
    String text = "piece a take sphere at 0, 0, 0 radios 1 of 1 done";
    String message = assertThrows(TextException.class, () -> Scene.parse(text)).getMessage();
    assertTrue(page().contains("\n" + message + "\n"), message);
  }

  @Test
  void everyWordOfTheLanguageIsOnThePage() throws IOException {
    for (String word : SceneReader.WORDS) {
      assertTrue(Pattern.compile("`[^`\n]*\\b" + word + "\\b").matcher(page()).find(), word);
    }
  }

  @Test
  void theLayoutOfThePageHoldsItsScenes() throws IOException {
    List<String> layouts = blocks("layout");
    assertEquals(1, layouts.size());
    WordLayout layout = WordLayout.parse(layouts.get(0));
    SceneFormats coarse = SceneFormats.of(Format.signed(8, 12), Format.signed(2, 16));
    Program shell =
        Scene.parse(blocks("scene").get(0).replaceAll("(?m)^  cut half.*\n", ""))
            .program(coarse, LIMITS);
    assertEquals(shell, layout.decode(List.of(layout.encode(shell)), coarse, LIMITS));
  }

  @Test
  void everyFieldOfALayoutIsOnThePage() throws IOException {
    for (OperationKind kind : OperationKind.values()) {
      String fields = "`" + String.join("`, `", LayoutText.names(kind)) + "`";
      String row = "(?m)^\\|.*`" + kind + "`.*\\| (.*) \\|$";
      List<String> rows =
          Pattern.compile(row).matcher(page()).results().map(r -> r.group(1)).toList();
      assertTrue(
          rows.contains(LayoutText.names(kind).isEmpty() ? "none" : fields), kind + ": " + rows);
    }
  }
}
