package dev.plumbline.samples;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.report.RunReport;
import dev.plumbline.sweep.Sweep;
import dev.plumbline.verdict.Verdict;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;

/**
 * The exhaustive sweeps, {@code mvn -q test -Psweep}: every code of square_root and of reciprocal,
 * bit for bit. A sweep that was killed goes on where it was; finished ranges are kept in {@code
 * reports/sweeps}, and a change of RTL, models or harness starts anew.
 *
 * <p>Properties: {@code plumbline.sweeps}, the units; {@code plumbline.cases}, how much of each
 * sweep is wanted, all unless set, spread evenly over the codes; {@code plumbline.threads}. The
 * status is 0 when all of it holds.
 */
public final class SampleSweeps {
  private SampleSweeps() {}

  /**
   * Runs them.
   *
   * @param arguments none
   */
  public static void main(String[] arguments) {
    boolean passed = true;
    List<String> units =
        List.of(System.getProperty("plumbline.sweeps", "square_root,reciprocal").split(","));
    for (String unit : units) {
      passed &= run(SampleBenches.sharpest(unit.strip()));
    }
    System.out.println(RunReport.current().consoleTable());
    System.exit(passed ? 0 : 1);
  }

  private static boolean run(SampleBench bench) {
    Path folder = RunReport.current().folder().resolveSibling("sweeps");
    Sweep sweep = of(bench);
    Night.left(1).ifPresent(seconds -> sweep.within(Duration.ofMillis((long) (1e3 * seconds))));
    Optional<Verdict> verdict =
        sweep
            .threads(Integer.getInteger("plumbline.threads", 1))
            .recorder(RunReport.current())
            .repeat("mvn -q test -Psweep")
            .progress(System.out)
            .run(folder, Long.getLong("plumbline.cases", Long.MAX_VALUE));
    if (verdict.isEmpty()) {
      System.out.println(bench + ": all that is wanted is finished, see " + folder);
    }
    verdict
        .filter(found -> !found.isPass())
        .ifPresent(found -> System.out.println(System.lineSeparator() + found.facts()));
    return verdict.map(Verdict::isPass).orElse(true);
  }

  static Sweep of(SampleBench bench) {
    return Sweep.of(CompiledDesign.of(bench.rtl()), bench.contract()).named(bench.name());
  }
}
