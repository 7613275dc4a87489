package dev.plumbline.samples.docs;

import static org.junit.jupiter.api.Assertions.assertEquals;

import dev.plumbline.samples.SampleRtl;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import javax.tools.ToolProvider;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The sample blocks that a ready-made bench is for, drafted from their ports and run as drafted.
 */
@Tag("thorough")
class DraftedSamplesTest {
  private static final List<String> BLOCKS =
      List.of(
          "reciprocal",
          "square_root",
          "split_multiply",
          "box_pipeline",
          "sphere_pipeline",
          "sphere_walker",
          "plane_pipeline");

  @TempDir Path chip;

  private void java(String... arguments) throws IOException, InterruptedException {
    List<String> command =
        new ArrayList<>(
            List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "--enable-native-access=ALL-UNNAMED",
                "-XX:+UseSerialGC",
                "-XX:TieredStopAtLevel=1",
                "-cp",
                chip + ":" + System.getProperty("java.class.path")));
    command.addAll(List.of(arguments));
    Path log = chip.resolve("log");
    Process process =
        new ProcessBuilder(command)
            .directory(chip.toFile())
            .redirectErrorStream(true)
            .redirectOutput(log.toFile())
            .start();
    assertEquals(0, process.waitFor(), Files.readString(log));
  }

  @Test
  void everyBlockRunsAsDrafted() throws Exception {
    String folder = SampleRtl.FOLDER.toString();
    List<String> run = new ArrayList<>(List.of(RunTests.class.getName()));
    List<String> compile =
        new ArrayList<>(
            List.of("-cp", System.getProperty("java.class.path"), "-d", chip.toString()));
    for (String block : BLOCKS) {
      String name =
          block.substring(0, 1).toUpperCase(Locale.ROOT) + block.substring(1) + "_drafted";
      String source = chip.resolve(name + ".java").toString();
      Path rtl = SampleRtl.FOLDER.resolve(block + ".sv");
      List<String> draft =
          new ArrayList<>(List.of("dev.plumbline.cli.Main", "draft", "--top", block));
      draft.addAll(List.of("-I", folder, "-y", folder, "--to", source));
      draft.add(rtl.toString());
      java(draft.toArray(String[]::new));
      compile.add(source);
      run.add(name);
    }
    assertEquals(
        0,
        ToolProvider.getSystemJavaCompiler().run(null, null, null, compile.toArray(String[]::new)));
    java(run.toArray(String[]::new));
    List<String> rows = Files.readAllLines(chip.resolve("reports/latest/summary.csv"));
    assertEquals(BLOCKS.size(), rows.stream().filter(row -> row.contains(",pass,")).count());
  }
}
