package dev.plumbline.samples.speed;

import dev.plumbline.rtl.Design;
import dev.plumbline.samples.SampleBench;
import dev.plumbline.samples.SampleBenches;
import dev.plumbline.samples.SampleRtl;
import dev.plumbline.toolchain.Elaborator;
import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;

/** {@code plumbline watch} as a user has it: the sample's own test, RTL in a folder of its own. */
final class WatchedEdits implements AutoCloseable {
  private final Process process;
  private final BufferedReader lines;

  /**
   * Starts it, and waits until it waits.
   *
   * @param folder with the RTL in {@code rtl}
   */
  WatchedEdits(Path folder, String test) throws IOException {
    Path samples = SampleRtl.FOLDER.getParent();
    ProcessBuilder builder =
        new ProcessBuilder(
                samples.resolveSibling("harness/bin/plumbline").toString(),
                "watch",
                "--classes",
                samples.resolve("target/test-classes") + ":" + samples.resolve("target/classes"),
                test)
            .directory(folder.toFile())
            .redirectError(ProcessBuilder.Redirect.INHERIT);
    String cache = System.getProperty("plumbline.cache", "");
    if (!cache.isEmpty()) {
      builder.environment().put("JDK_JAVA_OPTIONS", "-Dplumbline.cache=" + cache);
    }
    process = builder.start();
    lines = process.inputReader(StandardCharsets.UTF_8);
    await("watching");
  }

  /** From the write of the file to the printed line, beside the stock build by default options. */
  static void measure(Speeds speeds, Path folder, int repetitions) throws IOException {
    SampleBench bench = SampleBenches.sharpest(EditTimes.UNIT);
    Path project = folder.resolve("watched");
    Path rtl = Files.createDirectories(project.resolve("rtl"));
    for (Path file : SampleRtl.files()) {
      Files.copy(file, rtl.resolve(file.getFileName()));
    }
    Path file = rtl.resolve(EditTimes.UNIT + ".sv");
    String text = Files.readString(file);
    Design design = Elaborator.elaborate(bench.rtlIn(rtl));
    int salt = (int) (System.nanoTime() % 1_000_000);
    Sample stock = new Sample();
    Sample saved = new Sample();
    try (WatchedEdits watch = new WatchedEdits(project, "BoxPipelineTest")) {
      for (int i = 0; i < repetitions; i++) {
        // Another constant each time, so that neither cache nor Verilator can tell it was there.
        String added = " + $signed((W + 1)'(" + (salt + i) + "))";
        saved.add(watch.verdictAfter(file, text.replace(EditTimes.LINE, EditTimes.LINE + added)));
        StockModel plain = new StockModel(bench.rtlIn(rtl), design, folder.resolve("default" + i));
        stock.add(plain.buildByDefault());
        watch.verdictAfter(file, text);
      }
    }
    double base = stock.median();
    speeds.add("watch", "verilator --cc --exe --build, build alone", stock, "s", 1, "");
    speeds.add("watch", "save to printed verdict", saved, "s", saved.median() / base, "0.15");
  }

  /** Seconds from the write of a file to the first line with a verdict. */
  double verdictAfter(Path file, String text) throws IOException {
    while (lines.ready()) { // of a save that it saw in two parts
      lines.readLine();
    }
    long start = System.nanoTime();
    Files.writeString(file, text);
    await("pass ", "RED ");
    double seconds = (System.nanoTime() - start) / 1e9;
    await("watching");
    return seconds;
  }

  private void await(String... beginnings) throws IOException {
    for (String line = lines.readLine(); line != null; line = lines.readLine()) {
      for (String beginning : beginnings) {
        if (line.startsWith(beginning)) {
          return;
        }
      }
    }
    throw new IOException("plumbline watch ended by itself");
  }

  @Override
  public void close() {
    process.destroy();
  }
}
