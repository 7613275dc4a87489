package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.ContractException;
import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.faults.FaultyCopies;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.report.RunReport;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.stimulus.Generator;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.stimulus.Stimulus;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.MismatchGroup.Hypothesis;
import dev.plumbline.verdict.MismatchGroup.LikelyKind;
import dev.plumbline.verdict.Verdict;
import java.nio.file.Path;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;
import java.util.stream.Stream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.MethodSource;

/** Ways in which blocks take cases and give results, as others than us write them. */
@Execution(ExecutionMode.CONCURRENT)
class FlowBenchTest {
  private static final Path FOLDER = Path.of("src/test/rtl/flow");

  @TempDir private Path folder;

  private static Operand unsigned(String name, int bits) {
    return new Operand(name, Format.unsigned(bits, 0));
  }

  private static Operand signed(String name, int bits) {
    return new Operand(name, Format.signed(bits, 0));
  }

  /**
   * Division by zero as RISC-V has it (Unprivileged ISA, chapter "M", table of semantics for
   * division by zero; from memory): all ones, and the dividend.
   */
  private static final Reference RATIO =
      Reference.of(
          "ratio",
          List.of(unsigned("num", 8), unsigned("den", 8)),
          List.of(unsigned("quo", 8), unsigned("rem", 8)),
          (in, out) -> {
            out[0] = in[1] == 0 ? 255 : in[0] / in[1];
            out[1] = in[1] == 0 ? in[0] : in[0] % in[1];
          });

  private static final Stimulus WITH_ZEROS =
      Stimulus.standard().with("den", Generator.values(0, 1, 3, 10, 200, 255));

  private static Contract.Builder ratio() {
    return Contract.of(RATIO)
        .startAndDone("go", "fin")
        .resetLow("nrst")
        .latencyOf(9, in -> in[1] == 0 ? 1 : 9);
  }

  private static Reference labels() {
    List<Operand> outputs = new java.util.ArrayList<>();
    for (int i = 0; i < 4; i++) {
      outputs.add(unsigned("byte" + i, 8));
    }
    for (int i = 0; i < 4; i++) {
      outputs.add(unsigned("keep" + i, 1));
    }
    outputs.add(unsigned("end", 1));
    return Reference.statefulStream(
        "label",
        List.of(unsigned("byte", 8), unsigned("end", 1)),
        outputs,
        () -> {
          long[] word = new long[9];
          int[] count = new int[1];
          return (in, results) -> {
            word[count[0]] = in[0];
            word[4 + count[0]++] = 1;
            if (in[1] == 1 || count[0] == 4) {
              word[8] = in[1];
              results.give(word);
              java.util.Arrays.fill(word, 0);
              count[0] = 0;
            }
          };
        });
  }

  private static Contract.Builder label() {
    Contract.Builder contract =
        Contract.of(labels())
            .input("byte", "i_byte")
            .input("end", "i_end")
            .output("end", "o_end")
            .valid("i_v", "o_v")
            .ready("i_r", "o_r")
            .resetLow("rn")
            .latency(1);
    for (int i = 0; i < 4; i++) {
      contract
          .output("byte" + i, "o_word[" + (8 * i + 7) + ":" + 8 * i + "]")
          .output("keep" + i, "o_keep[" + i + "]")
          .validWhen("byte" + i, "keep" + i);
    }
    return contract;
  }

  /** What is tested, by its file and how it is driven. */
  enum Block {
    RATIO_BUSY("ratio_unit", () -> ratio().busy("busy"), WITH_ZEROS),
    RATIO_DONE("ratio_unit", () -> ratio(), WITH_ZEROS),
    RATIO_HOLD_BUSY("ratio_hold", () -> ratio().busy("busy").doneStays(), WITH_ZEROS),
    RATIO_HOLD_DONE("ratio_hold", () -> ratio().doneStays(), WITH_ZEROS),
    ARC(
        "arc_pulse",
        () ->
            Contract.of(
                    Reference.of(
                        "area",
                        List.of(signed("x", 9), signed("y", 9), signed("z", 9)),
                        List.of(signed("area", 19)),
                        (in, out) -> out[0] = in[0] * in[1] + in[2]))
                .valid("strobe", null)
                .latency(3),
        Stimulus.standard()),
    LANES(
        "two_lanes",
        () ->
            Contract.of(
                    Reference.of(
                        "lanes",
                        List.of(unsigned("ticket", 3), unsigned("x", 8)),
                        List.of(unsigned("ticket", 3), unsigned("y", 9)),
                        (in, out) -> {
                          out[0] = in[0];
                          out[1] = in[1] + 7;
                        }))
                .input("ticket", "rq_ticket")
                .input("x", "rq_x")
                .output("ticket", "an_ticket")
                .output("y", "an_y")
                .valid("rq", "an")
                .ready("rq_ok", "an_ok")
                .anyOrderByTag("ticket")
                .resetLow("areset_n")
                .latencyBetween(1, 7),
        Stimulus.standard()),
    SHELF(
        "late_shelf",
        () ->
            Contract.of(
                    Reference.of(
                        "shelf",
                        List.of(unsigned("word", 9)),
                        List.of(unsigned("word", 9)),
                        (in, out) -> out[0] = in[0]))
                .input("word", "wr_data")
                .output("word", "rd_data")
                .valid("wr_en", "!empty")
                .ready("!full", "rd_en")
                .resultAfterReady()
                .reset("mclr")
                .latencyBetween(1, 9),
        Stimulus.standard()),
    LABEL("label_packer", () -> label(), Stimulus.standard());

    private static final Map<Block, CompiledDesign> MODELS = new EnumMap<>(Block.class);
    private final String file;
    private final Supplier<Contract.Builder> contract;
    private final Stimulus stimulus;

    Block(String file, Supplier<Contract.Builder> contract, Stimulus stimulus) {
      this.file = file;
      this.contract = contract;
      this.stimulus = stimulus;
    }

    static Path rtl(String file) {
      return FOLDER.resolve(file + ".v");
    }

    Bench.Builder on(Bench.Builder bench) {
      return bench.contract(contract.get().build()).stimulus(stimulus).seed(11);
    }

    Bench.Builder bench() {
      synchronized (MODELS) {
        return on(
            Bench.of(
                MODELS.computeIfAbsent(
                    this,
                    made ->
                        CompiledDesign.of(
                            RtlSource.of(rtl(made.file)),
                            BuildOptions.defaults().withOptimisation(false)))));
      }
    }
  }

  private static final Map<Block, FaultyCopies> COPIES = new HashMap<>();

  /** All faults of a block; not before somebody asks, since the blocks are made by then. */
  private static synchronized FaultyCopies copies(Block block) {
    return COPIES.computeIfAbsent(
        block,
        made -> {
          FaultyCopies copies = new FaultyCopies(Block.rtl(made.file));
          faults()
              .filter(fault -> fault.get()[0] == made)
              .forEach(fault -> copies.add(List.of(text(fault, 2), text(fault, 3))));
          return copies;
        });
  }

  private static String text(Arguments fault, int place) {
    return (String) fault.get()[place];
  }

  @ParameterizedTest
  @EnumSource
  @Tag("thorough")
  void rightBlocksPassUnderStallsAndResets(Block block) {
    boolean hasReset = block != Block.ARC;
    Bench.Builder bench = block.bench().cases(5_000).resets(hasReset ? 0.005 : 0);
    Verdict one = bench.threads(1).check();
    assertTrue(one.cases() > 1_000, one::facts);
    assertEquals(one.cycles(), bench.threads(2).check().cycles());
    for (Pacing offers : List.of(Pacing.backToBack(), Pacing.bursts(4, 9))) {
      for (Pacing ready : List.of(Pacing.backToBack(), Pacing.bubbles(0.8))) {
        Verdict verdict = bench.pacing(offers).ready(ready).resets(0).cases(1_000).check();
        long least = block == Block.LABEL ? 300 : 1_000;
        assertTrue(verdict.cases() >= least, verdict::facts);
      }
    }
  }

  static Stream<Arguments> faults() {
    return Stream.of(
        Arguments.of(Block.RATIO_BUSY, "zero takes as long", "den == 8'd0", "1'b0", "late"),
        Arguments.of(Block.RATIO_BUSY, "compares wrongly", "sh >= {", "sh > {", "value"),
        Arguments.of(
            Block.RATIO_BUSY, "busy falls early", "= run;", "= run & (left > 4'd3);", "missing"),
        Arguments.of(Block.RATIO_BUSY, "not busy at all", "busy = run;", "busy = 1'b0;", "missing"),
        Arguments.of(Block.RATIO_DONE, "one turn less", "left <= 4'd8", "left <= 4'd7", ""),
        Arguments.of(
            Block.RATIO_DONE, "a result less", "den == 8'd0", "den == 8'd0 && num != 8'd0", "late"),
        Arguments.of(
            Block.RATIO_HOLD_BUSY,
            "done falls by itself",
            "end else if (run) begin",
            "end else if (!run) fin <= 1'b0; else begin",
            "withdrawn"),
        Arguments.of(
            Block.RATIO_HOLD_DONE, "done is not cleared", "        fin <= 1'b0;\n", "", ""),
        Arguments.of(Block.ARC, "takes the next", "z1 <= z0", "z1 <= z", ""),
        Arguments.of(Block.LANES, "does not hold", "held ? held_fast :", "", "stalled"),
        Arguments.of(
            Block.LANES, "tickets mixed up", "slow_t    <= rq_ticket", "slow_t <= fast_t", ""),
        Arguments.of(
            Block.LANES, "one lane overtakes itself", "~slow_on : ~fast_on", "1'b1 : ~fast_on", ""),
        Arguments.of(
            Block.SHELF, "reads the next", "<= mem[rp[2:0]]", "<= mem[rp[2:0] + 3'd1]", ""),
        Arguments.of(Block.SHELF, "full one too late", "{~rp[3], rp[2:0]}", "~rp", ""),
        Arguments.of(
            Block.SHELF,
            "empty a cycle late",
            "assign empty = wp == rp",
            "assign empty = 1'b0",
            ""),
        Arguments.of(Block.LABEL, "keeps one too many", "? 4'h3", "? 4'h7", "value"),
        Arguments.of(Block.LABEL, "end a word late", "(n == 2'd3 | i_end)", "(n == 2'd3)", ""),
        Arguments.of(Block.LABEL, "takes while full", "~o_v | o_r", "1'b1", ""));
  }

  @ParameterizedTest(name = "{0}: {1}")
  @MethodSource("faults")
  @Tag("thorough")
  void plantedFaultsAreRed(Block block, String name, String was, String is, String shows) {
    Verdict verdict =
        block
            .on(copies(block).bench(List.of(was, is)))
            .cases(3_000)
            .resets(block == Block.ARC ? 0 : 0.001)
            .recorder(RunReport.open(folder, "run"))
            .run();
    assertFalse(verdict.facts().contains("could not be looked at"), verdict::facts);
    assertFalse(verdict.isPass(), name);
    assertTrue(verdict.facts().contains(shows), verdict::facts);
    assertFalse(verdict.kept().isEmpty(), verdict::facts);
  }

  @Test
  void resultsBelongToTheirOwnTagAndTheirTimesAreTheirOwn() {
    Verdict early =
        Block.LANES
            .bench()
            .contract(Block.LANES.contract.get().latencyOf(7, in -> in[0] % 2 == 0 ? 1 : 6).build())
            .ready(Pacing.backToBack())
            .run();
    Mismatch first = early.kept().get(0);
    assertEquals(Mismatch.Kind.LATE, first.kind(), "a fast answer waits for a slow one");
  }

  /** By hand from the RTL: a fast answer the next cycle, a slow one five later. */
  @Test
  void theLatencyOfTagsIsThatOfTheirOwnAnswers() {
    MeasuredLatency measured = Block.LANES.bench().measureLatency(40);
    assertEquals(1, measured.least(), measured::basis);
    assertEquals(6, measured.most(), measured::basis);
    Block.LANES
        .bench()
        .contract(
            Block.LANES.contract.get().latencyBetween(measured.least(), measured.most()).build())
        .ready(Pacing.backToBack())
        .check();
  }

  /** Nine cycles for a quotient, one for a division by zero, however starts are seen. */
  @ParameterizedTest
  @EnumSource(names = "RATIO.*", mode = EnumSource.Mode.MATCH_ALL)
  void theLatencyFromStartToDoneIsMeasured(Block block) {
    MeasuredLatency measured = block.bench().measureLatency(60);
    assertEquals(1, measured.least(), measured::basis);
    assertEquals(9, measured.most(), measured::basis);
  }

  /** Every quotient takes nine cycles by the RTL; where some take one, no one latency holds. */
  @Test
  void resultsThatAreAllEquallyLateAreSaidToBe() {
    CompiledDesign model = CompiledDesign.of(RtlSource.of(FOLDER.resolve("ratio_unit.v")));
    Bench.Builder promised =
        Bench.of(model)
            .contract(ratio().busy("busy").latency(6).build())
            .cases(500)
            .recorder(verdict -> Optional.empty()); // of a bench without one nothing is explained
    Stimulus noZeros = Stimulus.standard().with("den", Generator.values(1, 2, 3, 10, 77, 200, 255));
    List<Hypothesis> likely = likely(promised.stimulus(noZeros).run());
    assertEquals(1, likely.size());
    assertEquals(LikelyKind.TIMING, likely.get(0).kind());
    assertEquals(
        "every result comes 3 cycles late; held to a latency of 9, none is early or late",
        likely.get(0).words());
    List<Hypothesis> unequal = likely(promised.stimulus(WITH_ZEROS).run());
    assertTrue(unequal.stream().noneMatch(one -> one.kind() == LikelyKind.TIMING));
  }

  private static List<Hypothesis> likely(Verdict red) {
    assertEquals(Verdict.Outcome.MISMATCH, red.outcome(), red::facts);
    return red.groups().get(0).likely();
  }

  /** What stands at the outputs then, from before the reset, says nothing. */
  @Test
  void aResultThatIsMissingIsNotBlamedOnTheInitialState() {
    CompiledDesign model =
        CompiledDesign.of(RtlSource.of(Path.of("src/test/rtl/flow/ratio_unit.v")));
    Verdict verdict =
        Bench.of(model).contract(ratio().busy("busy").latency(0).build()).cases(500).run();
    assertTrue(verdict.facts().contains("ratio_unit: right result, "), verdict::facts);
  }

  @Test
  void contradictionsAreRefused() {
    assertRefused(ratio().doneStays().busy("busy").ready(null, "ack"), "cannot stay high");
    assertRefused(ratio().ready(null, "ack"), "busy(...)");
    assertRefused(ratio().valid("go", null), "No port marks results");
    assertRefused(ratio().resultAfterReady(), "valid and ready of it");
    assertRefused(ratio().cyclesBetweenInputs(3), "cyclesBetweenInputs");
    assertRefused(Block.LANES.contract.get().tolerance("ticket", 1), "tell results");
    assertRefused(Block.LANES.contract.get().anyOrderByTag("tickte"), "nearest are ticket");
  }

  private static void assertRefused(Contract.Builder contract, String says) {
    ContractException refused = assertThrows(ContractException.class, contract::build);
    assertTrue(refused.getMessage().contains(says), refused.getMessage());
  }
}
