package dev.plumbline.report;

import static org.junit.jupiter.api.Assertions.assertEquals;

import dev.plumbline.verdict.Verdict;
import dev.plumbline.verdict.Verdict.Outcome;
import java.util.List;
import org.junit.jupiter.api.Test;

class ConsoleTableTest {
  @Test
  void columnsLineUpAndABenchIsOneLine() {
    String table =
        ConsoleTable.of(
            List.of(
                row(
                    "moon",
                    Outcome.MISMATCH,
                    950,
                    1201,
                    37,
                    "value wrong",
                    new Verdict.Bounds("hit", "u1.0", 950, 0, 1, 1, 3),
                    new Verdict.Bounds("entry", "s16.16", 950, 90, 300, 64, 0),
                    new Verdict.Bounds("exit", "s16.16", 950, 90, 300, 63, 0),
                    new Verdict.Bounds("normal", "s2.16", 950, 90, 300, -1, 0)),
                row(
                    "brass ring",
                    Outcome.PASS,
                    100_000,
                    123_456,
                    -1,
                    "",
                    new Verdict.Bounds("y", "s16.16", 100_000, -1, -1, 1, 0)),
                row(
                    "sun",
                    Outcome.DUT_ENDED,
                    0,
                    3,
                    -1,
                    "sun called $fatal:\nthe lamp\nfell down",
                    new Verdict.Bounds("y", "s16.16", 3, 1, 1, -1, 0))),
            "Files: here");

    assertEquals(
        String.join(
                System.lineSeparator(),
                "bench       verdict     cases  cycles  cycles/s  sees           first mismatch",
                "moon        mismatch      950    1201      1000  64 LSB, entry  cycle 37: value"
                    + " wrong",
                "brass ring  pass       100000  123456      1000  1 LSB",
                "sun         DUT ended       0       3      1000                 sun called $fatal:"
                    + " the lamp fell down",
                "3 benches, 2 not passed. Files: here")
            + System.lineSeparator(),
        table);
  }

  private static LedgerEntry row(
      String bench,
      Outcome outcome,
      long cases,
      long cycles,
      long cycle,
      String words,
      Verdict.Bounds... bounds) {
    return new LedgerEntry(
        bench,
        outcome,
        cases,
        cycles,
        0,
        cycle,
        -1,
        words,
        1,
        1000,
        1,
        "0",
        List.of(bounds),
        List.of(),
        "",
        "",
        null,
        List.of(),
        List.of(),
        List.of(),
        List.of());
  }
}
