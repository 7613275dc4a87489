package dev.plumbline.samples.speed;

import com.sun.management.OperatingSystemMXBean;
import dev.plumbline.blocks.BoxBench;
import dev.plumbline.blocks.MultiplierBench;
import dev.plumbline.blocks.PlaneBench;
import dev.plumbline.blocks.ReciprocalBench;
import dev.plumbline.blocks.SphereBench;
import dev.plumbline.blocks.SquareRootBench;
import dev.plumbline.check.Bench;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.samples.SampleBenches;
import dev.plumbline.samples.SampleRtl;
import dev.plumbline.stimulus.Generator;
import dev.plumbline.stimulus.Stimulus;
import dev.plumbline.verdict.Verdict;
import java.io.IOException;
import java.io.OutputStream;
import java.io.PrintStream;
import java.lang.management.ManagementFactory;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.EnumMap;
import java.util.Map;

/**
 * The ready-made benches as they come, one thread, against a bare C++ loop over the same model. All
 * rates here are cycles a second of processor time, so that a busy machine matters little.
 */
final class RayBenchSpeeds {
  private static final Format WORD = Format.signed(16, 16);
  private static final Format DIRECTION = Format.signed(2, 16);
  private static final long CASES = 1_000_000;
  private static final String RATE = "cycles/cpu s";

  private final Speeds speeds;
  private final Path folder;
  private final int repetitions;
  private final PrintStream nowhere =
      new PrintStream(OutputStream.nullOutputStream(), false, StandardCharsets.UTF_8);

  RayBenchSpeeds(Speeds speeds, Path folder, int repetitions) {
    this.speeds = speeds;
    this.folder = folder;
    this.repetitions = repetitions;
  }

  /** How a bench is run. */
  private enum Way {
    AS_IT_COMES("bench as it comes"),
    UNCOUNTED("the same, coverage points not counted"),
    UNIFORM("the same, coverage points not counted, uniform cases");

    private final String what;

    Way(String what) {
      this.what = what;
    }
  }

  /** A ready-made bench of a unit. */
  private interface Ready {
    Verdict run(Bench.Builder bench, Way way);
  }

  void measure() throws IOException {
    measure(rtl("reciprocal"), this::reciprocal);
    measure(rtl("square_root"), this::squareRoot);
    measure(
        RtlSource.of(SampleRtl.FOLDER.resolve("split_multiply.sv"))
            .withTop("split_multiply")
            .withIncludeFolder(SampleRtl.FOLDER)
            .withLibraryFolder(SampleRtl.FOLDER),
        this::multiplier);
    measure(rtl("box_pipeline"), this::box);
    measure(rtl("sphere_pipeline"), this::sphere);
    measure(rtl("sphere_walker"), this::sphere);
    measure(rtl("plane_pipeline"), this::plane);
  }

  private static RtlSource rtl(String unit) {
    return SampleBenches.sharpest(unit).rtl();
  }

  private void measure(RtlSource rtl, Ready ready) throws IOException {
    CompiledDesign model = CompiledDesign.of(rtl);
    String unit = model.design().top();
    StockModel stock = new StockModel(rtl, model.design(), folder.resolve("rays-" + unit));
    stock.buildLoop();
    Sample bare = new Sample();
    Map<Way, Sample> ways = new EnumMap<>(Way.class);
    for (Way way : Way.values()) {
      ways.put(way, new Sample());
      rate(model, ready, way); // warm
    }
    for (int i = 0; i < repetitions; i++) {
      bare.add(stock.runOnProcessorTime(4 * CASES));
      for (Way way : Way.values()) {
        ways.get(way).add(rate(model, ready, way));
      }
    }
    speeds.add(unit, "bare C++ loop, random inputs, nothing checked", bare, RATE, 1, "");
    ways.forEach(
        (way, sample) ->
            speeds.add(unit, way.what, sample, RATE, sample.median() / bare.median(), ""));
  }

  /** Cycles a second of processor time, the measuring of the latency included. */
  private static double rate(CompiledDesign model, Ready ready, Way way) {
    long start = processorTime();
    Verdict verdict = ready.run(Bench.of(model).threads(1), way).orFail();
    return verdict.cycles() / ((processorTime() - start) / 1e9);
  }

  /** Nanoseconds of all threads. */
  static long processorTime() {
    return ((OperatingSystemMXBean) ManagementFactory.getOperatingSystemMXBean())
        .getProcessCpuTime();
  }

  private static Stimulus uniform() {
    return Stimulus.each(Generator.uniform());
  }

  private Verdict reciprocal(Bench.Builder builder, Way way) {
    ReciprocalBench bench = ReciprocalBench.of(builder).word(WORD).cases(CASES).printTo(nowhere);
    if (way != Way.AS_IT_COMES) {
      bench.withoutCoverage();
    }
    return way == Way.UNIFORM ? bench.stimulus(uniform()).run() : bench.run();
  }

  private Verdict squareRoot(Bench.Builder builder, Way way) {
    SquareRootBench bench = SquareRootBench.of(builder).word(WORD).cases(CASES).printTo(nowhere);
    if (way != Way.AS_IT_COMES) {
      bench.withoutCoverage();
    }
    return way == Way.UNIFORM ? bench.stimulus(uniform()).run() : bench.run();
  }

  private Verdict multiplier(Bench.Builder builder, Way way) {
    MultiplierBench bench =
        MultiplierBench.of(builder)
            .operands(Format.unsigned(32, 0), Format.unsigned(32, 0))
            .cases(CASES)
            .printTo(nowhere);
    if (way != Way.AS_IT_COMES) {
      bench.withoutCoverage();
    }
    return way == Way.UNIFORM ? bench.stimulus(uniform()).run() : bench.run();
  }

  private Verdict box(Bench.Builder builder, Way way) {
    BoxBench bench =
        BoxBench.of(builder).word(WORD).inverse(WORD).margin(2).cases(CASES).printTo(nowhere);
    if (way != Way.AS_IT_COMES) {
      bench.withoutCoverage();
    }
    return way == Way.UNIFORM ? bench.stimulus(uniform()).run() : bench.run();
  }

  private Verdict sphere(Bench.Builder builder, Way way) {
    SphereBench bench =
        SphereBench.of(builder).word(WORD).direction(DIRECTION).cases(CASES).printTo(nowhere);
    if (way != Way.AS_IT_COMES) {
      bench.withoutCoverage();
    }
    return way == Way.UNIFORM ? bench.stimulus(uniform()).run() : bench.run();
  }

  private Verdict plane(Bench.Builder builder, Way way) {
    PlaneBench bench =
        PlaneBench.of(builder).word(WORD).direction(DIRECTION).cases(CASES).printTo(nowhere);
    if (way != Way.AS_IT_COMES) {
      bench.withoutCoverage();
    }
    return way == Way.UNIFORM ? bench.stimulus(uniform()).run() : bench.run();
  }
}
