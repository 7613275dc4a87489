package dev.plumbline.samples.docs;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.samples.SampleRtl;
import java.awt.image.BufferedImage;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.MatchResult;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import javax.imageio.ImageIO;
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
          ROOT.resolve("harness/src/test/rtl/trades"),
          SampleRtl.FOLDER);

  private static final int RECIPES = 23;

  /** Recipes that drive by hand leave no row in the report. */
  private static final int BY_HAND = 3;

  /** A test class, the file of its RTL, what stands there once, what is put in its place. */
  private static final String[][] FAULTS = {
    {"ReachTest", "reach.v", "xx + yy", "xx - yy"},
    {"DimmerTest", "lamp_dimmer.v", "= ~full2 | p_ready", "= 1'b1"},
    {"LabelQueueTest", "label_queue.v", "{~tail[3], tail[2:0]}", "~tail"},
    {"TotalTest", "turn_total.v", "total <= 12'sh7ff", "total <= sum[11:0]"},
    {"HandTest", "calm_hand.v", "hand * 19'sd7", "hand * 19'sd6"},
    {"ProcessorTest", "chime_cpu.v", "flag <= a < b", "flag <= a > b"},
    {"CheckTest", "label_crc.v", "first ? 32'hffffffff : r", "r"},
    {"SealTest", "page_seal.v", "191'd0, 64'd256", "191'd0, 64'd255"},
    {"SunTest", "sun_height.v", "24'd1238021", "24'd1239021"},
    {"CrateTest", "crate_volume.v", "area[7:0] * side", "area[6:0] * side"},
    {"StarsTest", "star_map.v", "star[field] <= d", "star[field ^ 4'd1] <= d"},
    {
      "SceneTest",
      "sphere_pipeline.sv",
      "projection_root_q) - half_chord",
      "projection_root_q) + half_chord"
    },
    {"QueueTest", "room_queue.v", "get & ~gempty;", "get;"},
    {"RatioTest", "ratio_unit.v", "sh >= {", "sh > {"},
    {"ArcTest", "arc_pulse.v", "z1 <= z0", "z1 <= z"},
    {"LanesTest", "two_lanes.v", "held ? held_fast :", ""},
    {"LabelTest", "label_packer.v", "? 4'h3", "? 4'h7"},
    {"KnobsTest", "knob_bank.v", "lamp  <= wdat[8]", "lamp <= wdat[7]"},
    {"RootTest", "root_table.v", "i * i <= {23'd0, x}", "i * i < {23'd0, x}"},
    {"WheelTest", "slow_wheel.v", "10'd1023 - sum[9:0]", "10'd1022 - sum[9:0]"},
    {"PlanesTest", "bitmap_writer.v", "x ^ y", "x"},
    {"PainterTest", "frame_painter.v", "y * 8'd20", "y * 8'd21"},
    {"GlobeTest", "globe_show.v", "nearing - half", "nearing - half - half"},
  };

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

  /** Puts all RTL of the page where its recipes look for it. */
  private void copyRtl() throws IOException {
    Files.createDirectories(chip.resolve("rtl"));
    for (Path folder : FOLDERS) {
      try (Stream<Path> files = Files.list(folder)) {
        for (Path file : files.toList()) {
          Files.copy(file, chip.resolve("rtl").resolve(file.getFileName().toString()));
        }
      }
    }
  }

  /** Runs all recipes; what they print. */
  private String run(int status) throws IOException, InterruptedException {
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
    assertEquals(status, process.waitFor(), Files.readString(log));
    return Files.readString(log);
  }

  @Test
  void everyRecipePasses() throws Exception {
    copyRtl();
    run(0);
    long rows = Files.readAllLines(chip.resolve("reports/latest/summary.csv")).size();
    assertEquals(1 + RECIPES - BY_HAND, rows, "a row for each bench");
    thePictureOfTheRendererIsThere();
  }

  /** What RTL of another hand drew: its globe in brass stands before its sky. */
  private void thePictureOfTheRendererIsThere() throws IOException {
    try (Stream<Path> files = Files.walk(chip.resolve("reports"))) {
      List<Path> drawn =
          files
              .filter(file -> file.endsWith("actual.png"))
              .filter(file -> file.getParent().getFileName().toString().contains("Globe"))
              .toList();
      assertEquals(1, drawn.size(), drawn.toString());
      BufferedImage picture = ImageIO.read(drawn.get(0).toFile());
      assertEquals("32x24", picture.getWidth() + "x" + picture.getHeight());
      assertEquals(0x101830, picture.getRGB(0, 0) & 0xFFFFFF);
      int middle = picture.getRGB(15, 12) & 0xFFFFFF;
      assertTrue(middle >> 16 > (middle & 0xFF), Integer.toHexString(middle));
    }
  }

  /** A recipe that cannot be red would teach nobody anything: each is, with one wrong text. */
  @Test
  @Tag("thorough")
  void everyRecipeIsRedWhereItsRtlIsWrong() throws Exception {
    copyRtl();
    for (String[] fault : FAULTS) {
      Path rtl = chip.resolve("rtl").resolve(fault[1]);
      String text = Files.readString(rtl);
      assertEquals(2, text.split(Pattern.quote(fault[2]), -1).length, fault[1] + ": " + fault[2]);
      Files.writeString(rtl, text.replace(fault[2], fault[3]));
    }
    List<String> failed =
        run(1).lines().filter(line -> line.startsWith("FAILED ")).sorted().toList();
    assertEquals(
        Stream.of(FAULTS)
            .map(fault -> "FAILED " + fault[0] + " AssertionFailedError")
            .sorted()
            .toList(),
        failed);
    assertEquals(RECIPES, failed.size());
  }
}
