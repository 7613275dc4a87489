package dev.plumbline.report;

import dev.plumbline.evidence.CsvTable;
import dev.plumbline.verdict.Verdict;
import java.util.List;

/** {@code coverage.csv}: how often each bench met each of its coverage points. */
final class CoverageTable {
  private CoverageTable() {}

  /** A row for each point, by bench, and within a bench as it declares them. */
  static CsvTable of(List<LedgerEntry> entries) {
    CsvTable table = new CsvTable("bench", "coverage point", "met");
    for (LedgerEntry entry : entries) {
      for (Verdict.CoveragePoint point : entry.coverage()) {
        table.add(entry.bench(), point.name(), point.met());
      }
    }
    return table;
  }
}
