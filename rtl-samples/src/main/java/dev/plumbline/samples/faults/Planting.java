package dev.plumbline.samples.faults;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.faults.Fault;
import dev.plumbline.lockstep.LockstepBench;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.samples.SampleBench;
import dev.plumbline.samples.SampleBenches;
import dev.plumbline.samples.SampleExecutor;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.Verdict;
import java.nio.file.Path;
import java.util.Optional;

/** A fault in a copy of the RTL, and the bench that has to see it. */
final class Planting {
  /** The RTL's own assertions would see some of them first; the checker has to see them all. */
  static final BuildOptions WITHOUT_ASSERTIONS = BuildOptions.defaults().withAssertions(false);

  /** For copies that run briefly. */
  static final BuildOptions BRIEF = WITHOUT_ASSERTIONS.withOptimisation(false);

  private final Fault fault;
  private final Path folder;
  private long seed = 1;
  private Recorder recorder = Recorder.none();

  /** The copy goes into a folder that may be there already. */
  Planting(Fault fault, Path folder) {
    this.fault = fault;
    this.folder = folder;
  }

  Planting seed(long value) {
    seed = value;
    return this;
  }

  Planting recorder(Recorder keeper) {
    recorder = keeper;
    return this;
  }

  private Optional<SampleExecutor> executor() {
    return SampleExecutor.all().stream()
        .filter(executor -> executor.name().equals(fault.bench()))
        .findFirst();
  }

  /** The RTL as it stands, with the parameters of the bench. */
  RtlSource original() {
    return executor()
        .map(SampleExecutor::rtl)
        .orElseGet(() -> SampleBenches.named(fault.bench()).rtl());
  }

  RtlSource copy() {
    return fault.plantedIn(original(), folder);
  }

  /** Runs the bench over the copy; of rays through an executor as many as given. */
  Verdict run(BuildOptions options, long cases, long rays) {
    CompiledDesign model = CompiledDesign.of(copy(), options);
    Optional<SampleExecutor> executor = executor();
    if (executor.isPresent()) {
      return lockstep(executor.get().bench(model), rays);
    }
    SampleBench bench = SampleBenches.named(fault.bench());
    return bench.of(model).cases(cases).seed(seed).recorder(recorder).run();
  }

  /** The executor around a part of it, such as the span combiner. */
  Verdict within(SampleExecutor executor, long rays) {
    RtlSource planted = fault.plantedIn(executor.rtl(), folder);
    return lockstep(executor.bench(CompiledDesign.of(planted, BRIEF)), rays);
  }

  private Verdict lockstep(LockstepBench.Builder bench, long rays) {
    return bench.withoutCoverage().threads(1).cases(rays).seed(seed).recorder(recorder).run();
  }
}
