package dev.plumbline.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;

/** Holds {@code budget} to numbers worked out by hand. */
class BudgetCommandTest {
  @Test
  void saysWhatARayMayTake() {
    // 60e6 / (160 x 125 x 3 frames x 4 rays) = 250 cycles, twice that with two contexts.
    CommandLineRun run =
        CommandLineRun.of(
            "budget",
            "--clock",
            "60",
            "--size",
            "160x125",
            "--rate",
            "3,6",
            "--rays",
            "4",
            "--contexts",
            "1,2",
            "--measured",
            "125");
    assertEquals(0, run.status(), run.err());
    assertEquals(
        List.of(
            "cycles a ray may take from its context: 160x125 at 60.0 MHz, 4.00 rays a pixel",
            "frames a second  1 context  2 contexts",
            "              3      250.0       500.0",
            "              6      125.0       250.0",
            "125.0 cycles a ray, 1 context: 6.00 frames a second",
            "125.0 cycles a ray, 2 contexts: 12.00 frames a second"),
        run.out().lines().toList());
  }

  @Test
  void whatIsNoneIsRefused() {
    String err = CommandLineRun.of("budget", "--size", "160").refusal(2);
    assertTrue(err.contains("Size \"160\" is none; give it as 256x192."), err);
    err = CommandLineRun.of("budget", "--rate", "0").refusal(2);
    assertTrue(err.contains("a rate of \"0.0\"; a number above 0 is allowed."), err);
    CommandLineRun.of("budget", "--contexts", "many").refusal(2);
    CommandLineRun.of("budget", "--measured", "-3").refusal(2);
  }
}
