package dev.plumbline.cosim;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.rtl.RtlSource;
import dev.plumbline.rtl.Signal;
import java.io.IOException;
import java.math.BigInteger;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/** What is inside a model, by name; the expectations are arithmetic on the header of the RTL. */
@Execution(ExecutionMode.CONCURRENT)
class InternalsTest {
  private static final CompiledDesign MODEL = Driven.model("clockwork");
  private static final int STEP = -300;

  private static void turn(Dut dut, int cycles) {
    dut.set("rst", 1);
    dut.cycle();
    dut.set("rst", 0);
    dut.set("in_step", STEP);
    dut.cycles(cycles);
  }

  @Test
  void probeBuildShowsWhatRegistersHadWhenOutputsWereSampled() {
    try (Dut dut = MODEL.withInternals().open()) {
      turn(dut, 10);
      shapesAreAsDriven(dut);
    }
  }

  @Test
  void fastBuildIsRunAgainToBeLookedInto() {
    try (Dut dut = MODEL.open()) {
      turn(dut, 4);
      assertEquals(3 * STEP, dut.peek("angle_q"));
      dut.cycles(6);
      shapesAreAsDriven(dut);
      dut.set("in_step", 1);
      dut.cycle();
      assertEquals(10 * STEP, dut.peek("angle_q"));
      dut.settle();
      assertEquals(10 * STEP + 1, dut.peek("angle_q"));
    }
  }

  @Test
  void modelInAProcessOfItsOwnIsLookedIntoAlike() {
    try (Dut dut = MODEL.open(DutOptions.defaults().withIsolated(true))) {
      turn(dut, 10);
      shapesAreAsDriven(dut);
    }
  }

  /** The tenth cycle after reset: nine steps were taken before it. */
  private static void shapesAreAsDriven(Dut dut) {
    assertEquals(9 * STEP, dut.peek("clockwork.angle_q"));
    assertEquals(9 * STEP, dut.peek("angle_q"));
    assertEquals(1, dut.peek("turned"));
    assertEquals(8 * STEP, dut.peek("hand.gear[0].angle_q"));
    assertEquals(7 * STEP, dut.peek("clockwork.hand.gear[1].angle_q"));
    assertEquals(dut.get("out_angle"), dut.peek("hand.gear[1].angle_q"));
    assertEquals(8 * STEP & 0xff, dut.peek("memory[3]")); // the ninth write is to the first place
    assertEquals(3 * STEP & 0xff, dut.peek("memory[6]"));
    BigInteger history = BigInteger.ZERO;
    for (int step = 3; step <= 8; step++) {
      history = history.shiftLeft(16).or(BigInteger.valueOf(step * STEP & 0xffff));
    }
    BigInteger kept = history.or(BigInteger.valueOf(2 * STEP & 0xf).shiftLeft(96));
    assertArrayEquals(Driven.words(kept, 2), dut.peekWords("history_q"));
  }

  @Test
  void watchRecordsEachCycle() {
    try (Dut dut = MODEL.withInternals().open()) {
      Watch watch = dut.watch(List.of("angle_q", "history_q", "memory[4]"), 2, 5);
      turn(dut, 10);
      assertEquals(5, watch.rows());
      assertArrayEquals(
          new long[] {STEP, 2 * STEP, 3 * STEP, 4 * STEP, 5 * STEP}, watch.column(0, 0));
      assertEquals(2 * STEP & 0xffff, watch.column(1, 0)[2] & 0xffff);
      assertEquals(STEP & 0xffff, watch.column(1, 0)[2] >>> 16 & 0xffff);
      assertEquals("clockwork.history_q", watch.signals().get(1).path());
    }
  }

  @Test
  void batchHasColumnsOfSignalsInside() {
    try (Dut dut = MODEL.withInternals().open()) {
      Batch batch = dut.batch(100);
      Arrays.setAll(batch.column("rst"), row -> row == 0 ? 1 : 0);
      Arrays.setAll(batch.column("in_step"), row -> row);
      long[] angle = batch.column("clockwork.angle_q");
      long[] gear = batch.column("hand.gear[0].angle_q");
      for (int run = 0; run < 2; run++) {
        dut.run(batch, 100);
        long sum = 0;
        for (int row = 2; row < 100; row++) {
          assertEquals(sum, gear[row], "row " + row);
          sum = (short) (sum + row - 1);
          assertEquals(sum, angle[row], "row " + row);
        }
      }
    }
  }

  @Test
  void everySignalHasItsLine() {
    Signal gear =
        MODEL.withInternals().signals().all().stream()
            .filter(signal -> signal.path().equals("clockwork.hand.gear[1].angle_q"))
            .findFirst()
            .orElseThrow();
    assertTrue(gear.register());
    assertTrue(gear.location().toString().endsWith("clockwork.sv:45"), gear.location().toString());
    assertEquals(16, gear.width());
    assertTrue(gear.signed());
  }

  @Test
  void nameThatIsNotThereHasNearOnes() {
    try (Dut dut = MODEL.withInternals().open()) {
      PortException e = assertThrows(PortException.class, () -> dut.peek("angel_q"));
      assertTrue(e.getMessage().startsWith("Module clockwork has no signal \"angel_q\" inside; "));
      assertTrue(e.getMessage().contains("clockwork.angle_q"), e.getMessage());
      e = assertThrows(PortException.class, () -> dut.peek("memory"));
      assertEquals(
          "Signal \"memory\" is an array; name an element, as in \"memory[0]\".", e.getMessage());
      e = assertThrows(PortException.class, () -> dut.peek("memory[11]"));
      assertEquals(
          "Signal \"clockwork.memory\" has no element \"memory[11]\"; its indices are [3:10].",
          e.getMessage());
      e = assertThrows(PortException.class, () -> dut.peek("history_q"));
      assertEquals("Signal \"history_q\" takes 2 words; peekWords gives them all.", e.getMessage());
    }
  }

  @Test
  void fastBuildDrivenByBatchesCannotBeRunAgain() {
    try (Dut dut = MODEL.open()) {
      dut.run(dut.batch(8), 8);
      PortException e = assertThrows(PortException.class, () -> dut.peek("angle_q"));
      assertEquals(
          "The model of module clockwork cannot be run again to look into it, since it was driven"
              + " by batches; open it by CompiledDesign.withInternals().open().",
          e.getMessage());
      e = assertThrows(PortException.class, () -> dut.batch(8).column("clockwork.angle_q"));
      assertTrue(e.getMessage().contains("CompiledDesign.withInternals()"), e.getMessage());
    }
  }

  @Test
  @Tag("thorough")
  void dumpvarsOfTheRtlSaysWhatToUseInstead() {
    try (Dut dut = Driven.model("dumping").open()) {
      dut.cycle();
      assertTrue(dut.text().contains("-Dplumbline.waveform=FIRST-LAST"), dut.text());
    }
  }

  /** Verilator would write that the sum is made from the port that shows it. */
  @Test
  void signalsAreMadeFromWhatTheirSourceSays(@TempDir Path folder) throws IOException {
    Path file =
        Files.writeString(
            folder.resolve("orbits.sv"),
            """
            module orbits (input logic [3:0] in_a, input logic [3:0] in_b,
                output logic [3:0] out_sum, output logic out_far);
              logic [3:0] sum;
              assign sum = in_a + in_b;
              assign out_sum = sum;
              assign out_far = sum > in_a;
            endmodule
            """);
    Map<String, List<String>> sources =
        CompiledDesign.of(RtlSource.of(file)).withInternals().signals().sources();
    assertEquals(List.of("orbits.in_a", "orbits.in_b"), sources.get("orbits.sum"));
    assertEquals(List.of("orbits.sum"), sources.get("orbits.out_sum"));
    assertEquals(List.of("orbits.sum", "orbits.in_a"), sources.get("orbits.out_far"));
  }
}
