package dev.plumbline.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.google.gson.JsonParser;
import dev.plumbline.evidence.CaseFile;
import dev.plumbline.evidence.CsvTable;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Runs that are killed at random moments leave whole files only. */
@Tag("thorough")
class KilledRunTest {
  /** In the quality gate one of a scene, which takes longer; fifty with {@code plumbline.long}. */
  private static int kills(String bench) {
    return Boolean.getBoolean("plumbline.long") ? 50 : bench.equals(RunWriter.SCENE) ? 1 : 2;
  }

  @TempDir private Path reports;

  @ParameterizedTest
  @ValueSource(strings = {"bench", RunWriter.SCENE})
  void noFileIsHalfWritten(String bench) throws Exception {
    Random chance = new Random(20_261_129);
    int written = 0;
    for (int kill = 0; kill < kills(bench); kill++) {
      String run = "run" + kill;
      Process process = RunWriter.start(reports, run, bench, 1_000);
      Path ledger = reports.resolve(run).resolve(Ledger.FILE);
      while (process.isAlive() && Files.notExists(ledger)) {
        TimeUnit.MILLISECONDS.sleep(5); // it starts; then it is killed while it writes
      }
      TimeUnit.MILLISECONDS.sleep(chance.nextInt(400));
      process.destroyForcibly().waitFor();
      written += requireWhole();
    }
    assertTrue(written >= kills(bench), written + " files");

    RunWriter.start(reports, "last", bench, 1).waitFor();
    requireWhole();
    try (Stream<Path> all = Files.walk(reports)) {
      List<Path> aside = all.filter(path -> path.toString().endsWith(".part")).toList();
      assertEquals(List.of(), aside, "what was begun goes with the next run");
    }
  }

  /** Reads every file that has its name, and counts them. */
  private int requireWhole() throws IOException {
    List<Path> files;
    try (Stream<Path> all = Files.walk(reports)) {
      files =
          all.filter(Files::isRegularFile).filter(path -> !path.toString().contains("/.")).toList();
    }
    for (Path file : files) {
      String text = Files.readString(file);
      String name = file.getFileName().toString();
      if (name.startsWith("case-")) {
        assertFalse(CaseFile.read(file).cycles().isEmpty(), name);
        assertTrue(text.endsWith("\r\n"), name);
      } else if (name.endsWith(".csv")) {
        assertFalse(CsvTable.read(file).isEmpty(), name);
        assertTrue(text.endsWith("\r\n"), name);
      } else if (name.endsWith(".jsonl")) {
        text.lines().forEach(line -> assertTrue(JsonParser.parseString(line).isJsonObject()));
        assertTrue(text.endsWith("\n"), name);
      } else if (name.endsWith(".html")) {
        assertTrue(text.endsWith("</html>\n"), name);
      } else {
        assertTrue(text.endsWith("\n"), name);
      }
    }
    return files.size();
  }
}
