package dev.plumbline.samples.speed;

import dev.plumbline.cosim.Batch;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.samples.SampleExecutor;
import dev.plumbline.samples.SampleRtl;
import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.toolchain.BuildOptions.Optimisation;
import dev.plumbline.toolchain.DesignBuilder;
import dev.plumbline.toolchain.Elaborator;
import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;

/** Build time and cycles a second against the size of a design, beside the stock build's. */
final class SizeCosts {
  private static final int PLACES = 3;
  private static final int REPETITIONS = 5;
  private static final double SECONDS = 0.25;
  private static final String CACHE = "plumbline.cache";

  /**
   * What Verilator's own -O3 adds. A hundred copies ran up to 5 % faster by it, ten 10 % slower,
   * and it takes three times as long to compile, so we do without.
   */
  private static final String INLINED = "bare C++ loop, every instance inlined";

  /**
   * Inputs of the scene executor that stay low, since its contract asks for it, and an assertion:
   * its program is written between rays alone. A program of zeros is a legal one, which ends every
   * ray at once; what real scenes run at is part {@code scene}. Rays are not aborted, or none would
   * get so far.
   */
  private static final Set<String> UNLOADED = Set.of("load_valid", "ray_abort");

  private static final int LAYERS = 8;
  private static final int NETWORK_WIDTH = 128;

  private final Speeds speeds;
  private final Path folder;

  /** One build, by the clock and by processor time. */
  private final class Build {
    private final Sample clock = new Sample();
    private final Sample processor = new Sample();

    Build(Spent.Work work) throws IOException {
      Spent spent = Spent.on(work);
      clock.add(spent.seconds());
      processor.add(spent.processorSeconds());
    }

    void report(String what, Build base, String target) {
      row(what, clock, base.clock.median(), "s", target);
      row(what, processor, base.processor.median(), "cpu s", target);
    }
  }

  SizeCosts(Speeds speeds, Path folder) {
    this.speeds = speeds;
    this.folder = folder;
  }

  void measure() throws IOException {
    Path file = folder.resolve("many_roots.sv");
    Files.writeString(
        file,
        """
        module many_roots #(
            parameter int unsigned COPIES = 1
        ) (
            input  logic               clk,
            input  logic               rst,
            input  logic               in_valid,
            input  logic signed [31:0] in_x,
            output logic signed [31:0] out_root
        );
          logic signed [31:0] roots[COPIES];
          for (genvar i = 0; i < COPIES; i++) begin : g_copy
            square_root root (
                .clk(clk),
                .rst(rst),
                .in_valid(in_valid),
                .in_x(in_x ^ 32'(i * 40503)),
                .out_valid(),
                .out_root(roots[i]),
                .out_negative()
            );
          end
          always_comb begin
            out_root = 0;
            for (int i = 0; i < COPIES; i++) out_root ^= roots[i];
          end
        endmodule
        """);
    RtlSource roots =
        RtlSource.of(file)
            .withTop("many_roots")
            .withIncludeFolder(SampleRtl.FOLDER)
            .withLibraryFolder(SampleRtl.FOLDER);
    warm(roots);
    for (int copies : new int[] {1, 10, 100}) {
      String what = "square_root, " + copies + (copies == 1 ? " copy" : " copies");
      measure(what, roots.withParameter("COPIES", Integer.toString(copies)), Set.of());
    }
    measure("scene_executor", SampleExecutor.STANDARD.rtl(), UNLOADED);
    measure(LAYERS + " exclusive-or networks", RtlSource.of(networks()), Set.of());
  }

  /** Each layer a product by a matrix over GF(2), as scramblers and codes have them. */
  private Path networks() throws IOException {
    RandomStream matrices = RandomStream.of(1);
    StringBuilder text =
        new StringBuilder("module networks (input wire clk, input wire [127:0] d, ");
    text.append("output wire [127:0] q);\nwire [127:0] w0 = d;\n");
    for (int layer = 1; layer <= LAYERS; layer++) {
      text.append("reg [127:0] w" + layer + ";\nalways @(posedge clk) begin\n");
      for (int bit = 0; bit < NETWORK_WIDTH; bit++) {
        List<String> terms = new ArrayList<>();
        for (int from = 0; from < NETWORK_WIDTH; from++) {
          if (matrices.next() < 0) {
            terms.add("w" + (layer - 1) + "[" + from + "]");
          }
        }
        text.append("  w" + layer + "[" + bit + "] <= " + String.join(" ^ ", terms) + ";\n");
      }
      text.append("end\n");
    }
    text.append("assign q = w" + LAYERS + ";\nendmodule\n");
    return Files.writeString(folder.resolve("networks.v"), text);
  }

  /**
   * Has made what a tool chain has once, and this JVM: the common headers, the run-time library,
   * classes. The first design would pay for it otherwise. The stock build has nothing of the kind:
   * it reads its headers and compiles its run-time library each time.
   */
  private void warm(RtlSource source) throws IOException {
    for (Optimisation when : List.of(Optimisation.NEVER, Optimisation.FIRST)) {
      build(unseen(source), when);
    }
  }

  /** Build and rate of one design, each beside the stock one's; some inputs may stay low. */
  private void measure(String what, RtlSource given, Set<String> low) throws IOException {
    RtlSource source = unseen(given);
    Design design = Elaborator.elaborate(source);
    StockModel stock =
        new StockModel(source, design, folder.resolve("size_" + what.replaceAll("\\W", "_")))
            .withLow(low);
    Build plain = new Build(stock::buildByDefault);
    Build brief = new Build(() -> build(source, Optimisation.NEVER));
    Build first = new Build(() -> build(source, Optimisation.FIRST));
    stock.buildAlike();
    stock.buildLoop();
    Rates rates = new Rates(stock, source, design, low);
    for (int place = 0; place < PLACES; place++) {
      rates.measure();
    }
    plain.report(what + ": stock build, default options", plain, "");
    brief.report(what + ": first build", plain, "1");
    first.report(what + ": optimised, which nobody waits for by default", plain, "");
    double base = rates.alike.median();
    row(what + ": bare C++ loop, -O3", rates.alike, base, "cycles/cpu s", "");
    row(what + ": batch path", rates.batch, base, "cycles/cpu s", "1");
    row(what + ": " + INLINED, rates.inlined, base, "cycles/cpu s", "");
  }

  /**
   * Cycles a second of processor time, in turn. The code of a large design fills the second level
   * of cache, so that its speed depends by several per cent on which pages of memory a file has got
   * by chance, as long as it is kept in memory: programs and library are copied for each round.
   */
  private final class Rates {
    private final Sample alike = new Sample();
    private final Sample inlined = new Sample();
    private final Sample batch = new Sample();
    private final StockModel stock;
    private final RtlSource source;
    private final Design design;
    private final Set<String> low;
    private final RandomStream inputs = RandomStream.of(6);

    Rates(StockModel stock, RtlSource source, Design design, Set<String> low) {
      this.stock = stock;
      this.source = source;
      this.design = design;
      this.low = low;
    }

    void measure() throws IOException {
      stock.move("alike");
      stock.move("loop");
      try (Dut dut = moved(source)) {
        Batch rows = Benchmark.filled(dut, design, low);
        long cycles = (long) (Benchmark.batch(dut, rows, Benchmark.ROWS) * SECONDS);
        for (int i = 0; i < REPETITIONS; i++) {
          // Each in each place, should what runs beside come and go.
          for (int turn = i; turn < i + 3; turn++) {
            switch (turn % 3) {
              case 0 -> alike.add(stock.runAlike(cycles));
              case 1 -> batch.add(run(dut, rows, cycles));
              default -> inlined.add(stock.runOnProcessorTime(cycles));
            }
          }
        }
      }
    }

    /**
     * Cycles a second of this thread's processor time: nothing else runs here. Each call has new
     * inputs, as each cycle of the loop has: a processor learns where branches go as rows repeat,
     * and over the same 256 rows again and again ten roots ran at 1.7 times the rate.
     */
    private double run(Dut dut, Batch rows, long cycles) {
      ThreadMXBean threads = ManagementFactory.getThreadMXBean();
      long time = 0;
      long done = 0;
      while (done < cycles) {
        Benchmark.fill(rows, design, low, inputs);
        long start = threads.getCurrentThreadCpuTime();
        done += dut.run(rows, Benchmark.ROWS);
        time += threads.getCurrentThreadCpuTime() - start;
      }
      return done / (time / 1e9);
    }
  }

  /** Opens a model from a copy of its library. */
  private Dut moved(RtlSource source) throws IOException {
    Path library = DesignBuilder.build(source, BuildOptions.defaults()).file();
    Path cache = library.getParent().getParent();
    Path copy = folder.resolve("cache" + System.nanoTime());
    Path libraries = Files.createDirectories(copy.resolve("libraries"));
    Files.copy(library, libraries.resolve(library.getFileName()));
    Path elaborated = cache.resolve("elaborated");
    StockModel.command(List.of("cp", "-a", elaborated.toString(), copy.toString()));
    String before = System.getProperty(CACHE, "");
    System.setProperty(CACHE, copy.toString());
    try {
      return CompiledDesign.of(source).open();
    } finally {
      System.setProperty(CACHE, before);
    }
  }

  /** The same with a word at its end that no build had before, so that nothing is in the cache. */
  private RtlSource unseen(RtlSource given) throws IOException {
    String word = Long.toString(System.nanoTime());
    Path top = given.files().get(0);
    Path copy = Files.createDirectories(folder.resolve(word)).resolve(top.getFileName().toString());
    String text = Files.readString(top);
    int end = text.lastIndexOf("endmodule");
    Files.writeString(
        copy, text.substring(0, end) + "final $display(\"" + word + "\");\n" + text.substring(end));
    RtlSource source = RtlSource.of(copy).withTop(given.top());
    for (Path include : given.includeFolders()) {
      source = source.withIncludeFolder(include);
    }
    for (Path library : given.libraryFolders()) {
      source = source.withLibraryFolder(library);
    }
    for (var parameter : given.parameters().entrySet()) {
      source = source.withParameter(parameter.getKey(), parameter.getValue());
    }
    return source;
  }

  private void row(String what, Sample sample, double base, String unit, String target) {
    speeds.add("size", what, sample, unit, sample.median() / base, target);
  }

  private static void build(RtlSource source, Optimisation when) {
    try (Dut dut =
        CompiledDesign.of(source, BuildOptions.defaults().withOptimisation(when)).open()) {
      dut.cycle();
    }
  }
}
