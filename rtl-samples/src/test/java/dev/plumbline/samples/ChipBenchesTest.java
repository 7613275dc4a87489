package dev.plumbline.samples;

import static org.junit.jupiter.api.Assertions.assertEquals;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.regression.Regression;
import dev.plumbline.report.RunReport;
import dev.plumbline.stimulus.SeedText;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.verdict.Verdict;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The benches of the blocks around the executor, as the regression runs them with more cases. */
@Tag("thorough")
class ChipBenchesTest {
  private static final BuildOptions BRIEF = BuildOptions.defaults().withOptimisation(false);

  static List<ChipBenches.ChipBench> benches() {
    return ChipBenches.all();
  }

  @ParameterizedTest
  @MethodSource("benches")
  void holdsToItsReference(ChipBenches.ChipBench bench) {
    Regression.Settings settings =
        new Regression.Settings(100_000, SeedText.ofRun(), RunReport.current(), "");

    Verdict verdict =
        bench.runner().run(CompiledDesign.of(bench.rtl(), BRIEF), bench.name(), settings);

    assertEquals(Verdict.Outcome.PASS, verdict.outcome(), () -> verdict.facts());
  }
}
