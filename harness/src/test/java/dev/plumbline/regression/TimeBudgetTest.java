package dev.plumbline.regression;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.report.BenchRecord;
import dev.plumbline.report.RunReport;
import dev.plumbline.verdict.Checked;
import dev.plumbline.verdict.Findings;
import dev.plumbline.verdict.Origin;
import dev.plumbline.verdict.Verdict;
import dev.plumbline.verdict.Verdict.CoveragePoint;
import java.io.OutputStream;
import java.io.PrintStream;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class TimeBudgetTest {
  /** Of every bench; no model is built. */
  private static final double CASES_A_SECOND = 1e6;

  @TempDir private Path reports;
  private long now; // nanoseconds

  private Regression.Runner bench(Map<String, Long> ran, String name, long rarest, boolean passes) {
    return to -> {
      double seconds = to.cases() / CASES_A_SECOND;
      now += (long) (1e9 * seconds);
      Verdict verdict =
          Verdict.of(
              name,
              passes ? Verdict.Outcome.PASS : Verdict.Outcome.NOTHING_CHECKED,
              passes ? "" : "the ring is stuck",
              new Checked(
                  to.cases(),
                  to.cases(),
                  seconds,
                  List.of(),
                  List.of(),
                  List.of(new CoveragePoint("eclipse", rarest))),
              new Origin(to.seed(), "0", to.repeat()),
              Findings.NOTHING);
      to.recorder().record(verdict);
      ran.put(name, to.cases());
      return verdict;
    };
  }

  private Map<String, Long> night(String name, double seconds) {
    Map<String, Long> ran = new LinkedHashMap<>();
    long began = now;
    Regression.of(1, 7, "")
        .to(RunReport.open(reports, name), new PrintStream(OutputStream.nullOutputStream()))
        .within(seconds)
        .clock(() -> now)
        .bench("plain", bench(ran, "plain", 5_000, true))
        .bench("rare", bench(ran, "rare", 3, true))
        .bench("stuck", bench(ran, "stuck", 5_000, false))
        .bench("plain too", bench(ran, "plain too", 5_000, true))
        .run();
    assertTrue(now - began <= 1.05e9 * seconds, "over by " + (now - began) / 1e9);
    assertTrue(now - began >= 0.9e9 * seconds, "only " + (now - began) / 1e9);
    return ran;
  }

  @Test
  void aNightIsSharedByNeedAndEndsInTime() {
    Map<String, Long> first = night("monday", 700);
    assertEquals(1, ratio(first, "stuck", "plain"), 0.1, "nothing is known of any");
    Map<String, Long> second = night("tuesday", 700);
    assertEquals(2, ratio(second, "rare", "plain"), 0.2);
    assertEquals(3, ratio(second, "stuck", "plain"), 0.3);
    assertEquals(1, ratio(second, "plain too", "plain"), 0.1);
  }

  private static double ratio(Map<String, Long> ran, String one, String other) {
    return (double) ran.get(one) / ran.get(other);
  }

  @Test
  void whereTheTimeIsOverEachBenchIsTriedAllTheSame() {
    Map<String, Long> ran = new LinkedHashMap<>();
    Regression regression =
        Regression.of(1, 7, "")
            .to(RunReport.open(reports, "late"), new PrintStream(OutputStream.nullOutputStream()))
            .within(0.001)
            .clock(() -> now);
    for (String name : List.of("mercury", "venus", "earth")) {
      regression.bench(name, bench(ran, name, 5_000, true));
    }
    assertEquals(0, regression.run());
    assertEquals(
        List.of(TimeBudget.TRIAL, TimeBudget.TRIAL, TimeBudget.TRIAL), List.copyOf(ran.values()));
  }

  /** As a picture of 64,000 pixels is none yet after 20,000 cycles. */
  @Test
  void whatTakesLongToGiveAResultIsTriedUntilItDoes() {
    Map<String, Long> ran = new LinkedHashMap<>();
    Regression.Runner passes = bench(ran, "picture", 5_000, true);
    Regression.Runner judgesNothing = bench(ran, "picture", 5_000, false);
    int status =
        Regression.of(1, 7, "")
            .to(RunReport.open(reports, "late"), new PrintStream(OutputStream.nullOutputStream()))
            .within(0.001)
            .clock(() -> now)
            .bench("picture", to -> (to.cases() < 64_000 ? judgesNothing : passes).run(to))
            .run();
    assertEquals(0, status);
    assertEquals(200_000, ran.get("picture"));
  }

  @Test
  void needFollowsHistory() {
    BenchRecord well = new BenchRecord("a", true, -1);
    BenchRecord red = new BenchRecord("b", false, -1);
    BenchRecord rare = new BenchRecord("c", true, 99);
    assertEquals(2, TimeBudget.weight(List.of()));
    assertEquals(1, TimeBudget.weight(List.of(well)));
    assertEquals(3, TimeBudget.weight(List.of(red, well, well, well, well)));
    assertEquals(1, TimeBudget.weight(List.of(red, well, well, well, well, well)));
    assertEquals(2, TimeBudget.weight(List.of(well, rare)));
    assertEquals(6, TimeBudget.weight(List.of(red, rare)));
  }

  @Test
  void aTrialThatToldLittleIsRepeatedOnMore() {
    TimeBudget budget = new TimeBudget(100, () -> 0);
    assertTrue(budget.isTooShort(0.5, 2.4));
    assertFalse(budget.isTooShort(0.5, 2.6));
    assertEquals(25_000_000, budget.cases(0.5, 2_000_000, 4));
    assertEquals(2_000_000, budget.cases(0.001, 2_000_000, 4), "no fewer than were tried");
  }

  @Test
  void minutesAreANumberAboveZero() {
    assertEquals(30, TimeBudget.seconds("0.5"));
    assertEquals(0, TimeBudget.seconds(" "));
    for (String wrong : List.of("0", "-5", "an hour", "NaN", "1e3")) {
      String message =
          assertThrows(IllegalArgumentException.class, () -> TimeBudget.seconds(wrong))
              .getMessage();
      assertEquals(
          "Property plumbline.minutes cannot be \""
              + wrong
              + "\"; a number of minutes above 0, such as 90 or 0.5, is allowed.",
          message);
    }
  }
}
