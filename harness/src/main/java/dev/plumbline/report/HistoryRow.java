package dev.plumbline.report;

import dev.plumbline.evidence.CsvTable;
import dev.plumbline.stimulus.SeedText;
import dev.plumbline.verdict.Verdict;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;

/**
 * A bench in a run, as {@code history.csv} keeps it.
 *
 * @param run the run's name
 * @param bench the bench's name
 * @param verdict in words
 * @param cases results that were compared
 * @param cycles cycles that were driven
 * @param seconds wall-clock time
 * @param seed as text
 * @param revision the commit of the checkout; empty where there is none
 * @param contentHash names the RTL
 * @param widths of the allowed ranges, by output
 * @param points coverage points that the bench declares
 * @param missed those of them that no case met, with "; " between them
 * @param rarest how many cases met the rarest; -1 where there are none
 */
record HistoryRow(
    String run,
    String bench,
    String verdict,
    long cases,
    long cycles,
    double seconds,
    String seed,
    String revision,
    String contentHash,
    String widths,
    long points,
    String missed,
    long rarest) {
  static final List<String> COLUMNS =
      List.of(
          "run",
          "bench",
          "verdict",
          "cases",
          "cycles",
          "seconds",
          "cycles_a_second",
          "cycles_a_case",
          "seed",
          "revision",
          "rtl_content_hash",
          "bound_widths",
          "coverage_points",
          "coverage_missed",
          "rarest_point_met");

  private static final String HASH = "rtl-"; // bare hexadecimal digits may look like a number
  private static final String COMMIT = "git-";

  static HistoryRow of(String run, String revision, LedgerEntry entry) {
    return new HistoryRow(
        run,
        entry.bench(),
        entry.outcome().toString(),
        entry.cases(),
        entry.cycles(),
        entry.seconds(),
        SeedText.of(entry.seed()),
        revision,
        entry.contentHash(),
        SummaryTable.widths(entry),
        entry.coverage().size(),
        entry.coverage().stream()
            .filter(point -> point.met() == 0)
            .map(Verdict.CoveragePoint::name)
            .collect(Collectors.joining("; ")),
        entry.coverage().stream().mapToLong(Verdict.CoveragePoint::met).min().orElse(-1));
  }

  /** A row as it was read, also after a spreadsheet had it. */
  static HistoryRow of(Map<String, String> cells) {
    return new HistoryRow(
        text(cells, "run"),
        text(cells, "bench"),
        text(cells, "verdict"),
        Math.round(number(cells, "cases")),
        Math.round(number(cells, "cycles")),
        number(cells, "seconds"),
        text(cells, "seed"),
        without(COMMIT, text(cells, "revision")),
        without(HASH, text(cells, "rtl_content_hash")),
        text(cells, "bound_widths"),
        Math.round(number(cells, "coverage_points")),
        text(cells, "coverage_missed"),
        text(cells, "rarest_point_met").isEmpty()
            ? -1
            : Math.round(number(cells, "rarest_point_met")));
  }

  List<Object> cells() {
    return Arrays.asList(
        run,
        bench,
        verdict,
        cases,
        cycles,
        CsvTable.number(String.format(Locale.ROOT, "%.3f", seconds)),
        CsvTable.number(String.format(Locale.ROOT, "%.0f", rate())),
        CsvTable.number(String.format(Locale.ROOT, "%.3f", cyclesPerCase())),
        seed.matches("[0-9]+") ? CsvTable.number(seed) : seed,
        revision.isEmpty() ? "" : COMMIT + revision,
        HASH + contentHash,
        widths,
        points,
        missed,
        rarest < 0 ? null : rarest);
  }

  boolean isPass() {
    return verdict.equals(Verdict.Outcome.PASS.toString());
  }

  /** Cycles a second; 0 where no time passed. */
  double rate() {
    return seconds > 0 ? cycles / seconds : 0;
  }

  double cyclesPerCase() {
    return cases > 0 ? (double) cycles / cases : 0;
  }

  /** An apostrophe that keeps spreadsheets from taking text for a formula is none of the text's. */
  static String text(Map<String, String> cells, String column) {
    String cell = cells.getOrDefault(column, "");
    boolean guarded =
        cell.length() > 1 && cell.charAt(0) == '\'' && "=+-@".indexOf(cell.charAt(1)) >= 0;
    return guarded ? cell.substring(1) : cell;
  }

  /** Also with a comma before the decimals; 0 for what is no number. */
  private static double number(Map<String, String> cells, String column) {
    try {
      double value = Double.parseDouble(cells.getOrDefault(column, "").replace(',', '.'));
      return Double.isFinite(value) ? value : 0;
    } catch (NumberFormatException e) {
      return 0;
    }
  }

  private static String without(String prefix, String text) {
    return text.startsWith(prefix) ? text.substring(prefix.length()) : text;
  }
}
