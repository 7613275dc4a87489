package dev.plumbline.samples.speed;

import dev.plumbline.cosim.Batch;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.cosim.DutOptions;
import dev.plumbline.samples.SampleBenches;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;

/**
 * What a process of its own costs a model on the batch path, by the processor time of both
 * processes, which a busy machine disturbs less than the clock.
 */
final class IsolationCost {
  private static final String UNIT = "box_pipeline";
  private static final long CYCLES = 8_000_000;
  private static final double TICK_NANOS = 1e7; // USER_HZ is 100 on Linux

  private final Speeds speeds;
  private final int repetitions;

  IsolationCost(Speeds speeds, int repetitions) {
    this.speeds = speeds;
    this.repetitions = repetitions;
  }

  /** Runs both in turn, so that what else the machine does falls on both. */
  void measure() throws IOException {
    CompiledDesign model = CompiledDesign.of(SampleBenches.sharpest(UNIT).rtl());
    DutOptions options = DutOptions.defaults();
    Sample here = new Sample();
    Sample alone = new Sample();
    try (Dut inside = model.open(options.withIsolated(false));
        Dut outside = model.open(options.withIsolated(true))) {
      Batch insideRows = Benchmark.filled(inside, model.design());
      Batch outsideRows = Benchmark.filled(outside, model.design());
      Benchmark.batch(inside, insideRows, CYCLES); // warm
      Benchmark.batch(outside, outsideRows, CYCLES);
      for (int i = 0; i < repetitions; i++) {
        here.add(nanosPerRow(inside, insideRows));
        alone.add(nanosPerRow(outside, outsideRows));
      }
    }
    String unit = "ns a row, CPU";
    speeds.add(UNIT, "batch path in this process", here, unit, 1, "");
    double ratio = alone.median() / here.median();
    speeds.add(UNIT, "batch path, isolated in a process of its own", alone, unit, ratio, "1.1");
  }

  private static double nanosPerRow(Dut dut, Batch rows) throws IOException {
    long before = ticks();
    Benchmark.batch(dut, rows, CYCLES);
    return (ticks() - before) * TICK_NANOS / CYCLES;
  }

  /** Of this process and of those it has started. */
  private static long ticks() throws IOException {
    List<Long> processes =
        Stream.concat(Stream.of(ProcessHandle.current()), ProcessHandle.current().children())
            .map(ProcessHandle::pid)
            .toList();
    long ticks = 0;
    for (long process : processes) {
      String stat = Files.readString(Path.of("/proc", Long.toString(process), "stat"));
      // Of the words after the name: user time and system time (proc(5)).
      String[] words = stat.substring(stat.lastIndexOf(')') + 2).split(" ", -1);
      ticks += Long.parseLong(words[11]) + Long.parseLong(words[12]);
    }
    return ticks;
  }
}
