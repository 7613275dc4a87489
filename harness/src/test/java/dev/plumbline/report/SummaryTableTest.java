package dev.plumbline.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.check.VerdictSamples;
import dev.plumbline.evidence.CsvTable;
import dev.plumbline.evidence.ReportException;
import dev.plumbline.evidence.WholeFile;
import dev.plumbline.stimulus.SeedText;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Verdict;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class SummaryTableTest {
  @TempDir private Path folder;

  @Test
  void columnsAreThoseThatTheReadmeExplains() throws IOException {
    String readme = Files.readString(Path.of("../reports/README.md"));
    int from = readme.indexOf("## `summary.csv`");
    String section = readme.substring(from, readme.indexOf("\n## ", from + 1));
    List<String> explained = new ArrayList<>();
    Matcher row = Pattern.compile("^\\| ([a-z_, ]+?) \\|", Pattern.MULTILINE).matcher(section);
    while (row.find()) {
      explained.addAll(List.of(row.group(1).split(", ")));
    }
    explained.remove("column"); // the heading
    assertEquals(explained, SummaryTable.COLUMNS);
  }

  @Test
  void aMismatchFillsEveryColumn() {
    Verdict verdict = VerdictSamples.wrongValue("moon", 5, "");
    Mismatch first = verdict.first().orElseThrow();
    Map<String, String> row = written(LedgerEntry.of(verdict, Optional.of("moon-2")));

    assertEquals("moon", row.get("bench"));
    assertEquals("mismatch", row.get("verdict"));
    assertEquals(Long.toString(verdict.cases()), row.get("cases"));
    assertEquals(Long.toString(verdict.cycles()), row.get("cycles"));
    assertEquals(Long.toString(verdict.mismatches()), row.get("mismatches"));
    assertEquals(Long.toString(first.cycle()), row.get("first_mismatch_cycle"));
    assertTrue(row.get("seconds").matches("\\d+\\.\\d{3}"), row.get("seconds"));
    assertTrue(row.get("cycles_a_second").matches("\\d+"), row.get("cycles_a_second"));
    assertEquals("5", row.get("seed"));
    assertEquals("rtl-0123abcd", row.get("rtl_content_hash"));
    assertEquals("0", row.get("first_mismatch_segment"));
    assertEquals("value wrong", row.get("first_mismatch"));
    assertEquals("", row.get("bound_widths"), "an exact reference has none");
    assertEquals("1 LSB", row.get("smallest_error_seen"));
    assertEquals("moon-2", row.get("folder"));
  }

  @Test
  void aPassHasNoMismatchAndNothingCheckedSaysWhy() {
    Map<String, String> pass =
        written(LedgerEntry.of(VerdictSamples.pass("moon"), Optional.empty()));
    for (String column :
        List.of("first_mismatch_cycle", "first_mismatch_segment", "first_mismatch", "folder")) {
      assertEquals("", pass.get(column), column);
    }
    assertEquals("0", pass.get("mismatches"));

    LedgerEntry nothing = LedgerEntry.of(VerdictSamples.nothingChecked("moon"), Optional.empty());
    assertEquals("nothing checked", written(nothing).get("verdict"));
    assertEquals(
        "no result was ever due: not one case was compared",
        written(nothing).get("first_mismatch"));
    assertTrue(!nothing.isPass());
  }

  @Test
  void widthsOfABoundedReferenceAreMedianAndWidest() {
    Verdict verdict = VerdictSamples.withTolerance("moon", 1);

    assertEquals(
        "angle 2..2", written(LedgerEntry.of(verdict, Optional.empty())).get("bound_widths"));
  }

  @Test
  void theSmallestErrorSeenStandsBesideTheWidths() {
    Map<String, String> exact =
        written(LedgerEntry.of(VerdictSamples.pass("moon"), Optional.empty()));
    assertEquals("1 LSB", exact.get("smallest_error_seen"));
    assertEquals("", exact.get("open_results"));

    Map<String, String> tolerant =
        written(LedgerEntry.of(VerdictSamples.withTolerance("moon", 1), Optional.empty()));
    assertEquals("angle 2 LSB; forward decided in 100 %", tolerant.get("smallest_error_seen"));
    assertEquals("", tolerant.get("open_results"));

    Verdict nothing = VerdictSamples.withTolerance("moon", 1L << 25);
    Map<String, String> open = written(LedgerEntry.of(nothing, Optional.empty()));
    assertEquals("nothing checked", open.get("verdict"));
    assertEquals("angle never; forward decided in 100 %", open.get("smallest_error_seen"));
    assertEquals("angle " + nothing.cases(), open.get("open_results"));
  }

  @Test
  void aSeedKeepsAllItsDigitsAndIsReadBack() {
    for (long seed : new long[] {0, -7, 999_999_999_999_999L, -999_999_999_999_999L}) {
      assertEquals(Long.toString(seed), row(seed).get("seed"));
    }
    assertEquals("0x00038d7ea4c68000", row(1_000_000_000_000_000L).get("seed"));
    assertEquals("0x8000000000000000", row(Long.MIN_VALUE).get("seed"));
    assertEquals("0x7fffffffffffffff", row(Long.MAX_VALUE).get("seed"));
    for (long seed : new long[] {-1, -7, 1L << 62, Long.MIN_VALUE, Long.MAX_VALUE}) {
      assertEquals(seed, SeedText.parse(row(seed).get("seed")));
    }
  }

  @Test
  void theLedgerGivesBackWhatItWasGiven() {
    List<LedgerEntry> entries = new ArrayList<>();
    for (String name :
        List.of("=1+1", "-2 planets", "'=x", "a \"b\", c", "two\nlines", "x\u2028")) {
      entries.add(LedgerEntry.of(VerdictSamples.pass(name), Optional.empty()));
    }
    entries.add(
        LedgerEntry.of(VerdictSamples.wrongValue("moon", Long.MIN_VALUE, ""), Optional.of("moon")));
    entries.add(LedgerEntry.of(VerdictSamples.withTolerance("sun", 1), Optional.empty()));
    Ledger.write(folder, entries);

    assertEquals(entries, Ledger.read(folder));
  }

  @Test
  void aLedgerThatIsNoneIsNamedByItsLine() {
    LedgerEntry entry = LedgerEntry.of(VerdictSamples.pass("moon"), Optional.empty());
    Ledger.write(folder, List.of(entry));
    Path file = folder.resolve(Ledger.FILE);
    WholeFile.write(file, read(file) + "{\"bench\":\"sun\"}\n");

    String message = assertThrows(ReportException.class, () -> Ledger.read(folder)).getMessage();
    assertTrue(message.startsWith(file + ":2: This is no verdict in JSON: "), message);
    assertTrue(message.endsWith("or name another run by property plumbline.run."), message);
  }

  private static String read(Path file) {
    try {
      return Files.readString(file);
    } catch (IOException e) {
      throw new AssertionError(e);
    }
  }

  private Map<String, String> row(long seed) {
    return written(LedgerEntry.of(VerdictSamples.wrongValue("moon", seed, ""), Optional.empty()));
  }

  private Map<String, String> written(LedgerEntry entry) {
    SummaryTable.of(List.of(entry)).writeTo(folder.resolve("summary.csv"));
    return CsvTable.read(folder.resolve("summary.csv")).get(0);
  }
}
