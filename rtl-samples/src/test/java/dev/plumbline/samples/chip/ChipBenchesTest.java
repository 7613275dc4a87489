package dev.plumbline.samples.chip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.faults.Fault;
import dev.plumbline.regression.Regression;
import dev.plumbline.report.RunReport;
import dev.plumbline.samples.ChipBenches;
import dev.plumbline.samples.Night;
import dev.plumbline.samples.faults.ChipFaults;
import dev.plumbline.stimulus.SeedText;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.Verdict;
import java.nio.file.Path;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The benches of the blocks around the executor, as the regression runs them with more cases. */
@Tag("thorough")
class ChipBenchesTest {
  /** The others have tests of their own with all that. */
  private static final String HERE = "(ray_sequencer|frame_controller).*";

  private static final Path FOLDER = Path.of("target", "planted-in-benches").toAbsolutePath();
  private static final BuildOptions BRIEF = BuildOptions.defaults().withOptimisation(false);

  static List<ChipBenches.ChipBench> benches() {
    return ChipBenches.all().stream().filter(bench -> bench.name().matches(HERE)).toList();
  }

  /** One of each block, and every one at night. */
  static List<Fault> faults() {
    Set<String> blocks = new HashSet<>();
    return ChipFaults.all().stream()
        .filter(fault -> ChipFaults.block(fault).matches(HERE))
        .filter(
            fault ->
                blocks.add(ChipFaults.block(fault)) || Boolean.getBoolean("plumbline.everyFault"))
        .toList();
  }

  @ParameterizedTest
  @MethodSource("faults")
  void plantedFaultsAreSeen(Fault fault) {
    assumeTrue(Night.hasTimeForFaults(), "the night's time for planted faults is over");
    ChipBenches.ChipBench bench =
        ChipBenches.all().stream()
            .filter(any -> any.name().startsWith(ChipFaults.block(fault) + " "))
            .findFirst()
            .orElseThrow();
    CompiledDesign model =
        CompiledDesign.of(
            fault.plantedIn(bench.rtl(), FOLDER.resolve(fault.name())),
            BRIEF.withAssertions(false));

    // Camera and lamp follow from the seed.
    boolean seen =
        LongStream.rangeClosed(1, 6)
            .mapToObj(seed -> new Regression.Settings(100_000, seed, Recorder.none(), ""))
            .anyMatch(
                settings ->
                    bench.runner().run(model, bench.name(), settings).outcome()
                        == Verdict.Outcome.MISMATCH);

    assertTrue(seen, () -> fault + ": " + fault.what());
  }

  @ParameterizedTest
  @MethodSource("benches")
  void holdsToItsReference(ChipBenches.ChipBench bench) {
    Regression.Settings settings =
        new Regression.Settings(50_000, SeedText.ofRun(), RunReport.current(), "");

    Verdict verdict =
        bench.runner().run(CompiledDesign.of(bench.rtl(), BRIEF), bench.name(), settings);

    assertEquals(Verdict.Outcome.PASS, verdict.outcome(), () -> verdict.facts());
  }
}
