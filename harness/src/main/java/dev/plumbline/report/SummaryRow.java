package dev.plumbline.report;

import dev.plumbline.evidence.CsvTable;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Verdict;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;

/**
 * One row of {@code summary.csv}; all cells as they stand in the file, so that rows of several
 * processes are read back and written again unchanged.
 */
record SummaryRow(
    String bench,
    String verdict,
    String cases,
    String cycles,
    String mismatches,
    String firstMismatchCycle,
    String seconds,
    String cyclesASecond,
    String seed,
    String contentHash,
    String firstMismatchSegment,
    String firstMismatch,
    String boundWidths,
    String evidenceFolder) {

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
          "folder");

  static SummaryRow of(Verdict verdict, Optional<String> evidenceFolder) {
    Optional<Mismatch> first = verdict.first();
    return new SummaryRow(
        verdict.bench(),
        verdict.outcome().toString(),
        Long.toString(verdict.cases()),
        Long.toString(verdict.cycles()),
        Long.toString(verdict.mismatches()),
        first.map(mismatch -> Long.toString(mismatch.cycle())).orElse(""),
        String.format(Locale.ROOT, "%.3f", verdict.seconds()),
        String.format(Locale.ROOT, "%.0f", verdict.cyclesPerSecond()),
        seed(verdict.seed()),
        "rtl-" + verdict.contentHash(), // bare hexadecimal digits may look like a number
        first.isPresent() ? Long.toString(verdict.segment()) : "",
        first.map(Mismatch::words).orElse(verdict.explanation()),
        widths(verdict.bounds()),
        evidenceFolder.orElse(""));
  }

  /** Decimal while a spreadsheet keeps all its digits, hexadecimal text beyond. */
  private static String seed(long seed) {
    return Math.abs(seed) < 1_000_000_000_000_000L && seed != Long.MIN_VALUE
        ? Long.toString(seed)
        : String.format(Locale.ROOT, "0x%016x", seed);
  }

  /** Median and worst width of the allowed ranges in LSBs; empty where all are exact. */
  private static String widths(List<Verdict.Bounds> bounds) {
    return bounds.stream()
        .filter(output -> output.worstWidth() >= 0)
        .map(output -> output.output() + " " + output.medianWidth() + ".." + output.worstWidth())
        .collect(Collectors.joining("; "));
  }

  static SummaryRow of(Map<String, String> cells) {
    List<String> in = COLUMNS.stream().map(name -> cells.getOrDefault(name, "")).toList();
    return new SummaryRow(
        unquoted(in.get(0)),
        in.get(1),
        in.get(2),
        in.get(3),
        in.get(4),
        in.get(5),
        in.get(6),
        in.get(7),
        in.get(8),
        in.get(9),
        in.get(10),
        unquoted(in.get(11)),
        in.get(12),
        in.get(13));
  }

  /** Takes away the apostrophe that keeps text from being a formula. */
  static String unquoted(String text) {
    return text.length() > 1 && text.charAt(0) == '\'' && "=+-@\t\r\0".indexOf(text.charAt(1)) >= 0
        ? text.substring(1)
        : text;
  }

  List<Object> cells() {
    return Arrays.asList(
        bench,
        verdict,
        number(cases),
        number(cycles),
        number(mismatches),
        number(firstMismatchCycle),
        number(seconds),
        number(cyclesASecond),
        seed.startsWith("0x") ? seed : number(seed),
        contentHash,
        number(firstMismatchSegment),
        firstMismatch,
        boundWidths,
        evidenceFolder);
  }

  private static Object number(String digits) {
    return digits.isEmpty() ? null : CsvTable.number(digits);
  }

  boolean isPass() {
    return verdict.equals(Verdict.Outcome.PASS.toString());
  }
}
