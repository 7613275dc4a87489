package dev.plumbline.samples.speed;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.samples.SampleBench;
import dev.plumbline.samples.SampleBenches;
import dev.plumbline.samples.SampleRtl;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.toolchain.BuildOptions.Optimisation;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/** From a changed line of RTL to the first verdict of its unit's bench. */
final class EditTimes {
  static final String UNIT = "box_pipeline";
  static final String LINE = "ReachW'(entry_s7_q) <= widened_s7";

  /** The edit is a fault, which the RTL's own assertions would end before the checker sees it. */
  private static final BuildOptions OPTIONS =
      BuildOptions.defaults().withOptimisation(Optimisation.LATER).withAssertions(false);

  private final Speeds speeds;
  private final Path folder;
  private final int repetitions;

  EditTimes(Speeds speeds, Path folder, int repetitions) {
    this.speeds = speeds;
    this.folder = folder;
    this.repetitions = repetitions;
  }

  void measure() throws IOException {
    SampleBench bench = SampleBenches.sharpest(UNIT);
    Path copy = Files.createDirectories(folder.resolve("edited"));
    for (Path file : SampleRtl.files()) {
      Files.copy(file, copy.resolve(file.getFileName()));
    }
    Path file = copy.resolve(UNIT + ".sv");
    String text = Files.readString(file);
    if (!text.contains(LINE)) {
      throw new IllegalStateException("The line to edit is not in " + file + ": " + LINE);
    }
    Sample stock = new Sample();
    Sample ours = new Sample();
    Sample fast = new Sample();
    Sample maven = new Sample();
    CompiledDesign model = CompiledDesign.of(bench.rtlIn(copy), OPTIONS);
    bench.of(model).cases(10_000).check(); // warm
    int salt = (int) (System.nanoTime() % 1_000_000);
    for (int i = 0; i < repetitions; i++) {
      // Another constant each time, so that neither cache nor Verilator can tell it was there.
      Files.writeString(
          file, text.replace(LINE, LINE + " + $signed((W + 1)'(" + (salt + i) + "))"));
      StockModel plain =
          new StockModel(bench.rtlIn(copy), model.design(), folder.resolve("stock" + i));
      stock.add(plain.buildPlain());
      ours.add(verdict(bench, copy, OPTIONS));
      Files.writeString(
          file, text.replace(LINE, LINE + " - $signed((W + 1)'(" + (salt + i) + "))"));
      fast.add(verdict(bench, copy, OPTIONS.withOptimisation(Optimisation.FIRST)));
    }
    Path root = SampleRtl.FOLDER.getParent().getParent();
    for (int i = 0; i < 3; i++) {
      long start = System.nanoTime();
      StockModel.command(
          List.of(
              "mvn",
              "-q",
              "-o",
              "-f",
              root.resolve("pom.xml").toString(),
              "test",
              "-pl",
              "rtl-samples",
              "-am",
              "-Dtest=BoxPipelineTest",
              "-Dsurefire.failIfNoSpecifiedTests=false"));
      maven.add((System.nanoTime() - start) / 1e9);
    }
    double base = stock.median();
    speeds.add("edit", "verilator --cc --exe --build -j 2, build alone", stock, "s", 1, "");
    speeds.add("edit", "changed line to verdict, warm JVM", ours, "s", ours.median() / base, "0.2");
    speeds.add("edit", "the same, optimised first", fast, "s", fast.median() / base, "0.2");
    speeds.add("edit", "mvn -q -o test -Dtest=...", maven, "s", maven.median() / base, "");
  }

  /** Seconds from an edit to its verdict. */
  private static double verdict(SampleBench bench, Path rtl, BuildOptions options) {
    long start = System.nanoTime();
    bench.of(CompiledDesign.of(bench.rtlIn(rtl), options)).cases(10_000).run();
    return (System.nanoTime() - start) / 1e9;
  }
}
