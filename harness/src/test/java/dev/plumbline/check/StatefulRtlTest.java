package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.faults.FaultyCopies;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.report.RunReport;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.run.ContractSubject;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.verdict.Mismatch.Kind;
import dev.plumbline.verdict.Verdict;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
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

/** Blocks with state as RTL, right and with faults planted in copies. */
@Execution(ExecutionMode.CONCURRENT)
class StatefulRtlTest {
  private static final Map<Orrery, CompiledDesign> MODELS = new EnumMap<>(Orrery.class);

  /** For each block one model with all its faults. */
  private static final Map<Orrery, FaultyCopies> COPIES = new EnumMap<>(Orrery.class);

  static {
    for (Orrery block : Orrery.values()) {
      COPIES.put(block, FaultyCopies.of(block.rtl(), faults().filter(f -> f.get()[0] == block), 3));
    }
  }

  @TempDir private Path folder;

  private static Bench.Builder bench(Orrery block) {
    CompiledDesign model;
    synchronized (MODELS) {
      model =
          MODELS.computeIfAbsent(
              block,
              made ->
                  CompiledDesign.of(
                      RtlSource.of(made.rtl()), BuildOptions.defaults().withOptimisation(false)));
    }
    return Bench.of(model).contract(block.contract());
  }

  @ParameterizedTest
  @EnumSource
  @Tag("thorough")
  void rightBlocksPassUnderResetsAndStallsOnAnyNumberOfThreads(Orrery block) {
    Bench.Builder bench = bench(block).cases(70_000).resets(0.004).seed(5);
    Verdict one = bench.threads(1).check();
    Verdict two = bench.threads(2).check();

    assertEquals(one.cycles(), two.cycles());
    assertEquals(one.cases(), two.cases());
    assertEquals(one.bounds(), two.bounds());
    assertTrue(one.cases() > 10_000, one::facts);
  }

  @ParameterizedTest
  @EnumSource
  @Tag("thorough")
  void noResultIsLeftBehindUnderAnyPacing(Orrery block) {
    long expected =
        switch (block) {
          case SEASON_SUM -> 500;
          case PLAQUE -> -1; // one to four for each case
          default -> 2_000;
        };
    for (Pacing offers : List.of(Pacing.backToBack(), Pacing.bubbles(0.7), Pacing.bursts(4, 9))) {
      for (Pacing ready : List.of(Pacing.backToBack(), Pacing.bubbles(0.6), Pacing.varied())) {
        Verdict verdict =
            bench(block).pacing(offers).ready(ready).resets(0).cases(2_000).threads(1).check();
        assertTrue(
            expected < 0 ? verdict.cases() > 2_000 : verdict.cases() == expected, verdict::facts);
      }
    }
  }

  @Test
  void boundsAndTolerancesHoldToStateAsWell() {
    Reference exact = Orrery.DRIFT_FILTER.reference();
    Reference bounded =
        Reference.statefulBounded(
            "drift within 3",
            exact.inputs(),
            exact.outputs(),
            () -> {
              long[] before = new long[2];
              return (in, least, greatest) -> {
                long smooth = in[0] + 2 * before[0] + before[1];
                least[0] = Math.max(-8192, smooth - 3);
                greatest[0] = Math.min(8191, smooth + 3);
                before[1] = before[0];
                before[0] = in[0];
              };
            });
    Verdict within =
        bench(Orrery.DRIFT_FILTER)
            .contract(Orrery.DRIFT_FILTER.contract(bounded).build())
            .resets(0.01)
            .check();
    assertEquals(6, within.bounds().get(0).worstWidth());
    Verdict tolerant =
        bench(Orrery.SEASON_SUM)
            .contract(
                Orrery.SEASON_SUM
                    .contract(Orrery.SEASON_SUM.reference())
                    .tolerance("year", 2)
                    .build())
            .resets(0.01)
            .check();
    assertEquals(4, tolerant.bounds().get(0).worstWidth());
  }

  @Test
  void boundsOfAStreamHoldAsWell() {
    Reference exact = Orrery.SEASON_SUM.reference();
    Reference bounded =
        Reference.statefulBoundedStream(
            "year within 5",
            exact.inputs(),
            exact.outputs(),
            () -> {
              long[] year = new long[2]; // sum, quarters
              return (in, results) -> {
                year[0] += in[0];
                if (++year[1] == 4) {
                  results.giveBetween(
                      new long[] {Math.max(-131_072, year[0] - 5)},
                      new long[] {Math.min(131_071, year[0] + 5)});
                  year[0] = 0;
                  year[1] = 0;
                }
              };
            });
    Verdict verdict =
        bench(Orrery.SEASON_SUM)
            .contract(Orrery.SEASON_SUM.contract(bounded).build())
            .resets(0.01)
            .check();

    assertEquals(10, verdict.bounds().get(0).worstWidth());
  }

  @Test
  @Tag("thorough")
  void withoutValidPortsEveryCycleIsACase() {
    Contract contract =
        Contract.of(Orrery.TURN_SUM.reference())
            .hold("in_valid", 1)
            .reset("rst")
            .latency(2)
            .build();
    Verdict verdict = bench(Orrery.TURN_SUM).contract(contract).resets(0.01).cases(70_000).check();

    assertTrue(verdict.cases() > 60_000 && verdict.cases() < 70_000, verdict::facts);
  }

  @Test
  void theLatencyOfABlockWithStateIsMeasured() {
    assertEquals(2, bench(Orrery.TURN_SUM).measureLatency(20).most());
  }

  static Stream<Arguments> faults() {
    return Stream.of(
        fault(
            Orrery.TURN_SUM,
            "the sum outlives a reset",
            Kind.VALUE_WRONG,
            "if (rst) sum_q <= '0;\n    else if",
            "if"),
        fault(
            Orrery.TURN_SUM,
            "bubbles are summed",
            Kind.VALUE_WRONG,
            "else if (valid_s1_q) sum_q",
            "else sum_q"),
        fault(
            Orrery.DRIFT_FILTER,
            "a tap outlives a reset",
            Kind.VALUE_WRONG,
            "      earlier_q <= '0;\n",
            ""),
        fault(
            Orrery.DRIFT_FILTER,
            "a tap too far",
            Kind.VALUE_WRONG,
            "logic signed [13:0] next;",
            "logic signed [13:0] next;\n  logic signed [11:0] between_q;",
            "      earlier_q <= before_q;",
            "      between_q <= before_q;\n      earlier_q <= between_q;",
            "      before_q  <= '0;",
            "      before_q  <= '0;\n      between_q <= '0;"),
        fault(
            Orrery.TRAY,
            "what came before outlives a reset",
            Kind.VALUE_WRONG,
            "if (rst) before_q <= '0;\n    else if",
            "if"),
        fault(
            Orrery.TRAY,
            "a place too many",
            Kind.CHANGED_WHILE_STALLED,
            "count_q != 3'd4",
            "count_q != 3'd5"),
        fault(
            Orrery.TRAY,
            "dropped under a stall",
            Kind.RESULT_LOST,
            "assign put       = in_valid && in_ready;",
            "assign put = in_valid && in_ready && !(count_q == 3'd3 && !out_ready && in_token[5:0]"
                + " == 6'd9);",
            "else if (put) before_q",
            "else if (in_valid && in_ready) before_q"),
        fault(
            Orrery.SEASON_SUM,
            "the quarter outlives a reset",
            Kind.VALID_WITHOUT_CASE,
            "if (rst) quarter_q <= '0;\n    else if",
            "if"),
        fault(
            Orrery.SEASON_SUM,
            "a year of five",
            Kind.VALID_MISSING,
            "[ 1:0] quarter_q",
            "[ 2:0] quarter_q",
            "quarter_q == 2'd0",
            "quarter_q == 3'd0",
            "quarter_q == 2'd3",
            "quarter_q == 3'd4",
            "quarter_q <= quarter_q + 2'd1",
            "quarter_q <= quarter_q == 3'd4 ? 3'd0 : quarter_q + 3'd1"),
        fault(
            Orrery.PLAQUE,
            "the number outlives a reset",
            Kind.VALUE_WRONG,
            "if (rst) number_q <= '0;\n    else if",
            "if"),
        fault(
            Orrery.PLAQUE,
            "the end a letter early",
            Kind.VALUE_WRONG,
            "assign out_last   = more_q == 2'd0;",
            "logic ends;\n  assign ends = more_q == 2'd0;\n  assign out_last = more_q <= 2'd1;",
            "else if (out_ready && out_last)",
            "else if (out_ready && ends)",
            "out_valid && out_ready && out_last",
            "out_valid && out_ready && ends"),
        fault(
            Orrery.PLAQUE,
            "letters dropped under a stall",
            Kind.CHANGED_WHILE_STALLED,
            "else if (out_valid && out_ready) begin",
            "else if (out_valid) begin"),
        fault(
            Orrery.PLAQUE,
            "the last letter never comes",
            Kind.VALID_MISSING,
            "else if (out_ready && out_last)",
            "else if (out_ready && (out_last || more_q == 2'd1))"));
  }

  private static Arguments fault(Orrery block, String name, Kind kind, String... replacements) {
    return Arguments.of(block, name, kind, Arrays.asList(replacements));
  }

  @ParameterizedTest(name = "{0}, {1}: {2}")
  @MethodSource("faults")
  @Tag("thorough")
  void aPlantedFaultIsCaughtAndCalledByItsName(
      Orrery block, String name, Kind kind, List<String> replacements) {
    Contract contract = block.contract();
    Verdict verdict =
        COPIES
            .get(block)
            .bench(replacements)
            .named(name)
            .contract(contract)
            .pacing(block == Orrery.TRAY ? Pacing.backToBack() : Pacing.varied())
            .resets(0.004)
            .initialStates(0)
            .cases(20_000)
            .run();

    assertEquals(Verdict.Outcome.MISMATCH, verdict.outcome(), verdict::facts);
    assertEquals(kind, verdict.kept().get(0).kind(), verdict::facts);
  }

  /** A tray as a datapath: the token before is a register. */
  private static Reference trayInSteps() {
    Datapath.Builder b = Datapath.named("tray in steps");
    Value token = b.input("token", Format.unsigned(8, 0));
    Value before = b.delay("before", token, 0);
    b.output("token", token);
    b.output("change", b.subtract("apart", token, before), Format.signed(9, 0));
    return Reference.exact(b.build());
  }

  /** Under resets in mid-stream and stalls on both sides, by one thread and by two. */
  @Test
  @Tag("thorough")
  void theSameSeedGivesTheSameBytesOfADatapathWithRegisters() throws IOException {
    List<String> outlives = List.of("if (rst) before_q <= '0;\n    else if", "if");
    List<Path> folders = new ArrayList<>();
    for (int threads : new int[] {1, 2, 2}) {
      Verdict verdict =
          COPIES
              .get(Orrery.TRAY)
              .bench(outlives)
              .named("tray")
              .contract(Orrery.TRAY.contract(trayInSteps()).build())
              .ready(Pacing.bubbles(0.3))
              .resets(0.0001)
              .cases(2L * ContractSubject.SEGMENT_CASES)
              .threads(threads)
              .seed(3)
              .recorder(RunReport.open(folder.resolve("r" + folders.size()), "night"))
              .run();
      assertEquals(Verdict.Outcome.MISMATCH, verdict.outcome(), verdict::facts);
      folders.add(verdict.evidenceFolder().orElseThrow());
    }
    try (Stream<Path> files = Files.list(folders.get(0))) {
      List<Path> all = files.toList();
      assertTrue(all.size() > 3, all::toString);
      for (Path file : all) {
        for (Path other : folders) {
          assertArrayEquals(
              Files.readAllBytes(file),
              Files.readAllBytes(other.resolve(file.getFileName())),
              () -> file + " and " + other);
        }
      }
    }
  }

  @Test
  void aDatapathWithRegistersIsWhatTheTrayDoes() {
    Contract contract = Orrery.TRAY.contract(trayInSteps()).build();
    Verdict one = bench(Orrery.TRAY).contract(contract).resets(0.004).threads(1).check();
    Verdict two = bench(Orrery.TRAY).contract(contract).resets(0.004).threads(2).check();
    assertEquals(one.cycles(), two.cycles());
    assertEquals(one.cases(), two.cases());
  }
}
