package dev.plumbline.samples;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.lockstep.LockstepBench;
import dev.plumbline.regression.Regression;
import dev.plumbline.stimulus.SeedText;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.verdict.Verdict;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;

/**
 * The main job: every sample bench, a line for each as it ends, its files under {@code reports/}.
 *
 * <p>Properties: {@code plumbline.cases} a bench (a million unless set; of rays through the scene
 * executor a hundredth, of pixels of a demo scene a quarter of that, of a bench in another format
 * and of one around the executor a tenth, of a pixel of a whole picture a thousandth), {@code
 * plumbline.seed}, a number or {@code date} for the day's, {@code plumbline.only}, parts of the
 * names of the benches to run, and {@code plumbline.formats}, how many formats of each block are
 * drawn by the seed (1 unless set). {@code plumbline.minutes} gives a time instead of cases, which
 * the benches share by need. The status is 0 when all is as it should be.
 */
public final class SampleRegression {
  private static final long CASES = 1_000_000;

  /**
   * A pixel takes some hundred cycles of the whole chip, which is as much work as so many cases.
   */
  private static final long CASES_OF_PIXEL = 1000;

  /** The share of a night after which the sweeps begin. */
  private static final double BEFORE_SWEEPS = 0.8;

  private SampleRegression() {}

  /**
   * Runs it.
   *
   * @param arguments none
   */
  public static void main(String[] arguments) {
    if (System.getProperty("plumbline.seed", "").equals("date")) {
      String today = LocalDate.now(ZoneOffset.UTC).format(DateTimeFormatter.BASIC_ISO_DATE);
      System.setProperty("plumbline.seed", today);
    }
    String seed = System.getProperty("plumbline.seed", "");
    Regression regression = Regression.fromProperties(CASES);
    Night.left(BEFORE_SWEEPS).ifPresent(regression::within);
    add(regression, seed.isBlank() ? 1 : SeedText.parse(seed));
    System.exit(regression.command("mvn -q test -Pregression").run());
  }

  private static void add(Regression regression, long seed) {
    for (SampleBench bench : SampleBenches.all()) {
      regression.bench(bench.name(), to -> run(bench, BuildOptions.defaults(), to.cases(), to));
    }
    int drawn = Integer.getInteger("plumbline.formats", 1);
    OtherFormats.fixed().forEach(bench -> addBrief(regression, bench));
    OtherFormats.drawn(seed, drawn).forEach(bench -> addBrief(regression, bench));
    for (ChipBenches.ChipBench bench : ChipBenches.all()) {
      regression.bench(
          bench.name(),
          to ->
              bench
                  .runner()
                  .run(
                      CompiledDesign.of(
                          bench.rtl(), BuildOptions.defaults().withOptimisation(false)),
                      bench.name(),
                      to));
    }
    for (SampleExecutor executor : SampleExecutor.all()) {
      regression.bench(
          executor.name(), to -> lockstep(executor.bench(CompiledDesign.of(executor.rtl())), to));
    }
    for (SampleScene scene : SampleScene.all()) {
      regression.bench(
          scene.toString(),
          to ->
              scene
                  .bench(SampleScene.model(), Math.max(1, to.cases() / 400))
                  .seed(to.seed())
                  .recorder(to.recorder())
                  .repeat(to.repeat())
                  .run());
    }
    Gallery.add(regression, CASES_OF_PIXEL);
  }

  /** A model that runs briefly is better built quickly. */
  private static void addBrief(Regression regression, SampleBench bench) {
    BuildOptions quick = BuildOptions.defaults().withOptimisation(false);
    regression.bench(bench.name(), to -> run(bench, quick, Math.max(1, to.cases() / 10), to));
  }

  private static Verdict run(
      SampleBench bench, BuildOptions options, long cases, Regression.Settings to) {
    return bench
        .of(CompiledDesign.of(bench.rtl(), options))
        .cases(cases)
        .seed(to.seed())
        .recorder(to.recorder())
        .repeat(to.repeat())
        .run();
  }

  /** A ray takes about a hundred cycles, so a hundredth of the cases takes as many. */
  private static Verdict lockstep(LockstepBench.Builder bench, Regression.Settings to) {
    long rays = Math.max(1, to.cases() / 100);
    if (rays < LockstepBench.COVERAGE_CASES) {
      bench.withoutCoverage();
    }
    return bench.cases(rays).seed(to.seed()).recorder(to.recorder()).repeat(to.repeat()).run();
  }
}
