package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.DutEndedException;
import dev.plumbline.evidence.CsvTable;
import dev.plumbline.report.RunReport;
import dev.plumbline.verdict.Row;
import dev.plumbline.verdict.Verdict;
import java.math.BigInteger;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A DUT that ends by itself leaves the same folder as one with a mismatch. */
class DutEndEvidenceTest {
  private static final Path RTL = Path.of("src/test/rtl/checked/gear_train.sv");
  private static final String PLACE = "  assign out_valid   = valid_q[Latency-1];";

  @TempDir private Path folder;

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
  void theRowsBeforeAFinishAreKept() throws Exception {
    String planted =
        "  always @(posedge clk) if (!rst && in_valid && in_teeth == 8'd99) $finish;\n" + PLACE;
    Verdict verdict = ended(planted, DutEndedException.Kind.FINISH);
    Row last = verdict.rows().get(verdict.rows().size() - 1);
    assertEquals(BigInteger.valueOf(99), last.inputs().get(1));
    assertTrue(last.verdict().endsWith("DUT ended"), last::verdict);
  }

  private Verdict ended(String planted, DutEndedException.Kind kind) {
    CompiledDesign design = PlantedDesign.of(RTL, folder.resolve("rtl"), PLACE, planted);
    RunReport run = RunReport.open(folder.resolve("reports"), "night");
    List<Verdict> recorded = new ArrayList<>();
    Contract contract =
        Contract.of(Reference.exact(GearTrainRtlTest.datapath()))
            .valid("in_valid", "out_valid")
            .reset("rst")
            .latency(3)
            .build();
    Bench.Builder bench =
        Bench.of(design)
            .named("gear train")
            .contract(contract)
            .cases(20_000)
            .recorder(
                verdict -> {
                  recorded.add(verdict);
                  return run.record(verdict);
                });
    DutEndedException thrown = assertThrows(DutEndedException.class, bench::run);
    assertEquals(kind, thrown.kind());
    Verdict verdict = recorded.get(0);
    assertEquals(Verdict.Outcome.DUT_ENDED, verdict.outcome());
    List<Row> rows = verdict.rows();
    assertEquals(thrown.cycle(), rows.get(rows.size() - 1).cycle());
    return verdict;
  }
}
