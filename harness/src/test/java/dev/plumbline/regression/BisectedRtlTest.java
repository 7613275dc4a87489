package dev.plumbline.regression;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import dev.plumbline.check.Bench;
import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.rtl.RtlSource;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * {@code harness/bin/bisect-rtl} over the history of a bell's swing, built and driven at each
 * commit: the one that loses a bit is found between others that change the RTL and nothing it does,
 * one of which nobody can build.
 */
@Tag("thorough")
class BisectedRtlTest {
  private static final String SWING =
      """
      // How far a bell swings: strokes of its hammer times the hammer's weight.
      module bell (
          input clk,
          input [7:0] strokes,
          input [7:0] weight,
          output reg [15:0] swing
      );
      %s
      endmodule
      """;

  private static final List<String> HISTORY =
      List.of(
          "  always @(posedge clk) swing <= strokes * weight;",
          "  always @(posedge clk) swing <= weight * strokes;",
          "  wire [15:0] product = strokes * weight;\n  always @(posedge clk) swing <= product;",
          "  wire [14:0] product = strokes * weight;\n"
              + "  always @(posedge clk) swing <= {1'b0, product};",
          "  wire [14:0] product = strokes * weight\n"
              + "  always @(posedge clk) swing <= {1'b0, product};", // a semicolon is missing
          "  wire [14:0] product = weight * strokes;\n"
              + "  always @(posedge clk) swing <= {1'b0, product};",
          "  wire [14:0] product = weight * strokes;\n"
              + "  always @(posedge clk) begin\n    swing <= {1'b0, product};\n  end");

  private static final int LOSES_A_BIT = 3;

  @TempDir private Path folder;

  /** The bench, in a process of its own. */
  static final class Judge {
    private Judge() {}

    public static void main(String[] arguments) {
      Format byteFormat = Format.unsigned(8, 0);
      Reference swing =
          Reference.of(
              "swing",
              List.of(new Operand("strokes", byteFormat), new Operand("weight", byteFormat)),
              List.of(new Operand("swing", Format.unsigned(16, 0))),
              (in, out) -> out[0] = in[0] * in[1]);
      Contract contract =
          Contract.of(swing)
              .input("strokes", "strokes")
              .input("weight", "weight")
              .output("swing", "swing")
              .latency(1)
              .build();
      Regression.Runner bell =
          to ->
              Bench.of(CompiledDesign.of(RtlSource.of(Path.of("rtl", "bell.v"))))
                  .named("bell")
                  .contract(contract)
                  .cases(to.cases())
                  .seed(to.seed())
                  .recorder(to.recorder())
                  .run();
      System.exit(Regression.fromProperties(1_000).bench("bell", bell).run());
    }
  }

  /** What the words of a command line after the first are for the machine of the judge. */
  private static String bench() {
    return """
    #!/usr/bin/env bash
    shift
    exec '%s' -XX:TieredStopAtLevel=1 '-Dplumbline.cache=%s' "$@" -cp '%s' '%s'
    """
        .formatted(
            Path.of(System.getProperty("java.home"), "bin", "java"),
            System.getProperty("plumbline.cache", ""),
            System.getProperty("java.class.path"),
            Judge.class.getName());
  }

  @Test
  void theCommitThatLosesABitIsFound() throws Exception {
    assumeTrue(Checkout.isPossible(), "no Git");
    Checkout checkout = new Checkout(folder, "bell.v");
    for (String body : HISTORY) {
      checkout.commit(SWING.formatted(body), bench());
    }
    Checkout.Ended ended = checkout.bisect();
    assertEquals(0, ended.status(), ended::text);
    assertTrue(
        ended.text().contains(checkout.commits.get(LOSES_A_BIT) + " is the first bad commit"),
        ended::text);
    assertEquals(SWING.formatted(HISTORY.get(HISTORY.size() - 1)), checkout.read());
    assertEquals("", checkout.git("status", "--porcelain"), "all is as it was");
  }
}
