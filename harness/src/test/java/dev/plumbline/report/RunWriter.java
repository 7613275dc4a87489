package dev.plumbline.report;

import dev.plumbline.check.VerdictSamples;
import dev.plumbline.lockstep.SceneVerdicts;
import java.io.IOException;
import java.nio.file.Path;
import java.util.List;

/** A process that adds verdicts to a run: every third a mismatch, the others passes. */
final class RunWriter {
  /** What benches of a scene executor are called. */
  static final String SCENE = "scene";

  private RunWriter() {}

  /** The folder of all runs, the run's name, what its benches are called, how many there are. */
  public static void main(String[] args) {
    RunReport run = RunReport.open(Path.of(args[0]), args[1]);
    int count = Integer.parseInt(args[3]);
    for (int i = 0; i < count; i++) {
      String name = args[2] + " " + i;
      if (args[2].equals(SCENE)) {
        SceneVerdicts.wrongValueTo(run, name);
        continue;
      }
      run.record(i % 3 == 0 ? VerdictSamples.wrongValue(name, 5, "") : VerdictSamples.pass(name));
    }
  }

  /** A process that adds a mismatch where no file can have more than so many kilobytes. */
  static Process startOnFullDisk(Path reports, String run, int kilobytes) throws IOException {
    return new ProcessBuilder(
            "bash",
            "-c",
            "ulimit -f " + kilobytes + "; exec \"$@\"",
            "bash",
            Path.of(System.getProperty("java.home"), "bin", "java").toString(),
            "-XX:TieredStopAtLevel=1",
            "-XX:-UsePerfData",
            "-cp",
            System.getProperty("java.class.path"),
            FullDisk.class.getName(),
            reports.toString(),
            run.replace(' ', '_'))
        .redirectErrorStream(true)
        .start();
  }

  /** Prints how the bench failed. */
  static final class FullDisk {
    private FullDisk() {}

    public static void main(String[] args) {
      RunReport run = RunReport.open(Path.of(args[0]), args[1]);
      try {
        VerdictSamples.wrongValueTo(run, "moon").orFail();
      } catch (AssertionError | RuntimeException e) {
        System.out.println(e.getMessage());
      }
    }
  }

  static Process start(Path reports, String run, String name, int count) throws IOException {
    return new ProcessBuilder(
            List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-XX:TieredStopAtLevel=1",
                "-cp",
                System.getProperty("java.class.path"),
                RunWriter.class.getName(),
                reports.toString(),
                run,
                name,
                Integer.toString(count)))
        .inheritIO()
        .start();
  }
}
