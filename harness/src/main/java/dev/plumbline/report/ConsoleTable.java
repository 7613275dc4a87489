package dev.plumbline.report;

import dev.plumbline.models.parsing.TextTable;
import dev.plumbline.text.PlainText;
import dev.plumbline.verdict.Verdict;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;

/** Verdicts as a table for the console. */
final class ConsoleTable {
  private ConsoleTable() {}

  /** Of all outputs, the one that shows least. */
  private static String sees(LedgerEntry entry) {
    return entry.bounds().stream()
        .filter(output -> output.smallestError() > 0) // else no right result was compared
        .max(Comparator.comparingLong(Verdict.Bounds::smallestError))
        .map(
            output ->
                output.smallestError() == 1 ? "1 LSB" : output.seen() + ", " + output.output())
        .orElse("");
  }

  static String of(List<LedgerEntry> entries, String where) {
    return table(entries) + last(entries, where);
  }

  /** Quiet where all is well. */
  static String brief(List<LedgerEntry> entries, String where) {
    List<LedgerEntry> failed = entries.stream().filter(entry -> !entry.isPass()).toList();
    return (failed.isEmpty() ? "" : table(failed)) + last(entries, where);
  }

  private static String table(List<LedgerEntry> entries) {
    TextTable table =
        new TextTable("bench", "verdict", "cases", "cycles", "cycles/s", "sees", "first mismatch")
            .right(2, 3, 4);
    for (LedgerEntry entry : entries) {
      String cycle = entry.firstCycle() < 0 ? "" : "cycle " + entry.firstCycle() + ": ";
      table.add(
          PlainText.line(entry.bench()),
          entry.outcome().toString(),
          Long.toString(entry.cases()),
          Long.toString(entry.cycles()),
          SummaryTable.rate(entry),
          PlainText.line(sees(entry)),
          PlainText.line(cycle + entry.words())); // what a DUT says of its end may have many lines
    }
    StringBuilder text = new StringBuilder();
    table.lines().forEach(line -> text.append(line).append(System.lineSeparator()));
    return text.toString();
  }

  private static String last(List<LedgerEntry> entries, String where) {
    long failed = entries.stream().filter(entry -> !entry.isPass()).count();
    return String.format(
        Locale.ROOT,
        "%d %s, %s. %s%n",
        entries.size(),
        entries.size() == 1 ? "bench" : "benches",
        failed == 0 ? "all pass" : failed + " not passed",
        where);
  }
}
