package dev.plumbline.samples.faults;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import dev.plumbline.evidence.CsvTable;
import dev.plumbline.faults.Fault;
import dev.plumbline.report.RunReport;
import dev.plumbline.samples.Night;
import dev.plumbline.samples.SampleExecutor;
import dev.plumbline.verdict.Verdict;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Faults of the span combiner within the scene executor: the lockstep has to see and report them.
 */
@Tag("thorough")
@Execution(ExecutionMode.CONCURRENT)
class SceneFaultsTest {
  private static final long RAYS = 20_000;
  private static final String EXAMPLE = "span-combiner-surface-of-the-right-on-equal-ends";

  /** The executor drops what its combiner goes on with after a reset. */
  private static final String HIDDEN = "span-combiner-reset-leaves-busy";

  @TempDir Path folder;

  /** One by default; all with {@code -Dplumbline.everyFault=true}, as every night. */
  static List<Fault> combinerFaults() {
    return SpanFaults.all().stream()
        .filter(fault -> !fault.name().equals(HIDDEN))
        .filter(
            fault ->
                Boolean.getBoolean("plumbline.everyFault")
                    || fault.name().equals("span-combiner-reversed-only-once"))
        .toList();
  }

  @ParameterizedTest
  @MethodSource("combinerFaults")
  void isCaughtThroughTheExecutorToo(Fault fault) {
    assumeTrue(Night.hasTimeForFaults(), "the night's time for planted faults is over");
    Verdict verdict = new Planting(fault, folder).within(SampleExecutor.SMALL, RAYS);
    assertEquals(Verdict.Outcome.MISMATCH, verdict.outcome(), () -> fault + ": " + fault.what());
  }

  @Test
  void theDivergenceIsReportedWithProgramRayAndBothLists() throws IOException {
    Fault fault =
        SpanFaults.all().stream()
            .filter(any -> any.name().equals(EXAMPLE))
            .findFirst()
            .orElseThrow();
    RunReport run = RunReport.open(folder.resolve("reports"), "reported");
    Verdict verdict =
        new Planting(fault, folder.resolve("rtl")).recorder(run).within(SampleExecutor.SMALL, RAYS);

    assertEquals(Verdict.Outcome.MISMATCH, verdict.outcome());
    Path evidenceFolder = verdict.evidenceFolder().orElseThrow();
    String facts = Files.readString(evidenceFolder.resolve("facts.txt"));
    // The surface is the right one's; both lists lie on one axis; the arrow is at a combination.
    assertTrue(facts.contains("  signal     retire_surface["), facts);
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
