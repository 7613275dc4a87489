package dev.plumbline.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** Verdicts as a table for the console. */
final class ConsoleTable {
  private ConsoleTable() {}

  static String of(List<SummaryRow> rows, String where) {
    List<String[]> lines = new ArrayList<>();
    lines.add(new String[] {"bench", "verdict", "cases", "cycles", "cycles/s", "first mismatch"});
    for (SummaryRow row : rows) {
      lines.add(
          new String[] {
            row.bench(),
            row.verdict(),
            row.cases(),
            row.cycles(),
            row.cyclesASecond(),
            (row.firstMismatchCycle().isEmpty()
                    ? row.firstMismatch()
                    : "cycle " + row.firstMismatchCycle() + ": " + row.firstMismatch())
                .replaceAll("\\R\\s*", " ") // what a DUT says of its end may have several lines
          });
    }
    int[] widths = new int[lines.get(0).length];
    for (String[] line : lines) {
      for (int i = 0; i < line.length; i++) {
        widths[i] = Math.max(widths[i], line[i].length());
      }
    }
    StringBuilder text = new StringBuilder();
    for (String[] line : lines) {
      StringBuilder one = new StringBuilder();
      for (int i = 0; i < line.length; i++) {
        boolean number = i >= 2 && i <= 4;
        one.append(i == 0 ? "" : "  ")
            .append(
                String.format(Locale.ROOT, "%" + (number ? "" : "-") + widths[i] + "s", line[i]));
      }
      text.append(one.toString().stripTrailing()).append(System.lineSeparator());
    }
    long failed = rows.stream().filter(row -> !row.isPass()).count();
    text.append(
        String.format(
            Locale.ROOT,
            "%d %s, %s. %s",
            rows.size(),
            rows.size() == 1 ? "bench" : "benches",
            failed == 0 ? "all pass" : failed + " not passed",
            where));
    return text.append(System.lineSeparator()).toString();
  }
}
