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
 * The ready-made benches as they come, against a bare C++ loop over the same model. Rates on one
 * thread are cycles a second of processor time, so that a busy machine matters little, compilation
 * to machine code while they run among it; those on two threads are by the wall clock.
 */
final class RayBenchSpeeds {
  private static final Format WORD = Format.signed(16, 16);
  private static final Format DIRECTION = Format.signed(2, 16);
  private static final long BRIEF = 100_000; // cases, as a bench has unless told otherwise
  private static final long SOME = 1_000_000;
  private static final long LONG = 10_000_000;
  private static final long CYCLES = 4_000_000; // of the bare loop
  private static final long LEAST = 300_000_000; // ns; processor time comes in steps of 10 ms
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
    LONG_RUN("bench as it comes, a long run", LONG),
    AS_IT_COMES("the same, a million cases at most", SOME),
    BRIEF_RUN("the same, 100,000 cases", BRIEF),
    UNCOUNTED("a million at most, coverage points not counted", SOME),
    UNIFORM("a million uniform cases at most, none counted", SOME);

    private final String what;
    private final long cases;

    Way(String what, long cases) {
      this.what = what;
      this.cases = cases;
    }

    boolean isCounted() {
      return this != UNCOUNTED && this != UNIFORM;
    }
  }

  /** A ready-made bench of a unit. */
  private interface Ready {
    Verdict run(Bench.Builder bench, Way way, long cases);
  }

  void measure() throws IOException {
    measure(rtl("reciprocal"), this::reciprocal, 1, "0.6");
    measure(rtl("square_root"), this::squareRoot, 1, "0.6");
    measure(
        RtlSource.of(SampleRtl.FOLDER.resolve("split_multiply.sv"))
            .withTop("split_multiply")
            .withIncludeFolder(SampleRtl.FOLDER)
            .withLibraryFolder(SampleRtl.FOLDER),
        this::multiplier,
        1,
        "0.4");
    measure(rtl("box_pipeline"), this::box, 1, "0.6");
    measure(rtl("sphere_pipeline"), this::sphere, 1, "0.6");
    measure(rtl("sphere_walker"), this::sphere, 10, "0.6"); // some 50 cycles a case
    measure(rtl("plane_pipeline"), this::plane, 1, "0.6");
  }

  private static RtlSource rtl(String unit) {
    return SampleBenches.sharpest(unit).rtl();
  }

  /**
   * @param fewer so many times fewer cases are a long run
   */
  private void measure(RtlSource rtl, Ready ready, int fewer, String target) throws IOException {
    long most = LONG / fewer;
    CompiledDesign model = CompiledDesign.of(rtl);
    String unit = model.design().top();
    if (!unit.contains(System.getProperty("plumbline.only", ""))) {
      return;
    }
    StockModel stock = new StockModel(rtl, model.design(), folder.resolve("rays-" + unit));
    stock.buildLoop();
    Sample bare = new Sample();
    Sample bareByClock = new Sample();
    Sample twoThreads = new Sample();
    Map<Way, Sample> ways = new EnumMap<>(Way.class);
    for (Way way : Way.values()) {
      ways.put(way, new Sample());
      rate(model, ready, way, Math.min(way.cases, most)); // warm
    }
    for (int i = 0; i < repetitions; i++) {
      bare.add(stock.runOnProcessorTime(CYCLES));
      for (Way way : Way.values()) {
        ways.get(way).add(rate(model, ready, way, Math.min(way.cases, most)));
      }
      bareByClock.add(stock.run(CYCLES));
      twoThreads.add(rateOfTwo(model, ready, most));
    }
    speeds.add(unit, "bare C++ loop, random inputs, nothing checked", bare, RATE, 1, "");
    ways.forEach(
        (way, sample) ->
            speeds.add(
                unit,
                way.what,
                sample,
                RATE,
                sample.median() / bare.median(),
                way == Way.LONG_RUN ? target : ""));
    speeds.add(unit, "bare C++ loop, by the wall clock", bareByClock, "cycles/s", 1, "");
    double ratio = twoThreads.median() / bareByClock.median();
    speeds.add(unit, "a long run on two threads", twoThreads, "cycles/s", ratio, "1.1");
  }

  /** Cycles a second of processor time, the measuring of the latency included; brief runs again. */
  private static double rate(CompiledDesign model, Ready ready, Way way, long cases) {
    long start = processorTime();
    long cycles = 0;
    long taken;
    do {
      cycles += ready.run(Bench.of(model).threads(1), way, cases).orFail().cycles();
      taken = processorTime() - start;
    } while (taken < LEAST);
    return cycles / (taken / 1e9);
  }

  /** Cycles a second by the wall clock. */
  private static double rateOfTwo(CompiledDesign model, Ready ready, long cases) {
    long start = System.nanoTime();
    Verdict verdict = ready.run(Bench.of(model).threads(2), Way.LONG_RUN, cases).orFail();
    return verdict.cycles() / ((System.nanoTime() - start) / 1e9);
  }

  /** Nanoseconds of all threads. */
  static long processorTime() {
    return ((OperatingSystemMXBean) ManagementFactory.getOperatingSystemMXBean())
        .getProcessCpuTime();
  }

  private static Stimulus uniform() {
    return Stimulus.each(Generator.uniform());
  }

  private Verdict reciprocal(Bench.Builder builder, Way way, long cases) {
    ReciprocalBench bench = ReciprocalBench.of(builder).word(WORD).cases(cases).printTo(nowhere);
    if (!way.isCounted()) {
      bench.withoutCoverage();
    }
    return way == Way.UNIFORM ? bench.stimulus(uniform()).run() : bench.run();
  }

  private Verdict squareRoot(Bench.Builder builder, Way way, long cases) {
    SquareRootBench bench = SquareRootBench.of(builder).word(WORD).cases(cases).printTo(nowhere);
    if (!way.isCounted()) {
      bench.withoutCoverage();
    }
    return way == Way.UNIFORM ? bench.stimulus(uniform()).run() : bench.run();
  }

  private Verdict multiplier(Bench.Builder builder, Way way, long cases) {
    MultiplierBench bench =
        MultiplierBench.of(builder)
            .operands(Format.unsigned(32, 0), Format.unsigned(32, 0))
            .cases(cases)
            .printTo(nowhere);
    if (!way.isCounted()) {
      bench.withoutCoverage();
    }
    return way == Way.UNIFORM ? bench.stimulus(uniform()).run() : bench.run();
  }

  private Verdict box(Bench.Builder builder, Way way, long cases) {
    BoxBench bench =
        BoxBench.of(builder).word(WORD).inverse(WORD).margin(2).cases(cases).printTo(nowhere);
    if (!way.isCounted()) {
      bench.withoutCoverage();
    }
    return way == Way.UNIFORM ? bench.stimulus(uniform()).run() : bench.run();
  }

  private Verdict sphere(Bench.Builder builder, Way way, long cases) {
    SphereBench bench =
        SphereBench.of(builder).word(WORD).direction(DIRECTION).cases(cases).printTo(nowhere);
    if (!way.isCounted()) {
      bench.withoutCoverage();
    }
    return way == Way.UNIFORM ? bench.stimulus(uniform()).run() : bench.run();
  }

  private Verdict plane(Bench.Builder builder, Way way, long cases) {
    PlaneBench bench =
        PlaneBench.of(builder).word(WORD).direction(DIRECTION).cases(cases).printTo(nowhere);
    if (!way.isCounted()) {
      bench.withoutCoverage();
    }
    return way == Way.UNIFORM ? bench.stimulus(uniform()).run() : bench.run();
  }
}
