package dev.plumbline.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.check.VerdictSamples;
import dev.plumbline.evidence.CsvTable;
import dev.plumbline.evidence.ReportException;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.opentest4j.AssertionFailedError;

/** What a run makes of disks that are full, files that others changed, and names that are odd. */
class RunFailuresTest {
  @TempDir private Path reports;

  @ParameterizedTest
  @ValueSource(strings = {"\uFEFF", ";", "\uFEFF;"})
  void aSummarySavedAgainByASpreadsheetLosesNoRow(String saved) throws IOException {
    RunReport run = RunReport.open(reports, "evening");
    run.record(VerdictSamples.pass("brass ring"));
    Path summary = run.folder().resolve("summary.csv");
    String text = Files.readString(summary);
    Files.writeString(
        summary,
        saved.replace(";", "") + (saved.endsWith(";") ? text.replace(',', ';') : text),
        StandardCharsets.UTF_8);
    assertEquals("brass ring", CsvTable.read(summary).get(0).get("bench"));

    run.record(VerdictSamples.pass("moon"));

    assertEquals(List.of("brass ring", "moon"), benches("evening"));
  }

  @Test
  void aMismatchThatCannotBeWrittenIsToldAllTheSame() throws IOException {
    Path file = Files.writeString(reports.resolve("plain file"), "");
    AssertionFailedError error =
        assertThrows(
            AssertionFailedError.class,
            () -> VerdictSamples.wrongValueTo(RunReport.open(file, "evening"), "moon").orFail());

    assertTrue(error.getMessage().startsWith("moon: value wrong"), error::getMessage);
    assertTrue(error.getMessage().contains("seed"), error::getMessage);
    assertTrue(error.getMessage().contains("\nNot kept: "), error::getMessage);
    assertTrue(error.getMessage().contains(file.resolve("evening").toString()), error::getMessage);
    assertTrue(error.getMessage().contains("Not a directory"), error::getMessage);
    assertEquals("plain file", only(reports).getFileName().toString());
  }

  @Test
  void aPassThatCannotBeWrittenIsNoPass() throws IOException {
    Path file = Files.writeString(reports.resolve("plain file"), "");
    RunReport run = RunReport.open(file, "evening");

    RuntimeException error =
        assertThrows(RuntimeException.class, () -> VerdictSamples.passTo(run, "moon"));
    assertTrue(error.getMessage().contains("could not be added to"), error::getMessage);
    assertTrue(run.consoleTable().startsWith("bench"), "the console shows it all the same");
  }

  @ParameterizedTest
  @ValueSource(
      strings = {"summary.csv", "coverage.csv", "index.html", "Index.HTML", "ledger.jsonl"})
  void aBenchNamedAsAFileOfTheRunKeepsItsVerdict(String name) throws IOException {
    RunReport run = RunReport.open(reports, "evening");
    Path folder = run.record(VerdictSamples.wrongValue(name, 5, "")).orElseThrow();

    assertEquals(List.of(name), benches("evening"));
    assertTrue(Files.isRegularFile(folder.resolve("mismatch.csv")));
    assertTrue(Files.isRegularFile(run.folder().resolve("index.html")));
  }

  @ParameterizedTest
  @ValueSource(strings = {"folder", "words", "facts", "contentHash", "outcome", "bounds"})
  void aLedgerThatLacksAPartIsRefusedByItsLine(String part) throws IOException {
    RunReport run = RunReport.open(reports, "evening");
    run.record(VerdictSamples.wrongValue("gear", 5, ""));
    Path ledger = reports.resolve("evening/ledger.jsonl");
    Files.writeString(ledger, Files.readString(ledger).replace('"' + part + "\":", "\"other\":"));

    String message =
        assertThrows(ReportException.class, () -> run.record(VerdictSamples.pass("moon")))
            .getMessage();

    assertTrue(message.startsWith(ledger + ":1: This is no verdict in JSON: "), message);
  }

  @Test
  void aLedgerThatIsWrongInALongWordIsRefusedInAFewWords() {
    String line = "{\"bench\":\"gear\",\"" + "contentHash".repeat(2_000) + "\" 7}";

    String message =
        assertThrows(ReportException.class, () -> Ledger.entry("ledger.jsonl:1", line))
            .getMessage();

    assertTrue(message.startsWith("ledger.jsonl:1: This is no verdict in JSON: "), message);
    assertTrue(message.length() < 600, message);
  }

  @Test
  void halfACharacterInANameLeavesNothingHalf() throws IOException {
    RunReport run = RunReport.open(reports, "evening");
    Path folder = run.record(VerdictSamples.wrongValue("moon \uD800", 5, "")).orElseThrow();

    assertEquals(1, benches("evening").size());
    assertTrue(benches("evening").get(0).startsWith("moon "));
    assertTrue(Files.readString(folder.resolve("facts.txt")).startsWith("moon "));
    assertTrue(Files.readString(run.folder().resolve("index.html")).contains("moon"));
  }

  @Test
  void controlCharactersReachNeitherPageNorConsole() throws IOException {
    RunReport run = RunReport.open(reports, "evening");
    run.record(VerdictSamples.wrongValue("moon \u001b[31m\u0007\u009b", 5, ""));

    for (String shown :
        List.of(run.consoleTable(), Files.readString(run.folder().resolve("index.html")))) {
      assertTrue(shown.contains("moon \\u001b[31m\\u0007\\u009b"), shown);
      assertFalse(shown.chars().anyMatch(c -> Character.isISOControl(c) && c != '\n'), shown);
    }
  }

  @Test
  void whatAKilledRunLeftIsCleanedByTheNext() throws IOException {
    Path killed = Files.createDirectories(reports.resolve("morning"));
    Files.writeString(killed.resolve(".lock"), "");
    Files.writeString(killed.resolve(".summary.csv17.part"), "bench,verd");
    Files.createDirectory(killed.resolve("moon"));
    Path half = Files.createDirectory(killed.resolve(".sun.part"));
    Files.writeString(half.resolve("mismatch.csv"), "cyc");
    Path mine = Files.createDirectories(killed.resolve("my own"));
    Files.writeString(mine.resolve("notes"), "");
    Path alien = Files.createDirectories(reports.resolve("sweeps").resolve("empty")).getParent();
    Files.writeString(alien.resolve(".x.part"), "");
    Files.createSymbolicLink(reports.resolve(".latest-99999999"), Path.of("morning"));

    RunReport.open(reports, "evening").record(VerdictSamples.pass("moon"));

    assertEquals(List.of(".lock", "my own"), names(killed));
    assertEquals(List.of(".x.part", "empty"), names(alien), "that is no run");
    assertEquals(
        List.of(".lock", "evening", "history.csv", "latest", "morning", "sweeps"), names(reports));
  }

  @Test
  void aRunThatAnotherProcessIsWritingIsLeftAlone() throws Exception {
    Path folder = Files.createDirectories(reports.resolve("morning"));
    try (var channel =
            java.nio.channels.FileChannel.open(
                folder.resolve(".lock"),
                java.nio.file.StandardOpenOption.CREATE,
                java.nio.file.StandardOpenOption.WRITE);
        var held = channel.lock()) {
      Files.writeString(folder.resolve(".summary.csv17.part"), "bench,verd");
      Process other = RunWriter.start(reports, "evening", "venus", 1);
      assertEquals(0, other.waitFor());
      assertEquals(List.of(".lock", ".summary.csv17.part"), names(folder));
      assertTrue(held.isValid());
    }
  }

  /** A limit on the size of files is a disk that fills up in the midst of a file. */
  @Test
  @Tag("thorough")
  void aFullDiskLosesNoMismatchAndLeavesNothingHalf() throws Exception {
    List<String> lines = new ArrayList<>();
    for (int kilobytes : new int[] {0, 1, 4}) {
      Process full = RunWriter.startOnFullDisk(reports, "full " + kilobytes, kilobytes);
      lines.addAll(full.inputReader().lines().toList());
      full.waitFor();
      Path folder = reports.resolve("full_" + kilobytes);
      for (String name : Files.exists(folder) ? names(folder) : List.<String>of()) {
        assertFalse(name.endsWith(".part"), name);
        Path kept = folder.resolve(name);
        assertTrue(!Files.isDirectory(kept) || names(kept).size() == 2, name);
      }
    }
    String all = String.join("\n", lines);
    assertEquals(3, all.split("moon: value wrong", -1).length - 1, all);
    assertEquals(3, all.split("\nNot kept: ", -1).length - 1, all);
    assertTrue(all.contains("File too large"), all);
  }

  @Test
  void aDutThatEndedIsToldEvenWhereThatCannotBeWritten() throws IOException {
    Path file = Files.writeString(reports.resolve("plain file"), "");
    IllegalStateException ended =
        assertThrows(
            IllegalStateException.class,
            () -> VerdictSamples.endedTo(RunReport.open(file, "evening"), "moon"));
    assertEquals("the spring broke", ended.getMessage());
    assertEquals(1, ended.getSuppressed().length);
    assertNull(ended.getCause());
  }

  private List<String> benches(String run) {
    List<Map<String, String>> rows = CsvTable.read(reports.resolve(run).resolve("summary.csv"));
    return rows.stream().map(row -> row.get("bench")).toList();
  }

  private static List<String> names(Path folder) throws IOException {
    try (Stream<Path> files = Files.list(folder)) {
      return files.map(file -> file.getFileName().toString()).sorted().toList();
    }
  }

  private static Path only(Path folder) throws IOException {
    assertEquals(1, names(folder).size(), () -> "in " + folder);
    return folder.resolve(names(folder).get(0));
  }
}
