package dev.plumbline.samples.speed;

import dev.plumbline.cosim.Batch;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.samples.SampleRtl;
import dev.plumbline.stimulus.RandomStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** Cycles a second against the number of copies of a module in one design. */
final class SizeCosts {
  private static final int ROWS = 1024;

  private final Speeds speeds;
  private final Path folder;

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
    double base = 0;
    for (int copies : new int[] {1, 10, 100}) {
      RtlSource source =
          RtlSource.of(file)
              .withTop("many_roots")
              .withIncludeFolder(SampleRtl.FOLDER)
              .withLibraryFolder(SampleRtl.FOLDER)
              .withParameter("COPIES", Integer.toString(copies));
      long start = System.nanoTime();
      CompiledDesign model = CompiledDesign.of(source);
      Sample build = new Sample();
      build.add((System.nanoTime() - start) / 1e9);
      Sample rate = new Sample();
      try (Dut dut = model.open()) {
        Batch batch = dut.batch(ROWS);
        RandomStream stream = RandomStream.of(3);
        long[] x = batch.column("in_x");
        batch.column("out_root");
        for (int row = 0; row < ROWS; row++) {
          x[row] = stream.next() & 0xffffffffL;
        }
        for (int i = 0; i < 6; i++) {
          long cycles = 0;
          long from = System.nanoTime();
          while (System.nanoTime() - from < 500_000_000L) {
            dut.run(batch, ROWS);
            cycles += ROWS;
          }
          if (i > 0) { // the first warms
            rate.add(cycles / ((System.nanoTime() - from) / 1e9));
          }
        }
      }
      base = copies == 1 ? rate.median() : base;
      String what = "square_root, " + copies + (copies == 1 ? " copy" : " copies");
      speeds.add("size", what, rate, "cycles/s", rate.median() / base, "");
      speeds.add("size", what + ", first build", build, "s", Double.NaN, "");
    }
  }
}
