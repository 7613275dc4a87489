package dev.plumbline.samples.speed;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** What something took: by the clock, and of this process and those it started and awaited. */
record Spent(double seconds, double processorSeconds) {
  // Fields of /proc/self/stat behind the name, which may have spaces: user and system time, then
  // the same of children, in hundredths of a second (proc(5), 14 to 17 there).
  private static final int FIRST = 11;
  private static final int FIELDS = 4;
  private static final double HUNDREDTHS = 100.0;

  /** Something to be timed. */
  @FunctionalInterface
  interface Work {
    void run() throws IOException;
  }

  static Spent on(Work work) throws IOException {
    double processor = processorTime();
    long start = System.nanoTime();
    work.run();
    double seconds = (System.nanoTime() - start) / 1e9;
    return new Spent(seconds, processorTime() - processor);
  }

  private static double processorTime() throws IOException {
    String stat = Files.readString(Path.of("/proc/self/stat"));
    String[] fields = stat.substring(stat.lastIndexOf(')') + 2).split(" ", -1);
    long sum = 0;
    for (int i = FIRST; i < FIRST + FIELDS; i++) {
      sum += Long.parseLong(fields[i]);
    }
    return sum / HUNDREDTHS;
  }
}
