package dev.plumbline.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.check.VerdictSamples;
import dev.plumbline.evidence.CsvTable;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class HistoryTest {
  @TempDir private Path reports;

  private static HistoryRow row(String run, String bench, String verdict) {
    return new HistoryRow(
        run, bench, verdict, 100, 120, 0.5, "7", "0123456789ab", "89ab", "out 3..5", 2, "edge", 0);
  }

  private String text() throws IOException {
    return Files.readString(reports.resolve(History.FILE));
  }

  @Test
  void everyBenchOfEveryRunIsARow() {
    RunReport.open(reports, "monday").record(VerdictSamples.pass("earth"));
    RunReport.open(reports, "tuesday").record(VerdictSamples.wrongValue("earth", 5, ""));
    List<Map<String, String>> rows = CsvTable.read(reports.resolve(History.FILE));

    assertEquals(List.of("monday", "tuesday"), rows.stream().map(row -> row.get("run")).toList());
    assertEquals(
        List.of("pass", "mismatch"), rows.stream().map(row -> row.get("verdict")).toList());
    assertEquals("rtl-0123abcd", rows.get(0).get("rtl_content_hash"));
    assertEquals(List.of("1", "5"), rows.stream().map(row -> row.get("seed")).toList());
  }

  @Test
  void whatIsWrittenIsReadBack() throws IOException {
    HistoryRow odd = row("monday", "=ring; 'of' \"brass\"", "pass");
    History.add(reports, odd);
    assertEquals(List.of(odd), History.read(reports).rows());
  }

  @Test
  void aTableThatASpreadsheetSavedAgainIsTakenAsItIsMeant() throws IOException {
    HistoryRow first = row("monday", "moon", "pass");
    History.add(reports, first);
    String resaved = "\uFEFF" + text().replace(',', ';').replace("0.500", "0,500");
    Files.writeString(reports.resolve(History.FILE), resaved);

    HistoryRow second = row("tuesday", "moon", "mismatch");
    History.add(reports, second);
    assertEquals(List.of(first, second), History.read(reports).rows());
    assertTrue(text().startsWith("run,bench,verdict,"), "healed");
  }

  @Test
  void whatIsNoTableIsKeptAndSaidAndHistoryBeginsAnew() throws IOException {
    byte[] spoilt = "a picture of the ring\n\u0000\u0001".getBytes(StandardCharsets.UTF_8);
    Files.write(reports.resolve(History.FILE), spoilt);
    RunReport run = RunReport.open(reports, "monday");
    run.record(VerdictSamples.pass("earth"));

    assertEquals(1, CsvTable.read(reports.resolve(History.FILE)).size());
    assertTrue(
        java.util.Arrays.equals(
            spoilt, Files.readAllBytes(reports.resolve("history-unreadable-1.csv"))));
    String page = Files.readString(run.folder().resolve("index.html"));
    assertTrue(page.contains("it is kept as history-unreadable-1.csv"), page);
  }

  @Test
  void anotherTableIsNotTakenForHistory() throws IOException {
    String other = "run,guide\r\nmorning,brass\r\n";
    Files.writeString(reports.resolve("history-unreadable-1.csv"), "of last week");
    Files.writeString(reports.resolve(History.FILE), other);
    History.add(reports, row("monday", "moon", "pass"));
    assertEquals(1, History.read(reports).rows().size());
    assertEquals(other, Files.readString(reports.resolve("history-unreadable-2.csv")));
  }

  @Test
  void aLongHistoryLosesItsOldestRows() throws IOException {
    History.add(reports, row("the first", "moon", "pass"));
    String line = text().lines().skip(1).findFirst().orElseThrow().replace("the first", "later");
    Files.writeString(
        reports.resolve(History.FILE), text() + (line + "\r\n").repeat(History.MOST_LINES));
    History.add(reports, row("the last", "moon", "pass"));
    List<HistoryRow> rows = History.read(reports).rows();
    assertEquals(History.KEPT + 1, rows.size());
    assertEquals("later", rows.get(0).run());
    assertEquals("the last", rows.get(rows.size() - 1).run());
  }

  @Test
  void aRunSaysWhatBecameRedAndGreen() {
    RunReport monday = RunReport.open(reports, "monday");
    monday.record(VerdictSamples.pass("earth"));
    monday.record(VerdictSamples.wrongValue("moon", 1, ""));
    assertFalse(monday.consoleSummary().contains("newly"), "there is nothing before it");
    RunReport tuesday = RunReport.open(reports, "tuesday");
    tuesday.record(VerdictSamples.wrongValue("earth", 1, ""));
    tuesday.record(VerdictSamples.pass("moon"));
    String said = tuesday.consoleSummary();
    assertTrue(said.contains("newly red      earth: green in run monday"), said);
    assertTrue(said.contains("newly green    moon: mismatch in run monday"), said);
  }

  @Test
  void theRevisionIsThatOfTheCheckout() throws IOException {
    String commit = "0123456789abcdef0123456789abcdef01234567";
    Path git = Files.createDirectories(reports.resolve(".git/refs/heads"));
    Files.writeString(reports.resolve(".git/HEAD"), "ref: refs/heads/main\n");
    assertEquals("", GitRevision.around(reports), "no commit yet");
    Files.writeString(
        reports.resolve(".git/packed-refs"), "# pack-refs\n" + commit + " refs/heads/main\n");
    assertEquals("0123456789ab", GitRevision.around(reports.resolve("deep/er")));
    Files.writeString(git.resolve("main"), "f".repeat(40) + "\n");
    assertEquals("f".repeat(12), GitRevision.around(reports), "a loose one is newer");
    Files.writeString(reports.resolve(".git/HEAD"), commit + "\n");
    assertEquals("0123456789ab", GitRevision.around(reports));
  }
}
