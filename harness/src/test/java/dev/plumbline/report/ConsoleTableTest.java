package dev.plumbline.report;

import static org.junit.jupiter.api.Assertions.assertEquals;

import dev.plumbline.verdict.Verdict.Outcome;
import java.util.List;
import org.junit.jupiter.api.Test;

class ConsoleTableTest {
  @Test
  void columnsLineUpAndABenchIsOneLine() {
    String table =
        ConsoleTable.of(
            List.of(
                row("moon", Outcome.MISMATCH, 950, 1201, 37, "value wrong"),
                row("brass ring", Outcome.PASS, 100_000, 123_456, -1, ""),
                row("sun", Outcome.DUT_ENDED, 0, 3, -1, "sun called $fatal:\nthe lamp\nfell down")),
            "Files: here");

    assertEquals(
        String.join(
                System.lineSeparator(),
                "bench       verdict     cases  cycles  cycles/s  first mismatch",
                "moon        mismatch      950    1201      1000  cycle 37: value wrong",
                "brass ring  pass       100000  123456      1000",
                "sun         DUT ended       0       3      1000  sun called $fatal: the lamp fell"
                    + " down",
                "3 benches, 2 not passed. Files: here")
            + System.lineSeparator(),
        table);
  }

  private static LedgerEntry row(
      String bench, Outcome outcome, long cases, long cycles, long cycle, String words) {
    return new LedgerEntry(
        bench, outcome, cases, cycles, 0, cycle, -1, words, 1, 1000, 1, "0", List.of(), List.of(),
        "", "");
  }
}
