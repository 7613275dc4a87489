package dev.plumbline.samples;

import static org.junit.jupiter.api.Assertions.assertEquals;

import dev.plumbline.build.BuildOptions;
import dev.plumbline.check.Verdict;
import dev.plumbline.cosim.Model;
import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Every fault of the catalogue, in a copy of the RTL: the regression has to see it. */
@Execution(ExecutionMode.CONCURRENT)
class PlantedFaultsTest {
  private static final long CASES = 2_000_000;

  /** The RTL's own assertions would see some of them first; the referee has to see them all. */
  private static final BuildOptions WITHOUT_ASSERTIONS =
      BuildOptions.defaults().withAssertions(false);

  @TempDir Path folder;

  static List<Fault> faults() {
    return Faults.all();
  }

  @ParameterizedTest
  @MethodSource("faults")
  void isCaught(Fault fault) throws IOException {
    SampleBench bench = SampleBenches.sharpest(fault.unit());
    Path copy = Faults.plantedCopy(fault, folder);
    Verdict verdict =
        bench.of(Model.of(bench.rtlIn(copy), WITHOUT_ASSERTIONS)).cases(CASES).threads(1).run();
    assertEquals(Verdict.Outcome.MISMATCH, verdict.outcome(), () -> fault + ": " + fault.what());
  }
}
