package dev.plumbline.samples.faults;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.DutEndedException;
import dev.plumbline.evidence.CaseFile;
import dev.plumbline.evidence.CsvTable;
import dev.plumbline.faults.Fault;
import dev.plumbline.report.RunReport;
import dev.plumbline.samples.SampleExecutor;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.verdict.KeptCase;
import dev.plumbline.verdict.Verdict;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What a scene executor that is wrong, or ends by itself, leaves in its folder. */
@Tag("thorough")
class SceneEvidenceTest {
  @TempDir Path folder;

  @Test
  void aWrongDecisionLeavesItsKindItsStagesAndItsSmallestScene() throws IOException {
    Fault fault =
        SceneFaults.all().stream()
            .filter(any -> any.name().endsWith("tie-takes-the-later"))
            .findFirst()
            .orElseThrow();
    RunReport run = RunReport.open(folder.resolve("reports"), "reported");
    Verdict verdict =
        new Planting(fault, folder.resolve("rtl")).recorder(run).run(Planting.BRIEF, 1, 1_500);
    Path evidence = verdict.evidenceFolder().orElseThrow();
    String facts = Files.readString(evidence.resolve("facts.txt"));
    assertTrue(
        facts.contains("likely another decision: of surfaces as far the later is kept"), facts);
    assertTrue(facts.contains("agree: "), facts);
    assertTrue(facts.contains("first to differ: "), facts);
    List<Map<String, String>> stages = CsvTable.read(evidence.resolve("stages.csv"));
    assertTrue(
        stages.stream().anyMatch(row -> row.get("relation").equals("agrees")), stages::toString);
    Map<String, String> first =
        stages.stream()
            .filter(row -> row.get("relation").equals("differs"))
            .findFirst()
            .orElseThrow();
    // What the edit makes.
    assertTrue(first.get("signal").endsWith(".retirement.nearer"), first::toString);
    assertTrue(Files.size(evidence.resolve("waveform.vcd")) > 10_000);
    KeptCase kept = CaseFile.read(evidence.resolve("case-1.csv"));
    long solids = kept.operations().stream().filter(line -> line.contains(" material ")).count();
    assertTrue(solids <= 2, kept::toString);

    SampleExecutor executor = SampleExecutor.SMALL;
    Verdict fixed =
        executor
            .bench(CompiledDesign.of(executor.rtl(), Planting.BRIEF))
            .onlyCase("case-1.csv", kept)
            .run();
    assertTrue(fixed.isPass(), fixed::facts);
  }

  @Test
  void anEndByItselfLeavesItsSmallestSceneToo() throws IOException {
    Fault fault =
        Fault.of(
            "ends at overflow",
            "scene_retirement.sv",
            "assign retire_valid     = retires;",
            """
            assign retire_valid     = retires;
              always @(posedge clk) if (!rst && retires) assert (!retire_overflow);
            """);
    SampleExecutor executor = SampleExecutor.SMALL;
    CompiledDesign ending =
        CompiledDesign.of(
            fault.plantedIn(executor.rtl(), folder.resolve("rtl")),
            BuildOptions.defaults().withOptimisation(false));
    RunReport run = RunReport.open(folder.resolve("reports"), "ended");
    DutEndedException thrown =
        assertThrows(
            DutEndedException.class,
            () -> executor.bench(ending).withoutCoverage().cases(1_500).recorder(run).run());
    assertEquals(DutEndedException.Kind.ASSERTION, thrown.kind());
    Path evidence = folder.resolve("reports/ended/scene_executor_s8.8_small");
    String facts = Files.readString(evidence.resolve("facts.txt"));
    assertTrue(facts.contains("failed an assertion at "), facts);
    KeptCase kept = CaseFile.read(evidence.resolve("case-1.csv"));
    // Three solids apart from each other, and both unions of them: lists hold two spans.
    long operations = kept.operations().stream().filter(line -> !line.isEmpty()).count();
    assertTrue(operations <= 8, kept::toString);
    assertThrows(
        DutEndedException.class, () -> executor.bench(ending).onlyCase("case-1.csv", kept).run());
  }
}
