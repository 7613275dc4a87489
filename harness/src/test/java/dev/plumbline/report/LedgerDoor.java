package dev.plumbline.report;

import java.util.List;

/** Lines of a ledger read from memory, for tests of other packages. */
public final class LedgerDoor {
  private LedgerDoor() {}

  /** Reads a line, and makes of it what a run makes. */
  public static void read(String line) {
    LedgerEntry entry = Ledger.entry("ledger.jsonl:1", line);
    List<LedgerEntry> entries = List.of(entry);
    ConsoleTable.of(entries, "reports/run");
    SummaryTable.of(entries).text();
    CoverageTable.of(entries).text();
    IndexPage.of("run", entries, Comparison.NONE, List.of(), folder -> List.of());
  }
}
