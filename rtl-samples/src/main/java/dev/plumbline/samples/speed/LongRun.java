package dev.plumbline.samples.speed;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.samples.SampleBench;
import dev.plumbline.samples.SampleBenches;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** Memory over a run of 200 million checked cycles: behind the first half it has to stay flat. */
final class LongRun {
  private static final long TENTH = 10_000_000;

  private final Speeds speeds;

  LongRun(Speeds speeds) {
    this.speeds = speeds;
  }

  void measure() throws IOException {
    SampleBench bench = SampleBenches.sharpest("reciprocal");
    CompiledDesign model = CompiledDesign.of(bench.rtl());
    Sample resident = new Sample();
    double before = 0; // the most until the JVM has compiled and laid out what it will
    for (int i = 0; i < 20; i++) {
      Benchmark.checked(bench, model, 2, TENTH);
      System.gc();
      double megabytes = residentMegabytes();
      if (i < 10) {
        before = Math.max(before, megabytes);
      } else {
        resident.add(megabytes);
      }
    }
    speeds.add(
        "memory",
        "resident after each 10 of 100 million checked cycles, behind as many",
        resident,
        "MB",
        resident.most() / before,
        "flat");
  }

  private static double residentMegabytes() throws IOException {
    for (String line : Files.readAllLines(Path.of("/proc/self/status"))) {
      if (line.startsWith("VmRSS:")) {
        return Long.parseLong(line.replaceAll("\\D", "")) / 1024.0;
      }
    }
    throw new IOException("/proc/self/status tells no VmRSS; the memory part needs Linux");
  }
}
