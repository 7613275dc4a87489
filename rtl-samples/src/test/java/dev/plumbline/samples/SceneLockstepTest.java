package dev.plumbline.samples;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.report.RunReport;
import dev.plumbline.stimulus.SeedText;
import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The scene executor and the model side by side: what the nightly run does with more rays. */
class SceneLockstepTest {
  private static final long RAYS = 4_096;

  static List<SampleExecutor> executors() {
    return SampleExecutor.all();
  }

  @ParameterizedTest
  @MethodSource("executors")
  void agreesOperationByOperationAndCycleByCycle(SampleExecutor executor) {
    executor
        .bench(CompiledDesign.of(executor.rtl()))
        .cases(RAYS)
        .seed(SeedText.ofRun())
        .recorder(RunReport.current())
        .check();
  }
}
