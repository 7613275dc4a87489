package dev.plumbline.samples;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.evidence.CsvTable;
import dev.plumbline.lockstep.LockstepBench;
import dev.plumbline.report.Run;
import dev.plumbline.verdict.Verdict;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Faults of the scene executor and its span combiner, each in a copy of the RTL: the lockstep has
 * to see them. A few by default; all with {@code -Dplumbline.everyFault=true}, as every night.
 */
@Execution(ExecutionMode.CONCURRENT)
class SceneFaultsTest {
  private static final long RAYS = 20_000;
  private static final long CASES = 20_000; // of the combiner alone

  private static final String TOLD = "span-combiner-surface-of-the-right-on-equal-ends";

  /** The executor drops what its combiner goes on with after a reset. */
  private static final String HIDDEN = "span-combiner-reset-leaves-busy";

  private static final Set<String> USUAL =
      Set.of(
          "scene-executor-flush-leaves-those-in-flight",
          "scene-executor-predictor-updated-twice",
          "scene-executor-any-hit-stops-early");

  @TempDir Path folder;

  static List<Fault> everyFault() {
    return Stream.of(SceneFaults.all(), SpanFaults.all()).flatMap(List::stream).toList();
  }

  private static boolean isEveryNight() {
    return Boolean.getBoolean("plumbline.everyFault");
  }

  static List<Fault> faults() {
    return everyFault().stream()
        .filter(fault -> !fault.name().equals(HIDDEN))
        .filter(fault -> isEveryNight() || USUAL.contains(fault.name()))
        .toList();
  }

  static List<Fault> combinerFaults() {
    return SpanFaults.all().stream()
        .filter(fault -> isEveryNight() || fault.name().equals(HIDDEN))
        .toList();
  }

  static LockstepBench.Builder planted(Fault fault, Path folder) throws IOException {
    SampleExecutor executor = SampleExecutor.SMALL;
    Path copy = Faults.plantedCopy(fault, folder);
    return executor
        .bench(CompiledDesign.of(executor.rtlIn(copy), PlantedFaultsTest.BRIEF))
        .threads(1)
        .withoutCoverage();
  }

  @ParameterizedTest
  @MethodSource("faults")
  void isCaught(Fault fault) throws IOException {
    Verdict verdict = planted(fault, folder.resolve("rtl")).cases(RAYS).run();
    assertEquals(Verdict.Outcome.MISMATCH, verdict.outcome(), () -> fault + ": " + fault.what());
  }

  @ParameterizedTest
  @MethodSource("combinerFaults")
  void isCaughtWithoutTheExecutorToo(Fault fault) throws IOException {
    SampleBench bench = SampleBenches.sharpest(fault.unit());
    Path copy = Faults.plantedCopy(fault, folder.resolve("rtl"));
    CompiledDesign model = CompiledDesign.of(bench.rtlIn(copy), PlantedFaultsTest.BRIEF);
    Verdict verdict = bench.of(model).cases(CASES).threads(1).run();
    assertEquals(Verdict.Outcome.MISMATCH, verdict.outcome(), () -> fault + ": " + fault.what());
  }

  @Test
  void theDivergenceIsToldWithProgramRayAndBothLists() throws IOException {
    Fault fault =
        everyFault().stream().filter(any -> any.name().equals(TOLD)).findFirst().orElseThrow();
    Run run = Run.open(folder.resolve("reports"), "told");
    Verdict verdict = planted(fault, folder.resolve("rtl")).recorder(run).cases(RAYS).run();

    assertEquals(Verdict.Outcome.MISMATCH, verdict.outcome());
    Path evidenceFolder = verdict.evidenceFolder().orElseThrow();
    String facts = Files.readString(evidenceFolder.resolve("facts.txt"));
    // The material is the right one's; both lists lie on one axis; the arrow is at a combination.
    assertTrue(facts.contains("  signal     retire_material["), facts);
    assertTrue(facts.matches("(?s).*\\n +-> \\d+ +(union|intersection|difference)\\n.*"), facts);
    assertTrue(facts.contains("  ray        origin "), facts);
    assertTrue(facts.matches("(?s).*\\n +expected +[\\[<]?=.*\\n +actual +[\\[<]?=.*"), facts);
    List<Map<String, String>> rows = CsvTable.read(evidenceFolder.resolve("mismatch.csv"));
    assertEquals(1, rows.stream().filter(row -> row.get("verdict").equals("value wrong")).count());
    assertEquals(
        Long.toString(verdict.first().orElseThrow().cycle()),
        rows.stream()
            .filter(row -> row.get("verdict").equals("value wrong"))
            .findFirst()
            .orElseThrow()
            .get("cycle"));
  }
}
