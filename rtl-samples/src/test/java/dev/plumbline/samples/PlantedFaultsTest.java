package dev.plumbline.samples;

import static org.junit.jupiter.api.Assertions.assertEquals;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.verdict.Verdict;
import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Every fault of the catalogue, in a copy of the RTL: the regression has to see it. */
@Execution(ExecutionMode.CONCURRENT)
class PlantedFaultsTest {
  /** Most faults show within these, for which a model need not be quick. */
  private static final long FEW = 8_192;

  private static final long CASES = 2_000_000;

  /** The RTL's own assertions would see some of them first; the checker has to see them all. */
  static final BuildOptions WITHOUT_ASSERTIONS = BuildOptions.defaults().withAssertions(false);

  /** For copies that run briefly. */
  static final BuildOptions BRIEF = WITHOUT_ASSERTIONS.withOptimisation(false);

  /** Stays for the next run, which then finds the builds of copies that are as they were. */
  private static final Path FOLDER = Path.of("target", "planted").toAbsolutePath();

  static List<Fault> faults() {
    return Faults.all();
  }

  @ParameterizedTest
  @MethodSource("faults")
  void isCaught(Fault fault) throws IOException {
    SampleBench bench = SampleBenches.sharpest(fault.unit());
    RtlSource copy = bench.rtlIn(Faults.plantedCopy(fault, FOLDER.resolve(fault.name())));
    boolean isSoonCaught = run(bench, copy, BRIEF, FEW) == Verdict.Outcome.MISMATCH;
    if (!isSoonCaught) {
      assertEquals(
          Verdict.Outcome.MISMATCH,
          run(bench, copy, WITHOUT_ASSERTIONS, CASES),
          () -> fault + ": " + fault.what());
    }
  }

  private static Verdict.Outcome run(
      SampleBench bench, RtlSource rtl, BuildOptions options, long cases) {
    return bench.of(CompiledDesign.of(rtl, options)).cases(cases).threads(1).run().outcome();
  }
}
