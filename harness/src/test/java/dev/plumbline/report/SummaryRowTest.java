package dev.plumbline.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.check.VerdictSamples;
import dev.plumbline.evidence.CsvTable;
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

class SummaryRowTest {
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
    assertEquals(explained, SummaryRow.COLUMNS);
  }

  @Test
  void aMismatchFillsEveryColumn() {
    Verdict verdict = VerdictSamples.wrongValue("moon", 5, "");
    Mismatch first = verdict.first().orElseThrow();
    Map<String, String> row = written(SummaryRow.of(verdict, Optional.of("moon-2")));

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
    assertEquals("moon-2", row.get("folder"));
  }

  @Test
  void aPassHasNoMismatchAndNothingCheckedSaysWhy() {
    Map<String, String> pass =
        written(SummaryRow.of(VerdictSamples.pass("moon"), Optional.empty()));
    for (String column :
        List.of("first_mismatch_cycle", "first_mismatch_segment", "first_mismatch", "folder")) {
      assertEquals("", pass.get(column), column);
    }
    assertEquals("0", pass.get("mismatches"));

    SummaryRow nothing = SummaryRow.of(VerdictSamples.nothingChecked("moon"), Optional.empty());
    assertEquals("nothing checked", written(nothing).get("verdict"));
    assertEquals(
        "no result was ever due: not one case was compared",
        written(nothing).get("first_mismatch"));
    assertTrue(!nothing.isPass());
  }

  @Test
  void widthsOfABoundedReferenceAreMedianAndWidest() {
    Verdict verdict = VerdictSamples.withTolerance("moon", 1);

    assertEquals("angle 2..2", SummaryRow.of(verdict, Optional.empty()).boundWidths());
  }

  @Test
  void aSeedKeepsAllItsDigits() {
    for (long seed : new long[] {0, -7, 999_999_999_999_999L, -999_999_999_999_999L}) {
      assertEquals(Long.toString(seed), row(seed).get("seed"));
    }
    assertEquals("0x00038d7ea4c68000", row(1_000_000_000_000_000L).get("seed"));
    assertEquals("0x8000000000000000", row(Long.MIN_VALUE).get("seed"));
    assertEquals("0x7fffffffffffffff", row(Long.MAX_VALUE).get("seed"));
  }

  @Test
  void rowsOfAnotherProcessAreWrittenAgainUnchanged() throws IOException {
    CsvTable table = new CsvTable(SummaryRow.COLUMNS);
    for (String name : List.of("=1+1", "-2 planets", "plain", "'=x", "a \"b\", c", "two\nlines")) {
      table.add(SummaryRow.of(VerdictSamples.pass(name), Optional.empty()).cells());
    }
    table.add(
        SummaryRow.of(VerdictSamples.wrongValue("moon", Long.MIN_VALUE, ""), Optional.of("moon"))
            .cells());
    table.writeTo(folder.resolve("first.csv"));
    CsvTable again = new CsvTable(SummaryRow.COLUMNS);
    CsvTable.read(folder.resolve("first.csv"))
        .forEach(cells -> again.add(SummaryRow.of(cells).cells()));

    assertEquals(Files.readString(folder.resolve("first.csv")), again.text());
  }

  private Map<String, String> row(long seed) {
    return written(SummaryRow.of(VerdictSamples.wrongValue("moon", seed, ""), Optional.empty()));
  }

  private Map<String, String> written(SummaryRow row) {
    CsvTable table = new CsvTable(SummaryRow.COLUMNS);
    table.add(row.cells());
    table.writeTo(folder.resolve("summary.csv"));
    return CsvTable.read(folder.resolve("summary.csv")).get(0);
  }
}
