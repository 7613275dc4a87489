package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.blocks.Foreign;
import dev.plumbline.contract.Beats;
import dev.plumbline.contract.Contract;
import dev.plumbline.contract.ContractException;
import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.Clocking;
import dev.plumbline.cosim.DutOptions;
import dev.plumbline.faults.FaultyCopies;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.verdict.Verdict;
import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Cases whose beats come with one clock and whose results with another; resets at any phase. */
@Execution(ExecutionMode.CONCURRENT)
class SeveralTimesTest {
  private static final Path BRIDGE = Path.of("src/test/rtl/flow/crate_bridge.v");

  private static final List<String> RIGHT = List.of("endmodule", "endmodule // right");
  private static final List<String> SIDE_OF_THE_NEXT =
      List.of("2'd1: second <= side;", "2'd2: second <= side;\n        2'd1: ;");
  private static final List<String> TELLS_BEFORE_IT_IS_THERE =
      List.of("2'd2) asks <= ~asks;", "2'd1) asks <= ~asks;");

  /** Whoever is open in the hall's first cycle of all is, and nobody later. */
  private static final List<String> OPEN_AT_ONCE_OR_NEVER =
      List.of(
          "opened <= opened | open;",
          "opened <= opened | (open & ~late);\n      late <= 1'b1;",
          "  reg opened;\n",
          "  reg opened, late;\n",
          "      opened <= 1'b0;\n",
          "      opened <= 1'b0;\n      late <= 1'b0;\n");

  private static final FaultyCopies COPIES =
      new FaultyCopies(BRIDGE)
          .add(RIGHT)
          .add(SIDE_OF_THE_NEXT)
          .add(TELLS_BEFORE_IT_IS_THERE)
          .add(OPEN_AT_ONCE_OR_NEVER);

  private static final List<List<String>> ALL =
      List.of(RIGHT, SIDE_OF_THE_NEXT, TELLS_BEFORE_IT_IS_THERE, OPEN_AT_ONCE_OR_NEVER);

  private static Contract.Builder contract() {
    Format side = Format.unsigned(8, 0);
    Reference volume =
        Reference.of(
            "volume",
            List.of(
                new Operand("length", side),
                new Operand("width", side),
                new Operand("depth", side)),
            List.of(new Operand("volume", Format.unsigned(24, 0))),
            (in, out) -> out[0] = in[0] * in[1] * in[2]);
    return Contract.of(volume)
        .valid("side_v", "told")
        .resetLow("nrst")
        .resetCycles(2)
        .latencyBetween(1, 8)
        .beats(Beats.on("side", "length", "width", "depth"));
  }

  private static Bench.Builder bench(List<String> texts, int yard, int hall, int phase) {
    return COPIES
        .bench(texts)
        .options(
            DutOptions.defaults()
                .withClocking(Clocking.of("yard_clk", yard).with("hall_clk", hall, phase))
                .withPlusargs("copy=" + ALL.indexOf(texts)))
        .cases(600)
        .resets(0.002)
        .seed(4);
  }

  @Test
  @Tag("thorough")
  void beatsAndResetsOverTwoClocks() {
    Contract contract = contract().ready("side_r", null).build();
    bench(RIGHT, 10, 17, 3).contract(contract).check();
    Verdict verdict = bench(OPEN_AT_ONCE_OR_NEVER, 10, 17, 3).contract(contract).resets(0.02).run();
    assertEquals(Verdict.Outcome.MISMATCH, verdict.outcome(), verdict::facts);
  }

  /** With a port that says ready, and without one, by cases so far apart that it always is. */
  @ParameterizedTest
  @CsvSource({"10, 17, 3", "17, 10, 0", "10, 10, 5", "3, 50, 1", "41, 4, 2"})
  @Tag("thorough")
  void beatsWithOneClockAndResultsWithAnother(int yard, int hall, int phase) {
    int apart = 6 + 5 * (hall + yard - 1) / yard;
    Contract ready = contract().ready("side_r", null).build();
    Contract spaced = contract().cyclesBetweenInputs(apart).build();
    for (Contract contract : List.of(ready, spaced)) {
      Verdict one = bench(RIGHT, yard, hall, phase).contract(contract).threads(1).check();
      assertTrue(one.cases() > 300, one::facts);
      assertEquals(
          one.cycles(),
          bench(RIGHT, yard, hall, phase).contract(contract).threads(2).check().cycles());
      for (Pacing pacing : List.of(Pacing.backToBack(), Pacing.bursts(2, 9))) {
        bench(RIGHT, yard, hall, phase).contract(contract).pacing(pacing).check();
      }
    }
  }

  @ParameterizedTest
  @CsvSource({"10, 17, 3", "17, 10, 0", "3, 50, 1", "41, 4, 2"})
  @Tag("thorough")
  void faultsAmongBeatsOfTwoClocksAreRed(int yard, int hall, int phase) {
    Contract contract = contract().ready("side_r", null).build();
    for (List<String> texts : List.of(SIDE_OF_THE_NEXT, TELLS_BEFORE_IT_IS_THERE)) {
      Verdict verdict = bench(texts, yard, hall, phase).contract(contract).run();
      assertEquals(Verdict.Outcome.MISMATCH, verdict.outcome(), verdict::facts);
    }
  }

  /** A reset ends between two rises of either clock: which one sees it first is by chance. */
  @ParameterizedTest
  @CsvSource({"10, 17, 3", "17, 10, 4", "10, 10, 5", "7, 9, 2"})
  @Tag("thorough")
  void aResetEndsAtAnyPhaseOfEitherClock(int yard, int hall, int phase) {
    Contract contract = contract().ready("side_r", null).build();
    bench(RIGHT, yard, hall, phase).contract(contract).resets(0.02).check();
    Verdict verdict =
        bench(OPEN_AT_ONCE_OR_NEVER, yard, hall, phase).contract(contract).resets(0.02).run();
    assertEquals(Verdict.Outcome.MISMATCH, verdict.outcome(), verdict::facts);
  }

  @Test
  void operandsThatFollowTwoClocksAreRefused(@TempDir Path folder) throws IOException {
    Operand p = new Operand("p", Format.unsigned(8, 0));
    Operand q = new Operand("q", Format.unsigned(8, 0));
    Operand sum = new Operand("sum", Format.unsigned(8, 0));
    Reference both = Reference.of("both", List.of(p, q), List.of(sum), (in, out) -> out[0] = in[0]);
    Bench.Builder bench =
        Foreign.module(
                folder,
                "module both(input a, input b, input go, input [7:0] p, input [7:0] q,"
                    + " output reg ok, output reg [7:0] sum); reg [7:0] held;"
                    + " always @(posedge b) held <= q;"
                    + " always @(posedge a) begin ok <= go; sum <= p + held; end endmodule")
            .options(DutOptions.defaults().withClocking(Clocking.of("a", 2).with("b", 3, 0)));
    bench.contract(Contract.of(both).valid("go", "ok").latencyBetween(1, 8).build());
    String refused = assertThrows(ContractException.class, bench::run).getMessage();
    assertTrue(refused.startsWith("The ports of cases, p, q, go, follow a and b"), refused);
    assertTrue(refused.endsWith("Say which by clocks(...)."), refused);
  }
}
