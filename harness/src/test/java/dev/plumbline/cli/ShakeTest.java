package dev.plumbline.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Holds {@code shake} to its published definition: to stock C++ benches beside the designs in
 * {@code src/test/resources/shake}, and to digests computed here from the definition with the JDK's
 * own random words.
 */
@Tag("thorough")
@Execution(ExecutionMode.CONCURRENT)
class ShakeTest {
  @TempDir private Path folder;

  private Path module(String name, String source) throws IOException {
    return Files.writeString(folder.resolve(name + ".sv"), source);
  }

  private static CommandLineRun shake(Path file, String options) {
    List<String> arguments = new ArrayList<>(List.of("shake"));
    arguments.addAll(List.of(options.trim().split(" +", -1)));
    arguments.add(file.toString());
    return CommandLineRun.of(arguments);
  }

  @ParameterizedTest
  @CsvSource({
    "shapes.sv, --seed 42,                                d89cc0059b130f51, 2000",
    "edges.sv,  --seed 42 --clock clk --reset rst_n:low,  69187a3e43f2ac2e, 2000",
    "pads.v,    --seed 42,                                c43cc019457f2688, 2000",
    "enough.sv, --seed 42,                                59aba25ff7e87e08, 1234",
  })
  void digestIsThatOfAStockBench(String file, String options, String digest, String cycles) {
    CommandLineRun run =
        shake(Path.of("src/test/resources/shake", file), options + " --cycles 2000");

    assertEquals("digest " + digest + " cycles " + cycles, run.lastLine());
  }

  @Test
  void wiresGiveTheDigestOfTheirOwnInputs() throws IOException {
    Path file =
        module(
            "wires",
            """
            module wires (input [6:0] a, input [69:0] b, input signed [3:0] c [1:0],
                          output [6:0] oa, output [69:0] ob, output signed [3:0] oc [1:0]);
              assign oa = a;
              assign ob = b;
              assign oc[0] = c[0];
              assign oc[1] = c[1];
            endmodule
            """);
    long[] masks = {0x7F, -1, 0x3F, 0xF, 0xF};
    SplittableRandom words = new SplittableRandom(5);
    long hash = 0xCBF29CE484222325L;
    for (int row = 0; row < 10_000; row++) {
      for (long mask : masks) {
        hash = folded(hash, words.nextLong() & mask);
      }
    }

    CommandLineRun run = shake(file, "--cycles 10000 --seed 5");

    assertEquals(String.format("digest %016x cycles 10000", hash), run.lastLine());
    assertTrue(run.out().contains("cycles a second"), run.out());
  }

  @Test
  void registersShowACycleLaterAndTheResetIsOnForEightCycles() throws IOException {
    Path file =
        module(
            "register",
            """
            module register (input [7:0] d, input rst, input clk, output [7:0] q, output in_reset);
              reg [7:0] kept;
              always @(posedge clk) kept <= rst ? 8'h5A : d;
              assign q = kept;
              assign in_reset = rst;
            endmodule
            """);
    SplittableRandom words = new SplittableRandom(-1);
    long hash = 0xCBF29CE484222325L;
    long kept = 0;
    for (int cycle = 0; cycle < 20; cycle++) {
      long d = words.nextLong() & 0xFF;
      hash = folded(folded(hash, kept), cycle < 8 ? 1 : 0);
      kept = cycle < 8 ? 0x5A : d;
    }
    String digest = String.format("digest %016x cycles 20", hash);

    assertEquals(digest, shake(file, "--reset rst --cycles 20 --seed -1").lastLine());
    assertEquals(
        digest, shake(file, "--reset rst --cycles 20 --seed 0xFFFFFFFFFFFFFFFF").lastLine());
  }

  @Test
  void noCyclesGiveTheHashOfNothing() throws IOException {
    Path file = module("inverter", "module inverter (input a, output y); assign y = !a; endmodule");

    assertEquals("digest cbf29ce484222325 cycles 0", shake(file, "--cycles 0 --seed 1").lastLine());
  }

  private static long folded(long hash, long word) {
    long folded = hash;
    for (int i = 0; i < 8; i++) {
      folded = (folded ^ (word >>> (8 * i) & 0xFF)) * 0x100000001B3L;
    }
    return folded;
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "$stop;            | $stop",
        "$error(\"lost\"); | lost",
        "$fatal;           | ends.sv:6",
      })
  void anAbnormalEndReportsItsCycleAndGivesNoDigest(String statement, String reported)
      throws IOException {
    Path file =
        module(
            "ends",
            """
            module ends (input clk, output reg [7:0] n);
              always @(posedge clk) begin
                n <= n + 8'd1;
                if (n == 8'd99) begin
                  $display("one hundred");
                  %s
                end
              end
            endmodule
            """
                .formatted(statement));

    CommandLineRun run = shake(file, "--cycles 1000 --seed 1");

    String err = run.refusal(3);
    assertTrue(err.contains("99"), err);
    assertTrue(err.contains(reported), err);
    assertTrue(err.contains("one hundred"), err);
  }

  @Test
  void logicThatNeverSettlesIsAnAbnormalEnd() throws IOException {
    Path file =
        module(
            "ring",
            """
            module ring (input clk, input [3:0] d, output reg [3:0] q, output y);
              wire loop /* verilator split_var */;
              assign loop = (q == 4'd9) ? !loop : 1'b0;
              assign y = loop;
              always @(posedge clk) q <= d;
            endmodule
            """);

    String err = shake(file, "--cycles 1000 --seed 1").refusal(3);
    assertTrue(err.contains("settle"), err);
  }

  @Test
  void aClockThatOnlyADelayMakesIsDistinguished() throws IOException {
    Path file =
        module(
            "ticker",
            """
            module ticker (input [3:0] d, output reg [3:0] q);
              reg c = 0;
              always #5 c = ~c;
              always @(posedge c) q <= d;
            endmodule
            """);

    String err = shake(file, "--cycles 10 --seed 1").refusal(3);
    assertTrue(err.contains("delays in the source are ignored"), err);
    assertTrue(err.contains("make that clock an input"), err);
  }

  /** The C++ of this one cannot be compiled at all, so whoever waits for that never gets here. */
  @Test
  void severalClocksAreReportedBeforeAnythingIsBuilt() throws IOException {
    Path file =
        module(
            "pair",
            """
            module pair (input ca, input cb, input eval, output reg a, output reg b);
              always @(posedge ca) a <= eval;
              always @(posedge cb) b <= eval;
            endmodule
            """);

    String err = shake(file, "--cycles 10 --seed 1").refusal(2);
    assertTrue(err.contains("--clock: ca, cb"), err);
  }

  @Test
  void printedTextGoesToStandardErrorAlone() throws IOException {
    Path file =
        module(
            "talker",
            """
            module talker (input clk, output reg q);
              always @(posedge clk) begin q <= !q; $display("tick"); end
            endmodule
            """);

    CommandLineRun run = shake(file, "--cycles 3 --seed 1");

    run.lastLine();
    assertFalse(run.out().contains("tick"), run.out());
    assertEquals(3, run.err().lines().filter("tick"::equals).count());
  }

  @Test
  void assertionsCountValidWhenAskedFor() throws IOException {
    Path file =
        module(
            "assumes",
            """
            module assumes (input clk, input [3:0] d, output reg [3:0] q);
              always @(posedge clk) begin q <= d; assert (d != 4'd7); end
            endmodule
            """);

    shake(file, "--cycles 1000 --seed 1").lastLine();
    shake(file, "--cycles 1000 --seed 1 --assert").refusal(3);
  }

  @Test
  void whatCannotBeDoneIsReportedInOneMessage() throws IOException {
    Path file =
        module(
            "two",
            """
            module two (input ca, input cb, input [1:0] d, output reg a, output reg b);
              always @(posedge ca) a <= d[0];
              always @(posedge cb) b <= d[1];
            endmodule
            """);
    String run = "--cycles 10 --seed 1 ";

    assertTrue(shake(file, run).refusal(2).contains("--clock: ca, cb"));
    assertTrue(shake(file, run + "--clock d").refusal(2).contains("it has: ca, cb"));
    assertTrue(shake(file, run + "--clock ca --reset nil").refusal(2).contains("--reset nil"));
    assertTrue(shake(file, "--seed 1 --clock ca").refusal(2).contains("--cycles"));
    assertTrue(shake(file, "--cycles -1 --seed 1").refusal(2).contains("0 cycles or more"));
    assertTrue(shake(file, "--cycles 1 --seed x").refusal(2).contains("\"x\""));
    assertTrue(
        CommandLineRun.of("shake", "--cycles", "1", "--seed", "1").refusal(2).contains("-f"));
    assertTrue(CommandLineRun.of("walk").refusal(2).contains("walk"));
    CommandLineRun.of().refusal(2);
  }
}
