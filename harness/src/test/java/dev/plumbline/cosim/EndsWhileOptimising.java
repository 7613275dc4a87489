package dev.plumbline.cosim;

import dev.plumbline.rtl.RtlSource;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.toolchain.BuildOptions.Optimisation;
import java.nio.file.Path;
import java.util.concurrent.Future;

/** Ends while the fast library of a model is compiled; prints the compiler's process first. */
public final class EndsWhileOptimising {
  private EndsWhileOptimising() {}

  public static void main(String[] arguments) throws InterruptedException {
    RtlSource source = RtlSource.of(Path.of(arguments[0]));
    CompiledDesign model =
        CompiledDesign.of(source, BuildOptions.defaults().withOptimisation(Optimisation.LATER));
    model.file();
    Future<?> optimising = model.tiers().optimise();
    ProcessHandle self = ProcessHandle.current();
    while (!optimising.isDone() && self.descendants().noneMatch(EndsWhileOptimising::compiles)) {
      Thread.sleep(1);
    }
    self.descendants().forEach(program -> System.out.println(program.pid()));
  }

  private static boolean compiles(ProcessHandle program) {
    return program.info().command().orElse("").contains("cc1plus");
  }
}
