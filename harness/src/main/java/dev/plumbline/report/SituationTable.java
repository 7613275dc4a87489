package dev.plumbline.report;

import dev.plumbline.check.Verdict;
import dev.plumbline.evidence.CsvTable;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;

/** {@code situations.csv}: how often each bench met each of its situations. */
final class SituationTable {
  private static final List<String> COLUMNS = List.of("bench", "situation", "met");

  private SituationTable() {}

  /** Adds the rows of a bench; they stand by bench, and within a bench as it declares them. */
  static void add(Path file, Verdict verdict) {
    List<Map<String, String>> rows = new ArrayList<>();
    if (Files.exists(file)) {
      rows.addAll(CsvTable.read(file));
    }
    for (Verdict.Situation situation : verdict.situations()) {
      rows.add(
          Map.of(
              "bench", verdict.bench(),
              "situation", situation.name(),
              "met", Long.toString(situation.met())));
    }
    rows.sort(Comparator.comparing(row -> SummaryRow.unquoted(row.get("bench"))));
    CsvTable table = new CsvTable(COLUMNS);
    for (Map<String, String> row : rows) {
      table.add(
          List.of(
              SummaryRow.unquoted(row.get("bench")),
              SummaryRow.unquoted(row.get("situation")),
              CsvTable.number(row.get("met"))));
    }
    table.writeTo(file);
  }
}
