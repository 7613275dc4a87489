package dev.plumbline.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.DutEndedException;
import dev.plumbline.evidence.CsvTable;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.report.RunReport;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.verdict.Verdict;
import dev.plumbline.verdict.WaveformRequest;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/** What a mismatch leaves of the inside of its DUT: the first wrong stage, the waveform. */
@Execution(ExecutionMode.CONCURRENT)
class InsideEvidenceTest {
  private static final CompiledDesign MODEL =
      CompiledDesign.of(
          RtlSource.of(Path.of("src/test/rtl/inside/ratio.sv")).withTop("ratio"),
          BuildOptions.defaults().withOptimisation(false));

  @TempDir private Path folder;

  private static Bench.Builder bench(int fault) {
    Format turns = Format.signed(8, 8);
    Datapath.Builder b = Datapath.named("ratio");
    Value angle = b.input("in_angle", turns);
    Value ratio = b.input("in_ratio", Format.signed(4, 12));
    Value product = b.multiply("product", angle, ratio);
    Value turned =
        b.convert("turned", product, Format.signed(12, 8), Rounding.FLOOR, Overflow.WRAP);
    b.output("out_sum", b.add("sum", turned, angle), Format.signed(13, 8));
    Contract contract =
        Contract.of(Reference.exact(b.build()))
            .valid("in_valid", "out_valid")
            .reset("rst")
            .hold("fault", fault)
            .latency(3)
            .build();
    return Bench.of(MODEL).contract(contract).cases(2000);
  }

  private Verdict run(int fault) {
    return bench(fault).recorder(RunReport.open(folder, "run")).run();
  }

  @Test
  void stageWhoseRoundingIsWrongIsNamedWithBothValues() throws Exception {
    Verdict verdict = run(1);
    assertEquals(Verdict.Outcome.MISMATCH, verdict.outcome());
    String facts = verdict.facts();
    assertTrue(facts.contains("first wrong: ratio.turned_s2_q ("), facts);
    assertTrue(facts.contains("with it for turned the reference gives what the DUT gave"), facts);
    assertTrue(facts.contains("steps agree up to product (ratio.product_s1_q, "), facts);
    assertTrue(facts.contains("part at turned (ratio.turned_s2_q, "), facts);
    assertTrue(facts.contains("ratio.sv:16, after 2 cycles)"), facts);
    List<Map<String, String>> stages =
        CsvTable.read(verdict.evidenceFolder().orElseThrow().resolve("stages.csv"));
    assertEquals(
        List.of("in_angle", "in_ratio", "product", "turned", "sum"),
        stages.stream().map(stage -> stage.get("step")).toList());
    Map<String, String> turned = stages.get(3);
    assertEquals("differs", turned.get("relation"));
    // The fault adds one LSB of 8 fraction bits.
    double off =
        Double.parseDouble(turned.get("actual_real"))
            - Double.parseDouble(turned.get("expected_real"));
    assertEquals(1.0 / 256, off);
    assertEquals("agrees", stages.get(2).get("relation"));
    assertEquals("1", stages.get(2).get("cycles"));
    String page = Files.readString(folder.resolve("run/index.html"));
    assertTrue(page.contains("Steps of the reference inside the DUT"), page);
    assertTrue(page.contains("ratio.turned_s2_q"), page);
    assertTrue(page.contains("Mismatches that are alike"), page);
  }

  @Test
  void registerInWhichDifferentCasesMeetIsNamed() {
    String facts = run(2).facts();
    assertTrue(facts.contains("first wrong: ratio."), facts);
    assertTrue(facts.contains("different cases meet at ratio.out_sum ("), facts);
    assertTrue(facts.contains("ratio.turned_s2_q after 2"), facts);
    assertTrue(facts.contains("ratio.waited after 1"), facts);
  }

  @Test
  void waveformShowsRightAndWrongSideBySide() throws Exception {
    Verdict verdict = run(1);
    Path file = verdict.evidenceFolder().orElseThrow().resolve("waveform.vcd");
    Dump dump = Dump.of(Files.readString(file));
    long cycle = verdict.kept().get(0).cycle();
    assertEquals(
        verdict.kept().get(0).actual().intValue() & 0x1fffff,
        dump.number("ratio.out_sum", cycle).orElseThrow());
    assertEquals(
        verdict.kept().get(0).low().intValue() & 0x1fffff,
        dump.number("reference.expected.out_sum", cycle).orElseThrow());
    assertEquals(1, dump.number("reference.expected.out_sum_wrong", cycle).orElseThrow());
    int is = dump.number("ratio.turned_s2_q", cycle - 1).orElseThrow();
    assertEquals(is - 1, dump.number("reference.steps.turned", cycle - 1).orElseThrow());
    assertEquals(
        dump.number("ratio.product_s1_q", cycle - 2),
        dump.number("reference.steps.product", cycle - 2));
    assertTrue(dump.has("ratio.waiting.second_q"));
  }

  @Test
  void waveformIsReadByTheConverterOfAViewer() throws Exception {
    Dump.assumeConverter();
    Path file = run(1).evidenceFolder().orElseThrow().resolve("waveform.vcd");
    Dump own = Dump.of(Files.readString(file));
    Dump converted = Dump.of(Dump.convertedAndBack(file, folder));
    assertEquals(own.changes(), converted.changes());
  }

  @Test
  void dutThatEndsByItselfLeavesAWaveform() throws Exception {
    assertThrows(DutEndedException.class, () -> run(3));
    Path file;
    try (var folders = Files.list(folder.resolve("run"))) {
      file = folders.filter(Files::isDirectory).findFirst().orElseThrow().resolve("waveform.vcd");
    }
    Dump dump = Dump.of(Files.readString(file));
    long last = dump.lastCycle();
    assertEquals(9, dump.number("ratio.out_sum", last).orElseThrow() & 0xf);
  }

  @Test
  void passLeavesOneOnRequestAndNothingElse() throws Exception {
    RunReport report = RunReport.open(folder, "run");
    Verdict plain = bench(0).recorder(report).run();
    assertTrue(plain.isPass());
    assertEquals(Optional.empty(), plain.evidenceFolder());
    Verdict asked =
        bench(0)
            .recorder(report)
            .waveform(new WaveformRequest(10, 29, List.of("ratio.waiting")))
            .run();
    Path kept = asked.evidenceFolder().orElseThrow();
    assertFalse(Files.exists(kept.resolve("mismatch.csv")));
    Dump dump = Dump.of(Files.readString(kept.resolve("waveform.vcd")));
    assertTrue(dump.has("ratio.waiting.first_q"));
    assertFalse(dump.has("ratio.turned_s2_q"));
    assertEquals(29, dump.lastCycle());
  }

  @Test
  void sameSeedSameBytes() throws Exception {
    byte[] first =
        Files.readAllBytes(run(1).evidenceFolder().orElseThrow().resolve("waveform.vcd"));
    byte[] again =
        Files.readAllBytes(run(1).evidenceFolder().orElseThrow().resolve("waveform.vcd"));
    assertEquals(-1, java.util.Arrays.mismatch(first, again));
  }

  @Test
  void recorderThatKeepsNothingBuildsNoProbe() {
    assertEquals(Optional.empty(), bench(1).run().findings().inside().waveform());
  }

  @Test
  void requestThatIsNoneIsRefused() {
    IllegalArgumentException e =
        assertThrows(IllegalArgumentException.class, () -> WaveformRequest.parse("all"));
    assertEquals(
        "A waveform was asked for by \"all\"; allowed is FIRST-LAST in cycles, and scopes behind"
            + " it, as in \"0-200 gear.wheel\".",
        e.getMessage());
    assertThrows(IllegalArgumentException.class, () -> WaveformRequest.parse("9-3"));
  }
}
