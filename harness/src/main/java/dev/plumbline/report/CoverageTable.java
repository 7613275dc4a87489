package dev.plumbline.report;

import dev.plumbline.evidence.CsvTable;
import dev.plumbline.verdict.Verdict;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;

/** {@code coverage.csv}: how often each bench met each of its coverage points. */
final class CoverageTable {
  private static final List<String> COLUMNS = List.of("bench", "coverage point", "met");

  private CoverageTable() {}

  /** Adds the rows of a bench; they stand by bench, and within a bench as it declares them. */
  static void add(Path file, Verdict verdict) {
    List<Map<String, String>> rows = new ArrayList<>();
    if (Files.exists(file)) {
      rows.addAll(CsvTable.read(file));
    }
    for (Verdict.CoveragePoint point : verdict.coverage()) {
      rows.add(
          Map.of(
              "bench", verdict.bench(),
              "coverage point", point.name(),
              "met", Long.toString(point.met())));
    }
    rows.sort(Comparator.comparing(row -> SummaryRow.unquoted(row.get("bench"))));
    CsvTable table = new CsvTable(COLUMNS);
    for (Map<String, String> row : rows) {
      table.add(
          List.of(
              SummaryRow.unquoted(row.get("bench")),
              SummaryRow.unquoted(row.get("coverage point")),
              CsvTable.number(row.get("met"))));
    }
    table.writeTo(file);
  }
}
