package dev.plumbline.samples;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** A second reader of the same sources: Yosys reads, checks and synthesises them. */
@Execution(ExecutionMode.CONCURRENT)
final class RtlSynthesisTest {
  private static final String NO_LATCH =
      "select -assert-none t:$dlatch t:$dlatchsr t:$sr t:$_DLATCH* t:$_SR_*";

  @BeforeAll
  static void yosysIsInstalled() {
    assumeTrue(
        Command.find("yosys").isPresent(),
        "yosys is not on PATH: synthesis of the sample RTL was not checked (apt-get install"
            + " yosys)");
  }

  /**
   * Down to adders, multipliers and registers: seconds each, at any size. The clean-up removes a
   * wire that is left over where the seed table became a memory.
   */
  @ParameterizedTest(name = "{0} {1}")
  @CsvSource({
    "reciprocal, W=8 F=0",
    "box_pipeline, W=32 F=16",
    "span_combiner, W=32 SURFACE=13",
    "scene_fetch, A=10 P=4",
    "operation_queue, Q=64 WIDTH=90",
    "sphere_walker, W=32 F=16",
    "picture_converter, XW=5 YW=3",
    "host_port, W=32 A=10",
    "frame_controller, CONTEXTS=4",
  })
  @Tag("thorough")
  void everyUnitBecomesRegistersAndArithmeticWithoutLatch(String top, String parameters) {
    synthesise(top, parameters);
  }

  @ParameterizedTest(name = "{0} {1}")
  @EnabledIfSystemProperty(named = "plumbline.long", matches = "true")
  @CsvSource({
    "square_root, W=32 F=16",
    "scene_retirement, W=32",
    "ray_sequencer, W=32 F=16",
    "sphere_pipeline, W=8 F=0 DW=8 DF=4",
    "plane_pipeline, W=8 F=0 DW=8 DF=4",
    "reciprocal, W=32 F=16",
    "reciprocal, W=32 F=31",
    "square_root, W=4 F=0 ROUND_NEAREST=1",
    "square_root, W=64 F=0",
    "box_pipeline, W=8 F=0 INV_W=8 INV_F=0 MARGIN=0",
    "box_pipeline, W=32 F=31 INV_W=32 INV_F=31 MARGIN=255",
    "span_combiner, W=8 SURFACE=1 C=1",
    "sphere_walker, W=8 F=0 DW=4 DF=0 GUARD=0",
    "sphere_walker, W=32 F=31 DW=32 DF=31 GUARD=31",
    "sphere_pipeline, W=32 F=16 DW=18 DF=16",
    "plane_pipeline, W=32 F=16 DW=18 DF=16",
  })
  void soDoesEveryUnitAtTheEndsOfItsParameters(String top, String parameters) {
    synthesise(top, parameters);
  }

  private static void synthesise(String top, String parameters) {
    check(
        top,
        chosen(parameters),
        "synth -flatten -run begin:fine -top " + top + "; opt -full; opt_clean -purge");
  }

  /** The whole executor in a second: no latch and nothing undriven. Its parts go further above. */
  @Test
  void theExecutorIsReadWithoutLatch() {
    check("scene_executor", "", "proc");
  }

  /** Down to gates, where that takes seconds. */
  @ParameterizedTest(name = "{0} {1}")
  @CsvSource({
    "square_root, W=8 F=4 ROUND_NEAREST=1",
    "box_pipeline, W=8 F=4 INV_W=8 INV_F=4",
    "sphere_walker, W=8 F=4 DW=8 DF=6 GUARD=2",
  })
  @Tag("thorough")
  void smallUnitsBecomeGatesWithoutLatch(String top, String parameters) {
    check(top, chosen(parameters), "synth -flatten -top " + top);
  }

  @Test
  void aParameterOutOfRangeStopsSynthesis() {
    Command.Outcome outcome = yosys(SampleRtl.FOLDER, "reciprocal", chosen("W=33"), "proc");

    assertNotEquals(0, outcome.status());
    assertTrue(outcome.output().contains("reciprocal: W must be 8 to 32"), outcome.output());
  }

  @Test
  void aLatchIsReported(@TempDir Path folder) throws IOException {
    Files.writeString(
        folder.resolve("held.sv"),
        """
        module held (input logic open, input logic in_bit, output logic out_bit);
          always @* if (open) out_bit = in_bit;
        endmodule
        """);

    Command.Outcome outcome = yosys(folder, "held", "", "proc; " + NO_LATCH);

    assertNotEquals(0, outcome.status());
    assertTrue(outcome.output().contains("Assertion failed"), outcome.output());
  }

  private static void check(String top, String chosen, String steps) {
    Command.Outcome outcome =
        yosys(SampleRtl.FOLDER, top, chosen, steps + "; check -assert; " + NO_LATCH);

    assertEquals(0, outcome.status(), outcome.output());
    assertFalse(outcome.output().toLowerCase(Locale.ROOT).contains("warning"), outcome.output());
  }

  private static Command.Outcome yosys(Path folder, String top, String chosen, String steps) {
    String script =
        "read_verilog -sv -I. *.sv; hierarchy -check -top " + top + chosen + "; " + steps;
    return Command.run(folder, List.of("yosys", "-q", "-p", script));
  }

  /** As options of {@code hierarchy}. */
  private static String chosen(String parameters) {
    return List.of(parameters.split(" ")).stream()
        .map(parameter -> " -chparam " + parameter.replace('=', ' '))
        .collect(Collectors.joining());
  }
}
