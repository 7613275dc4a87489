package dev.plumbline.report;

import dev.plumbline.evidence.CsvTable;
import dev.plumbline.stimulus.SeedText;
import dev.plumbline.verdict.Verdict;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;

/** {@code summary.csv}: one row a bench. */
final class SummaryTable {
  static final List<String> COLUMNS =
      List.of(
          "bench",
          "verdict",
          "cases",
          "cycles",
          "mismatches",
          "first_mismatch_cycle",
          "seconds",
          "cycles_a_second",
          "seed",
          "rtl_content_hash",
          "first_mismatch_segment",
          "first_mismatch",
          "bound_widths",
          "smallest_error_seen",
          "open_results",
          "folder");

  private SummaryTable() {}

  static CsvTable of(List<LedgerEntry> entries) {
    CsvTable table = new CsvTable(COLUMNS);
    entries.forEach(entry -> table.add(cells(entry)));
    return table;
  }

  private static List<Object> cells(LedgerEntry entry) {
    String seed = SeedText.of(entry.seed());
    return Arrays.asList(
        entry.bench(),
        entry.outcome().toString(),
        entry.cases(),
        entry.cycles(),
        entry.mismatches(),
        entry.firstCycle() < 0 ? null : entry.firstCycle(),
        CsvTable.number(String.format(Locale.ROOT, "%.3f", entry.seconds())),
        CsvTable.number(rate(entry)),
        seed.startsWith("0x") ? seed : CsvTable.number(seed),
        "rtl-" + entry.contentHash(), // bare hexadecimal digits may look like a number
        entry.segment() < 0 ? null : entry.segment(),
        entry.words(),
        widths(entry),
        seen(entry),
        open(entry),
        entry.folder());
  }

  /** Cycles a second, without decimals. */
  static String rate(LedgerEntry entry) {
    return String.format(Locale.ROOT, "%.0f", entry.cyclesASecond());
  }

  /** Median and worst width of the allowed ranges in codes; empty where all are exact. */
  static String widths(LedgerEntry entry) {
    return entry.bounds().stream()
        .filter(output -> output.worstWidth() >= 0)
        .map(SummaryTable::width)
        .collect(Collectors.joining("; "));
  }

  /**
   * The smallest error that half of the results or more would have shown, by output; one LSB where
   * all are exact, empty where nothing was compared.
   */
  static String seen(LedgerEntry entry) {
    if (entry.bounds().stream().allMatch(output -> output.smallestError() == 1)) {
      return entry.bounds().isEmpty() ? "" : "1 LSB";
    }
    return entry.bounds().stream()
        .filter(output -> !output.seen().isEmpty())
        .map(output -> output.output() + " " + output.seen())
        .collect(Collectors.joining("; "));
  }

  /** How many results bounds left open, by output; empty where none. */
  static String open(LedgerEntry entry) {
    return entry.bounds().stream()
        .filter(output -> output.open() > 0)
        .map(output -> output.output() + " " + output.open())
        .collect(Collectors.joining("; "));
  }

  private static String width(Verdict.Bounds output) {
    return output.output() + " " + output.medianWidth() + ".." + output.worstWidth();
  }
}
