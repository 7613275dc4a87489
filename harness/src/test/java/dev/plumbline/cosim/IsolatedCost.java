package dev.plumbline.cosim;

import dev.plumbline.rtl.RtlSource;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import java.util.stream.Stream;

/**
 * Measures what a process of its own costs: nanoseconds a row in batches, and microseconds for a
 * single cycle, of a model in this process and of one that is isolated, in turn; by the clock, and
 * by the processor time of both processes, which a busy machine disturbs less.
 *
 * <pre>{@code
 * java -cp ... dev.plumbline.cosim.IsolatedCost ../rtl-samples/rtl/box_pipeline.sv 4096 15
 * }</pre>
 */
public final class IsolatedCost {
  private IsolatedCost() {}

  public static void main(String[] arguments) {
    int rows = Integer.parseInt(arguments[1]);
    int rounds = Integer.parseInt(arguments[2]);
    Path file = Path.of(arguments[0]);
    CompiledDesign model =
        CompiledDesign.of(
            RtlSource.of(file)
                .withIncludeFolder(file.toAbsolutePath().getParent())
                .withLibraryFolder(file.toAbsolutePath().getParent()));
    double[][] batch = new double[2][rounds];
    double[][] processor = new double[2][rounds];
    double[][] single = new double[2][rounds];
    try (Dut here = model.open(DutOptions.defaults().withIsolated(false));
        Dut alone = model.open(DutOptions.defaults().withIsolated(true))) {
      Dut[] duts = {here, alone};
      Batch[] batches = {filled(model, here, rows), filled(model, alone, rows)};
      for (int round = -2; round < rounds; round++) {
        for (int i = 0; i < 2; i++) {
          long before = processorNanos();
          double perRow = perRow(duts[i], batches[i], rows);
          double ran = processorNanos() - before;
          double perCycle = perCycle(duts[i]);
          if (round >= 0) {
            batch[i][round] = perRow;
            processor[i][round] = ran / rows / calls(rows);
            single[i][round] = perCycle;
          }
        }
      }
    }
    System.out.printf(
        Locale.ROOT,
        "rows of %d: here %.1f ns, isolated %.1f ns, ratio %.3f (medians of %d); least %.1f,"
            + " %.1f%n",
        rows,
        median(batch[0]),
        median(batch[1]),
        median(batch[1]) / median(batch[0]),
        rounds,
        batch[0][0],
        batch[1][0]);
    System.out.printf(
        Locale.ROOT,
        "processor time: here %.1f ns, isolated %.1f ns, ratio %.3f%n",
        median(processor[0]),
        median(processor[1]),
        median(processor[1]) / median(processor[0]));
    System.out.printf(
        Locale.ROOT,
        "a single cycle: here %.2f us, isolated %.2f us%n",
        median(single[0]) / 1000,
        median(single[1]) / 1000);
  }

  private static Batch filled(CompiledDesign model, Dut dut, int rows) {
    Batch batch = dut.batch(rows);
    SplittableRandom random = new SplittableRandom(1);
    for (PortColumns.Slice port : model.columns().ports()) {
      boolean clock = model.design().clocks().stream().anyMatch(c -> c.port().equals(port.name()));
      if (port.isInput() && !clock && port.port().unpacked().isEmpty()) {
        for (int word = 0; word < port.count(); word++) {
          Arrays.setAll(batch.column(port.name(), word), row -> random.nextLong());
        }
      } else if (!port.isInput()) {
        batch.column(port.name());
      }
    }
    return batch;
  }

  private static double perRow(Dut dut, Batch batch, int rows) {
    int calls = calls(rows);
    long start = System.nanoTime();
    for (int i = 0; i < calls; i++) {
      dut.run(batch, rows);
    }
    return (System.nanoTime() - start) / (double) calls / rows;
  }

  private static int calls(int rows) {
    return Math.max(1, 800_000 / rows);
  }

  /** Of this process and of those it has started. */
  private static long processorNanos() {
    try {
      long ticks = 0;
      for (String process : processes()) {
        String stat = Files.readString(Path.of("/proc", process, "stat"));
        String[] words = stat.substring(stat.lastIndexOf(')') + 2).split(" ", -1);
        ticks += Long.parseLong(words[11]) + Long.parseLong(words[12]);
      }
      return ticks * 10_000_000;
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static List<String> processes() {
    return Stream.concat(Stream.of(ProcessHandle.current()), ProcessHandle.current().children())
        .map(process -> Long.toString(process.pid()))
        .toList();
  }

  private static double perCycle(Dut dut) {
    int calls = 2_000;
    long start = System.nanoTime();
    for (int i = 0; i < calls; i++) {
      dut.cycle();
    }
    return (System.nanoTime() - start) / (double) calls;
  }

  private static double median(double[] of) {
    Arrays.sort(of);
    return of[of.length / 2];
  }
}
