package dev.plumbline.samples;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.report.Run;
import dev.plumbline.stimulus.SeedText;
import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Every sample block in every format at every level: what the nightly run does with more cases. */
class SampleRegressionTest {
  private static final long CASES = Long.getLong("plumbline.cases", 300_000);

  static List<SampleBench> benches() {
    return SampleBenches.all();
  }

  @ParameterizedTest
  @MethodSource("benches")
  void holdsToItsReference(SampleBench bench) {
    bench
        .of(CompiledDesign.of(bench.rtl()))
        .cases(CASES)
        .seed(SeedText.ofRun())
        .recorder(Run.current())
        .check();
  }
}
