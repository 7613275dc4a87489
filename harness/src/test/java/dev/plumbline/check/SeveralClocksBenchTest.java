package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.ContractException;
import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.Clocking;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.DutOptions;
import dev.plumbline.faults.FaultyCopies;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.report.RunReport;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.verdict.Row;
import dev.plumbline.verdict.Verdict;
import java.nio.file.Files;
import java.nio.file.Path;
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
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * A queue from one clock to another, written as one who has never seen a sample of ours would.
 * Source of the design: C. Cummings, "Simulation and Synthesis Techniques for Asynchronous FIFO
 * Design", SNUG 2002 (pointers in Gray code, compared on the side that they guard); from memory.
 */
@Execution(ExecutionMode.CONCURRENT)
class SeveralClocksBenchTest {
  private static final Path QUEUE = Path.of("src/test/rtl/flow/room_queue.v");

  private static final CompiledDesign MODEL =
      CompiledDesign.of(RtlSource.of(QUEUE), BuildOptions.defaults().withOptimisation(false));

  private static final FaultyCopies COPIES = FaultyCopies.of(QUEUE, faults(), 1);

  @TempDir private Path folder;

  static Contract.Builder contract() {
    List<Operand> words = List.of(new Operand("word", Format.unsigned(12, 0)));
    return Contract.of(Reference.of("queue", words, words, (in, out) -> out[0] = in[0]))
        .input("word", "pdat")
        .output("word", "gdat")
        .valid("put", "!gempty")
        .ready("!pfull", "get")
        .latencyBetween(1, 16)
        .resetLow("prst_n")
        .alsoResetLow("grst_n")
        .resetCycles(3);
  }

  static DutOptions clocks(int put, int get, int phase) {
    return DutOptions.defaults().withClocking(Clocking.of("pclk", put).with("gclk", get, phase));
  }

  @ParameterizedTest
  @CsvSource({"10, 17, 3", "17, 10, 0", "10, 10, 5", "3, 100, 1", "97, 4, 2"})
  void rightQueuePassesAtAnyRatioOfClocks(int put, int get, int phase) {
    Bench.Builder bench =
        Bench.of(MODEL)
            .contract(contract().build())
            .options(clocks(put, get, phase))
            .cases(4_000)
            .resets(0.004)
            .seed(5);
    Verdict one = bench.threads(1).check();
    assertTrue(one.cases() > 1_000, one::facts);
    assertEquals(one.cycles(), bench.threads(2).check().cycles());
  }

  @Test
  void portsFollowTheClocksOfTheirRegisters() {
    assertEquals(Map.of("put", "pclk", "pdat", "pclk", "pfull", "pclk"), only("pclk"));
    assertEquals(Map.of("get", "gclk", "gdat", "gclk", "gempty", "gclk"), only("gclk"));
  }

  private static Map<String, String> only(String clock) {
    Map<String, String> found = new java.util.HashMap<>(MODEL.design().portClocks());
    found.values().removeIf(other -> !other.equals(clock));
    found.keySet().removeIf(port -> port.endsWith("rst_n"));
    return found;
  }

  static Stream<Arguments> faults() {
    return Stream.of(
        Arguments.of("pointer crosses in binary", List.of("gp1 <= pgray;", "gp1 <= pbin;")),
        Arguments.of(
            "full compares one inverted bit",
            List.of("{~pg2[A:A-1], pg2[A-2:0]}", "{~pg2[A], pg2[A-1:0]}")),
        Arguments.of(
            "empty looks at the pointer before the read",
            List.of("gempty <= ggray_n == gp2;", "gempty <= ggray == gp2;")),
        Arguments.of("read goes on where nothing is", List.of("get & ~gempty;", "get;")));
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("faults")
  @Tag("thorough")
  void faultsInPointersAreRedAndEvidenceShowsBothClocks(String name, List<String> texts)
      throws Exception {
    Verdict verdict =
        COPIES
            .bench(texts)
            .contract(contract().build())
            .options(
                clocks(10, 17, 3)
                    .withPlusargs("copy=" + faults().map(f -> f.get()[0]).toList().indexOf(name)))
            .cases(4_000)
            .recorder(RunReport.open(folder, "run"))
            .run();
    assertFalse(verdict.isPass(), name);
    assertEquals(List.of("pclk", "gclk"), verdict.findings().layout().controls().subList(0, 2));
    boolean alone = false;
    for (Row row : verdict.rows()) {
      int both = row.controls().get(0).intValue() + row.controls().get(1).intValue();
      assertTrue(both > 0, "a row ends where a clock rises");
      alone |= both == 1;
    }
    assertTrue(alone, verdict::facts);
    Path evidence = verdict.evidenceFolder().orElseThrow();
    String table = Files.readString(evidence.resolve("mismatch.csv"));
    assertTrue(table.lines().findFirst().orElseThrow().contains("pclk,gclk,prst_n,put"), table);
    assertTrue(Files.exists(evidence.resolve("waveform.vcd")));
    assertFalse(verdict.facts().contains("could not be looked at"), verdict::facts);
  }

  @Test
  void whatNoRegisterTellsHasToBeDeclared() {
    ContractException refused =
        assertThrows(
            ContractException.class,
            () ->
                Bench.of(MODEL)
                    .contract(contract().clocks("pclk", "hclk").build())
                    .options(clocks(10, 17, 0))
                    .build());
    assertTrue(refused.getMessage().contains("\"hclk\""), refused.getMessage());
  }
}
