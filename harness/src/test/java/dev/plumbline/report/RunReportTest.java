package dev.plumbline.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.check.VerdictSamples;
import dev.plumbline.evidence.CsvTable;
import dev.plumbline.evidence.ReportException;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class RunReportTest {
  @TempDir private Path reports;

  @Test
  void aRunIsAFolderWithASummaryAPageAndAnEvidenceFolderForAMismatch() {
    RunReport run = RunReport.open(reports, "evening");
    assertFalse(Files.exists(run.folder()), "nothing is written before the first verdict");

    assertEquals(Optional.empty(), run.record(VerdictSamples.pass("brass ring")));
    Path evidenceFolder = run.record(VerdictSamples.wrongValue("moon", 5, "")).orElseThrow();

    assertEquals(reports.resolve("evening").toAbsolutePath(), run.folder());
    assertEquals(List.of("brass ring", "moon"), benches("evening"));
    assertTrue(Files.isRegularFile(run.folder().resolve("index.html")));
    assertEquals(run.folder().resolve("moon"), evidenceFolder);
    assertTrue(Files.isRegularFile(evidenceFolder.resolve("mismatch.csv")));
    assertTrue(Files.isRegularFile(evidenceFolder.resolve("facts.txt")));
  }

  @Test
  void thePageLeadsToTheFilesThatAreThereAndToNoOther() throws IOException {
    RunReport run = RunReport.open(reports, "evening");
    Path moon = run.record(VerdictSamples.wrongValue("moon", 5, "")).orElseThrow();
    Files.delete(moon.resolve("mismatch.csv"));
    Files.writeString(moon.resolve("waveform.vcd"), "");
    run.record(VerdictSamples.pass("brass ring"));

    String page = Files.readString(run.folder().resolve("index.html"));
    assertTrue(page.contains("<a href=\"moon/facts.txt\">"), page);
    assertTrue(page.contains("<a href=\"moon/waveform.vcd\">"), page);
    assertFalse(page.contains("moon/mismatch.csv"), page);
  }

  @Test
  void aTestThatDroveItsDutByHandAndFailedStandsOnThePage() throws IOException {
    RunReport run = RunReport.open(reports, "evening");
    CsvTable rows = new CsvTable("cycle");
    Path page = reports.resolve("evening/index.html");
    run.keepTraces("Wheel.turns", Map.of("trace.csv", rows), Map.of(), List.of(), "<7> failed: 8");
    String alone = Files.readString(page);
    assertTrue(alone.contains("<p>1 test that drove a DUT by hand failed.</p>"), alone);
    assertTrue(alone.contains("&lt;7&gt; <span class=\"verdict\">failed"), alone);
    assertTrue(alone.contains("<a href=\"Wheel.turns/trace.csv\">"), alone);
    run.record(VerdictSamples.pass("moon"));
    run.keepTraces("Wheel.stops", Map.of(), Map.of(), List.of(), "Wheel.stops passed");
    String both = Files.readString(page);
    assertTrue(
        both.contains(
            "1 bench. All hold to their reference. 1 test that drove a DUT by hand failed."),
        both);
    assertTrue(both.contains("<a href=\"Wheel.turns/trace.csv\">"), both);
    assertFalse(both.contains("Wheel.stops"), "it passed");
  }

  @Test
  void latestPointsAtTheRunThatWasBegunLast() throws IOException {
    RunReport.open(reports, "morning").record(VerdictSamples.pass("sun"));
    RunReport evening = RunReport.open(reports, "evening");
    assertEquals(List.of("sun"), benches("latest"));
    evening.record(VerdictSamples.pass("moon"));

    assertEquals(List.of("moon"), benches("latest"));
    assertEquals(Path.of("evening"), Files.readSymbolicLink(reports.resolve("latest")));
    RunReport.open(reports, "morning").record(VerdictSamples.pass("venus"));
    assertEquals(List.of("moon"), benches("latest"), "the morning had begun before");
  }

  @Test
  void aVerdictIsNotLostWhereThereCanBeNoLink() throws IOException {
    Files.createDirectories(reports.resolve("latest").resolve("somebody's own"));
    RunReport.open(reports, "evening").record(VerdictSamples.pass("moon"));

    assertEquals(List.of("moon"), benches("evening"));
    assertTrue(Files.isDirectory(reports.resolve("latest").resolve("somebody's own")));
    assertEquals(List.of(), leftAside(reports));
  }

  @Test
  void rowsStandByNameWhoeverCameFirst() {
    RunReport run = RunReport.open(reports, "evening");
    for (String bench : List.of("venus", "mars", "earth")) {
      run.record(VerdictSamples.pass(bench));
    }
    assertEquals(List.of("earth", "mars", "venus"), benches("evening"));
    List<String> lines = run.consoleTable().lines().toList();
    assertTrue(lines.get(1).startsWith("earth  pass "), lines.get(1));
    assertEquals("3 benches, all pass. Files: " + run.folder(), lines.get(4));
  }

  @Test
  void oneFolderIsOneRunOfAProcess() {
    assertSame(
        RunReport.open(reports, "evening"),
        RunReport.open(reports.resolve("x").resolve(".."), "evening"));
    assertEquals("", RunReport.open(reports, "evening").consoleTable());
  }

  @Test
  void aRunIsNamedByPropertyOrElseByTime() {
    Optional<String> here = Optional.of(reports.toString());
    assertEquals(
        reports.resolve("evening").toAbsolutePath(),
        RunReport.of(here, Optional.of("evening")).folder());
    for (Optional<String> unsaid : List.of(Optional.<String>empty(), Optional.of(""))) {
      String name = RunReport.of(here, unsaid).folder().getFileName().toString();
      assertTrue(name.matches("\\d{4}-\\d\\d-\\d\\dT\\d\\d-\\d\\d-\\d\\dZ"), name);
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"latest", "", "..", "../escape", ".hidden", "a/b", "two words"})
  void aNameThatIsNoFolderOfItsOwnIsRefused(String name) {
    IllegalArgumentException error =
        assertThrows(IllegalArgumentException.class, () -> RunReport.open(reports, name));
    assertTrue(
        error.getMessage().startsWith("A run cannot be named \"" + name + "\"; letters, digits"),
        error::getMessage);
  }

  @Test
  @Tag("thorough")
  void severalProcessesAddToOneRunAndNothingIsEverHalfWritten() throws Exception {
    List<Process> writers = new ArrayList<>();
    for (String name : List.of("earth", "mars", "venus")) {
      writers.add(RunWriter.start(reports, "evening", name, 12));
    }
    int looks = 0;
    while (writers.stream().anyMatch(Process::isAlive)) {
      looks += requireWhole("evening").isEmpty() ? 0 : 1;
    }
    for (Process writer : writers) {
      assertEquals(0, writer.waitFor());
    }

    assertTrue(looks > 0, "the run was looked at while it grew");
    List<Map<String, String>> rows = requireWhole("evening");
    assertEquals(36, rows.size());
    assertEquals(36, rows.stream().map(row -> row.get("bench")).distinct().count());
    assertEquals(12, rows.stream().map(row -> row.get("folder")).filter(d -> !d.isEmpty()).count());
    assertEquals(List.of(), leftAside(reports.resolve("evening")));
    assertEquals(List.of(), leftAside(reports));
    assertEquals(rows, requireWhole("latest"));
  }

  @Test
  @Tag("thorough")
  void aKillInTheMiddleLeavesAWholeRunThatOthersCanAddTo() throws Exception {
    int before = 0;
    for (int kill = 0; kill < 3; kill++) {
      Process writer = RunWriter.start(reports, "evening", "victim " + kill, 1_000_000);
      while (requireWhole("evening").size() < before + 4) {
        assertTrue(writer.isAlive());
        Thread.onSpinWait();
      }
      writer.destroyForcibly().waitFor();
      before = requireWhole("evening").size();
    }
    RunReport.open(reports, "evening").record(VerdictSamples.wrongValue("survivor", 5, ""));

    List<Map<String, String>> rows = requireWhole("evening");
    assertEquals(before + 1, rows.size());
    assertEquals("survivor", rows.get(0).get("bench"));
  }

  @Test
  void whatAKilledProcessLeftAsideIsInNobodysWay() throws IOException {
    Path folder = Files.createDirectories(reports.resolve("evening"));
    Files.writeString(folder.resolve(".summary.csv17.part"), "bench,verd");
    Files.writeString(folder.resolve(".lock"), "");
    Files.createDirectory(folder.resolve("moon"));
    RunReport.open(reports, "evening").record(VerdictSamples.wrongValue("moon", 5, ""));

    assertEquals("moon", requireWhole("evening").get(0).get("folder"));
  }

  @Test
  void aRunThatCannotBeWrittenSaysWhereAndWhatToDo() throws IOException {
    Path file = Files.writeString(reports.resolve("plain file"), "");
    Exception error =
        assertThrows(
            ReportException.class,
            () -> RunReport.open(file, "evening").record(VerdictSamples.pass("moon")));
    assertEquals(
        "Run "
            + file.resolve("evening").toAbsolutePath()
            + " could not be added to: Not a directory for "
            + file.resolve("evening").toAbsolutePath()
            + ". A place with room and leave to write is needed; property plumbline.reports names"
            + " another.",
        error.getMessage());
  }

  private List<String> benches(String run) {
    return requireWhole(run).stream().map(row -> row.get("bench")).toList();
  }

  /**
   * The rows of a run; fails when a file of it, or an evidence folder that it names, is not whole.
   */
  private List<Map<String, String>> requireWhole(String run) {
    Path folder = reports.resolve(run);
    if (!Files.exists(folder.resolve("summary.csv"))) {
      return List.of();
    }
    List<Map<String, String>> rows = CsvTable.read(folder.resolve("summary.csv"));
    assertFalse(rows.isEmpty(), "a summary has a row from the start");
    try {
      for (Map<String, String> row : rows) {
        assertEquals(SummaryTable.COLUMNS, List.copyOf(row.keySet()));
        if (!row.get("folder").isEmpty()) {
          Path evidenceFolder = folder.resolve(row.get("folder"));
          assertTrue(Files.size(evidenceFolder.resolve("facts.txt")) > 0);
          assertTrue(Files.size(evidenceFolder.resolve("mismatch.csv")) > 0);
        }
      }
      if (Files.exists(folder.resolve("index.html"))) { // follows upon the first summary
        assertTrue(Files.readString(folder.resolve("index.html")).endsWith("</html>\n"));
      }
    } catch (IOException e) {
      throw new AssertionError("not whole: " + run, e);
    }
    return rows;
  }

  private static List<String> leftAside(Path folder) throws IOException {
    try (Stream<Path> files = Files.list(folder)) {
      return files
          .map(file -> file.getFileName().toString())
          .filter(name -> name.endsWith(".part") || name.startsWith(".latest"))
          .toList();
    }
  }
}
