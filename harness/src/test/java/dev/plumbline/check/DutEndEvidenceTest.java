package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.DutEndedException;
import dev.plumbline.evidence.CaseFile;
import dev.plumbline.evidence.CsvTable;
import dev.plumbline.report.RunReport;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.verdict.KeptCase;
import dev.plumbline.verdict.MismatchGroup;
import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.Row;
import dev.plumbline.verdict.Verdict;
import java.math.BigInteger;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A DUT that ends by itself leaves the same folder as one with a mismatch. */
class DutEndEvidenceTest {
  private static final Path RTL = Path.of("src/test/rtl/checked/gear_train.sv");
  private static final String PLACE = "  assign out_valid   = valid_q[Latency-1];";

  @TempDir private Path folder;
  private final List<Verdict> recorded = new ArrayList<>();

  @Test
  void theRowsBeforeAFailedAssertionAreKept() throws Exception {
    String planted =
        "  always @(posedge clk) if (!rst && in_valid) assert (in_teeth != 8'd99);\n" + PLACE;
    Verdict verdict = ended(planted, DutEndedException.Kind.ASSERTION);
    Row last = verdict.rows().get(verdict.rows().size() - 1);
    assertEquals(BigInteger.valueOf(99), last.inputs().get(1));
    assertTrue(last.caseIn() >= 0);

    Path evidence;
    try (Stream<Path> kept = Files.list(folder.resolve("reports/night"))) {
      evidence = kept.filter(Files::isDirectory).findFirst().orElseThrow();
    }
    String facts = Files.readString(evidence.resolve("facts.txt"));
    assertTrue(facts.contains("  source     ") && facts.contains("gear_train.sv:"), facts);
    assertTrue(facts.contains("teeth = 0x63  99"), facts);
    List<Map<String, String>> rows = CsvTable.read(evidence.resolve("mismatch.csv"));
    Map<String, String> end = rows.get(rows.size() - 1);
    assertEquals("DUT ended", end.get("verdict"));
    assertEquals("0x63", end.get("in_teeth"));
    assertEquals("", end.get("out_angle"));
    assertTrue(rows.size() > 2 && rows.size() <= 34, rows::toString);
    assertEquals("1", rows.get(rows.size() - 1).get("in_valid"));
  }

  @Test
  void anEndComesDownToOneCaseThatEndsInTheSamePlace() throws Exception {
    String planted =
        "  always @(posedge clk) if (!rst && in_valid) assert (in_teeth < 8'd99);\n" + PLACE;
    Verdict verdict = ended(planted, DutEndedException.Kind.ASSERTION);
    MismatchGroup group = verdict.groups().get(0);
    assertTrue(
        group.words().matches("failed an assertion at .*gear_train\\.sv:\\d+"), group::words);
    assertEquals("1 case in 2 cycles, the reset included", group.size());
    KeptCase smallest = group.smallest().orElseThrow();
    List<String> names = smallest.columns().stream().map(KeptCase.Column::name).toList();
    List<BigInteger> row = smallest.cycles().get(1);
    assertEquals(0x80, row.get(names.indexOf("teeth")).intValue(), "the roundest of 99 and more");
    assertEquals(BigInteger.ZERO, row.get(names.indexOf("turns")), "of no matter");

    recorded.clear();
    Bench.Builder again =
        bench(PlantedDesign.of(RTL, folder.resolve("rtl"), PLACE, planted))
            .onlyCase("case-1.csv", CaseFile.parse(CaseFile.text(smallest), "case-1.csv"));
    assertThrows(DutEndedException.class, again::run);
    assertEquals(Verdict.Outcome.DUT_ENDED, recorded.get(0).outcome());
    Bench.Builder mended = bench(CompiledDesign.of(RtlSource.of(RTL)));
    assertTrue(mended.onlyCase("case-1.csv", smallest).run().isPass());
  }

  @Test
  void logicThatDoesNotSettleNamesTheSignalsThatOscillate() throws Exception {
    String planted =
        """
          logic [1:0] wobble;
          assign wobble[0] = in_valid && in_teeth == 8'd99 && !wobble[1];
          assign wobble[1] = wobble[0];
          assign out_valid = valid_q[Latency-1] && !(wobble[1] && rst);
        """;
    Verdict verdict = ended(planted, DutEndedException.Kind.NOT_SETTLED);
    String facts = verdict.facts();
    assertTrue(facts.contains("  oscillate  gear_train.wobble"), facts);
    assertTrue(facts.lines().noneMatch(line -> line.matches("  oscillate .*valid_q.*")), facts);
    assertEquals("1 case in 2 cycles, the reset included", verdict.groups().get(0).size());
  }

  @Test
  void theRowsBeforeAFinishAreKept() throws Exception {
    String planted =
        "  always @(posedge clk) if (!rst && in_valid && in_teeth == 8'd99) $finish;\n" + PLACE;
    Verdict verdict = ended(planted, DutEndedException.Kind.FINISH);
    Row last = verdict.rows().get(verdict.rows().size() - 1);
    assertEquals(BigInteger.valueOf(99), last.inputs().get(1));
    assertTrue(last.verdict().endsWith("DUT ended"), last::verdict);
  }

  private Verdict ended(String planted, DutEndedException.Kind kind) {
    Bench.Builder bench = bench(PlantedDesign.of(RTL, folder.resolve("rtl"), PLACE, planted));
    DutEndedException thrown = assertThrows(DutEndedException.class, bench::run);
    assertEquals(kind, thrown.kind());
    Verdict verdict = recorded.get(0);
    assertEquals(Verdict.Outcome.DUT_ENDED, verdict.outcome());
    List<Row> rows = verdict.rows();
    assertEquals(thrown.cycle(), rows.get(rows.size() - 1).cycle());
    return verdict;
  }

  private Bench.Builder bench(CompiledDesign design) {
    RunReport run = RunReport.open(folder.resolve("reports"), "night");
    Contract contract =
        Contract.of(Reference.exact(GearTrainRtlTest.datapath()))
            .valid("in_valid", "out_valid")
            .reset("rst")
            .latency(3)
            .build();
    return Bench.of(design)
        .named("gear train")
        .contract(contract)
        .cases(20_000)
        .recorder(
            new Recorder() {
              @Override
              public Optional<Path> record(Verdict verdict) {
                recorded.add(verdict);
                return run.record(verdict);
              }

              @Override
              public boolean keepsInside() {
                return true;
              }
            });
  }
}
