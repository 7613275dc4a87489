package dev.plumbline.samples.speed;

import dev.plumbline.cosim.Batch;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.report.RunReport;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import dev.plumbline.samples.SampleBench;
import dev.plumbline.samples.SampleBenches;
import dev.plumbline.stimulus.Generator;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.stimulus.Stimulus;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;

/**
 * Measures Plumbline side by side with a bare C++ loop over the same model, in one run: {@code mvn
 * -q test -Pbenchmark}. Everything is reported as median, least and most, and as a ratio to the
 * bare loop.
 */
final class Benchmark {
  private static final int REPETITIONS = Integer.getInteger("plumbline.repetitions", 7);
  private static final long CASES = 4_000_000;
  static final int ROWS = 4096;

  private final Speeds speeds = new Speeds();
  private final Path folder;

  private Benchmark(Path folder) {
    this.folder = folder;
  }

  /**
   * Runs the parts named, or all: throughput, isolated, rays, stateful, scene, frame, edit, watch,
   * size, shake, memory.
   */
  public static void main(String[] arguments) throws IOException {
    List<String> parts =
        List.of(
            System.getProperty(
                    "plumbline.parts",
                    "throughput,isolated,rays,stateful,scene,frame,edit,watch,size,shake,memory")
                .split(","));
    // Rates are those of long runs; whatever measures how soon something runs says so itself.
    System.setProperty("plumbline.optimised", "first");
    Path folder = Files.createTempDirectory("plumbline-bench");
    Benchmark benchmark = new Benchmark(folder);
    try {
      if (parts.contains("throughput")) {
        benchmark.throughput("box_pipeline");
        benchmark.throughput("reciprocal");
        benchmark.throughput("square_root");
      }
      if (parts.contains("isolated")) {
        new IsolationCost(benchmark.speeds, REPETITIONS).measure();
      }
      if (parts.contains("scene")) {
        new SceneRates(benchmark.speeds, folder, REPETITIONS).measure();
      }
      if (parts.contains("frame")) {
        new FrameRates(benchmark.speeds, folder, REPETITIONS).measure();
      }
      if (parts.contains("rays")) {
        new RayBenchSpeeds(benchmark.speeds, folder, REPETITIONS).measure();
      }
      if (parts.contains("stateful")) {
        new StatefulRates(benchmark.speeds, folder, REPETITIONS).measure();
      }
      if (parts.contains("edit")) {
        new EditTimes(benchmark.speeds, folder, REPETITIONS).measure();
      }
      if (parts.contains("watch")) {
        WatchedEdits.measure(benchmark.speeds, folder, REPETITIONS);
      }
      if (parts.contains("size")) {
        new SizeCosts(benchmark.speeds, folder).measure();
      }
      if (parts.contains("shake")) {
        new ShakeRates(benchmark.speeds, folder, REPETITIONS).measure();
      }
      if (parts.contains("memory")) {
        new LongRun(benchmark.speeds).measure();
      }
    } finally {
      benchmark.speeds.writeTo(RunReport.current().folder().resolve("benchmark.csv"));
      StockModel.command(List.of("rm", "-rf", folder.toString()));
    }
  }

  /** Checked, batch and call-by-call rates against the bare loop, measured in turn. */
  private void throughput(String unit) throws IOException {
    SampleBench bench = SampleBenches.sharpest(unit);
    CompiledDesign model = CompiledDesign.of(bench.rtl());
    StockModel stock = new StockModel(bench.rtl(), model.design(), folder.resolve(unit));
    stock.buildLoop();

    Sample bare = new Sample();
    Sample batch = new Sample();
    Sample one = new Sample();
    Sample two = new Sample();
    Sample single = new Sample();
    Sample calls = new Sample();
    try (Dut dut = model.open();
        SignalCalls signals = new SignalCalls(stock.buildCalls(), model.design())) {
      Batch rows = filled(dut, model.design());
      checked(bench, model, 1, CASES / 2); // warm
      checked(bench, model, 2, CASES / 2);
      batch(dut, rows, CASES / 2);
      for (int i = 0; i < REPETITIONS; i++) {
        bare.add(stock.run(CASES));
        batch.add(batch(dut, rows, CASES));
        one.add(checked(bench, model, 1, CASES));
        two.add(checked(bench, model, 2, 2 * CASES));
        single.add(singleCycles(dut, model.design(), CASES / 40));
        calls.add(signals.run(CASES / 100));
      }
    }
    double base = bare.median();
    boolean box = unit.equals("box_pipeline");
    String rate = "cycles/s";
    speeds.add(unit, "bare C++ loop, random inputs, nothing checked", bare, rate, 1, "");
    row(unit, "batch path, no reference, one thread", batch, base, box ? "0.9" : "");
    row(unit, "checked, one thread", one, base, box ? "0.6" : "");
    row(unit, "checked, two threads", two, base, box ? "1.1" : "");
    row(unit, "one call a cycle (set, cycle, get)", single, base, "");
    row(unit, "a JNA call for every signal", calls, base, "");
  }

  private void row(String unit, String what, Sample sample, double base, String target) {
    speeds.add(unit, what, sample, "cycles/s", sample.median() / base, target);
  }

  /** All four jobs: stimulus, DUT, reference, comparison. Checked cases a second. */
  static double checked(SampleBench bench, CompiledDesign model, int threads, long cases) {
    long start = System.nanoTime();
    bench
        .of(model)
        .stimulus(Stimulus.each(Generator.uniform()))
        .pacing(Pacing.backToBack())
        .initialStates(0)
        .resets(0)
        .threads(threads)
        .cases(cases)
        .check();
    return cases / ((System.nanoTime() - start) / 1e9);
  }

  static Batch filled(Dut dut, Design design) {
    return filled(dut, design, Set.of());
  }

  /** Random bits for every data input but those that stay low, and room for every output. */
  static Batch filled(Dut dut, Design design, Set<String> low) {
    Batch batch = dut.batch(ROWS);
    for (Port port : design.ports()) {
      for (int word = 0; word < port.words(); word++) {
        if (port.direction() == Port.Direction.OUTPUT) {
          batch.column(port.name(), word);
        }
      }
    }
    fill(batch, design, low, RandomStream.of(5));
    return batch;
  }

  /** The next random bits for every data input but those that stay low. */
  static void fill(Batch batch, Design design, Set<String> low, RandomStream stream) {
    for (Port port : design.ports()) {
      if (StockModel.isData(port) && !low.contains(port.name())) {
        for (int word = 0; word < port.words(); word++) {
          long[] column = batch.column(port.name(), word);
          long mask = -1L >>> Math.max(0, Long.SIZE * (word + 1) - port.width());
          for (int row = 0; row < ROWS; row++) {
            column[row] = stream.next() & mask;
          }
        }
      }
    }
  }

  /** One native call for thousands of cycles; the columns are sent and fetched each time. */
  static double batch(Dut dut, Batch batch, long cycles) {
    long start = System.nanoTime();
    long done = 0;
    while (done < cycles) {
      done += dut.run(batch, ROWS);
    }
    // Whole batches, of which a large design may need only a few.
    return done / ((System.nanoTime() - start) / 1e9);
  }

  private static double singleCycles(Dut dut, Design design, long cycles) {
    List<String> inputs = new ArrayList<>();
    List<String> outputs = new ArrayList<>();
    List<Long> masks = new ArrayList<>();
    for (Port port : design.ports()) {
      if (StockModel.isData(port)) {
        inputs.add(port.name());
        masks.add(port.signed() ? StockModel.mask(port) >>> 1 : StockModel.mask(port));
      } else if (port.direction() == Port.Direction.OUTPUT) {
        outputs.add(port.name());
      }
    }
    RandomStream stream = RandomStream.of(6);
    long sum = 0;
    long start = System.nanoTime();
    for (long cycle = 0; cycle < cycles; cycle++) {
      for (int i = 0; i < inputs.size(); i++) {
        dut.set(inputs.get(i), stream.next() & masks.get(i));
      }
      dut.cycle();
      for (String output : outputs) {
        sum += dut.get(output);
      }
    }
    double seconds = (System.nanoTime() - start) / 1e9;
    if (sum == 42) {
      System.out.println(); // the sum is used
    }
    return cycles / seconds;
  }
}
