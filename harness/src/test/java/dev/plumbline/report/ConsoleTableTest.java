package dev.plumbline.report;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import org.junit.jupiter.api.Test;

class ConsoleTableTest {
  @Test
  void columnsLineUpAndABenchIsOneLine() {
    String table =
        ConsoleTable.of(
            List.of(
                row("moon", "mismatch", "950", "1201", "37", "value wrong"),
                row("brass ring", "pass", "100000", "123456", "", ""),
                row("sun", "DUT ended", "0", "3", "", "sun called $fatal:\nthe lamp\nfell down")),
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

  private static SummaryRow row(
      String bench, String verdict, String cases, String cycles, String cycle, String first) {
    return new SummaryRow(
        bench, verdict, cases, cycles, "", cycle, "", "1000", "1", "rtl-0", "", first, "", "");
  }
}
