package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.Arrays;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Clocks by period and phase, both edges, an asynchronous reset. Expectations are counted from the
 * times of the edges: the first clock rises at 0, P, 2P, ...; another at phase, phase + p, ...
 */
@Execution(ExecutionMode.CONCURRENT)
class ClocksTest {
  private static final CompiledDesign MODEL = Driven.model("tides");
  private static final int ROWS = 300;

  private static Dut open(int sun, int moon, int phase) {
    Clocking clocking = Clocking.of("sun", sun).with("moon", moon, phase);
    return MODEL.open(DutOptions.defaults().withClocking(clocking));
  }

  /** How many of the times first, first + step, ... come before a time. */
  private static long before(long time, long first, long step) {
    return time <= first ? 0 : (time - first + step - 1) / step;
  }

  @ParameterizedTest
  @CsvSource({
    "1, 1, 0",
    "10, 10, 0",
    "10, 10, 5",
    "10, 10, 3",
    "10, 7, 0",
    "10, 7, 3",
    "7, 10, 1",
    "3, 1, 0",
    "1, 3, 2",
    "10, 5, 0",
    "8, 3, 100",
    "1000000000, 2000000000, 2000000000",
  })
  void furtherClocksTickByPeriodAndPhase(int sun, int moon, int phase) {
    try (Dut dut = open(sun, moon, phase);
        Dut single = open(sun, moon, phase)) {
      Batch batch = dut.batch(ROWS);
      Arrays.setAll(batch.column("in_mark"), row -> row);
      dut.run(batch, ROWS);
      for (int row = 0; row < ROWS; row++) {
        long now = (long) row * sun;
        String where = "row " + row;
        long rises = before(now, phase, moon);
        assertEquals(row, batch.column("sun_rises")[row], where);
        assertEquals(row, batch.column("sun_falls")[row], "the first row begins with no fall");
        assertEquals(rises, batch.column("moon_rises")[row], where);
        // In half units, since half of an odd period is none.
        assertEquals(
            before(2 * now, 2L * phase + moon, 2L * moon), batch.column("moon_falls")[row], where);
        // The sun's latest rise was a period ago, and saw what there was just before it.
        assertEquals(before(now - sun, phase, moon), batch.column("moon_rises_seen")[row], where);
        // A row's inputs are there from half a period before the sun's rise.
        long latest = phase + (rises - 1) * moon;
        long marked = rises == 0 ? 0 : (2 * latest + sun) / (2L * sun);
        assertEquals(marked, batch.column("mark_at_moonrise")[row], where);

        single.set("in_mark", row);
        single.cycle();
        for (String port : new String[] {"moon_rises", "moon_falls", "mark_at_moonrise"}) {
          assertEquals(batch.column(port)[row], single.get(port), port + ", " + where);
        }
      }
    }
  }

  @Test
  void registersOnTheFallingEdgeSeeTheRowsOwnInputs() {
    try (Dut dut = open(1, 1, 0)) {
      Batch batch = dut.batch(5);
      Arrays.setAll(batch.column("in_mark"), row -> 100 + row);
      long[] marked = batch.column("mark_at_sunfall");
      dut.run(batch, 5);
      assertArrayEquals(new long[] {0, 101, 102, 103, 104}, marked, "before row 0 is no fall");
    }
  }

  @Test
  void settlingIsHalfACycle() {
    try (Dut dut = open(1, 1, 0)) {
      dut.set("rst_n", 1);
      dut.cycles(3);
      dut.set("in_mark", 9);
      dut.settle();
      assertEquals(9, dut.get("mark_at_sunfall"), "the clock has fallen");
      assertEquals(3, dut.get("sun_rises"));
      dut.settle();
      dut.cycle();
      assertEquals(3, dut.get("sun_falls"), "and does not fall again");
      assertEquals(4, dut.cyclesRun());
    }
  }

  @Test
  void anAsynchronousResetActsAtOnce() {
    try (Dut dut = open(1, 1, 0)) {
      Batch batch = dut.batch(9);
      long[] reset = {0, 1, 1, 1, 1, 0, 0, 1, 1};
      System.arraycopy(reset, 0, batch.column("rst_n"), 0, 9);
      long[] count = batch.column("since_reset");
      dut.run(batch, 9);
      assertArrayEquals(new long[] {0, 0, 1, 2, 3, 0, 0, 0, 1}, count);
    }
  }

  @Test
  void severalClocksHaveToBeNamed() {
    PortException e = assertThrows(PortException.class, MODEL::open);
    assertEquals(
        "Module tides has several clocks, sun, moon; say which is driven how by"
            + " DutOptions.withClocking.",
        e.getMessage());
    assertEquals(
        "Clock \"sun\" is named twice; name each once.",
        assertThrows(IllegalArgumentException.class, () -> Clocking.of("sun").with("sun", 1, 0))
            .getMessage());
    assertEquals(
        "Clock \"sun\" has a period of 0; allowed is 1 or more.",
        assertThrows(IllegalArgumentException.class, () -> Clocking.of("sun", 0)).getMessage());
    assertEquals(
        "Clock \"moon\" has a phase of -1; allowed is 0 or more.",
        assertThrows(IllegalArgumentException.class, () -> Clocking.of("sun").with("moon", 1, -1))
            .getMessage());
    assertThrows(IllegalArgumentException.class, () -> Clocking.none().with("sun", 1, 0));
  }

  @Test
  void aClockThatIsNotNamedIsAnInput() {
    try (Dut dut = MODEL.open(DutOptions.defaults().withClocking(Clocking.of("moon")))) {
      dut.cycles(3);
      dut.set("sun", 1);
      dut.cycles(2);
      assertEquals(1, dut.get("sun_rises"));
      assertEquals(4, dut.get("moon_rises"));
    }
  }
}
