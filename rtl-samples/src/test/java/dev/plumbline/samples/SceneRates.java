package dev.plumbline.samples;

import dev.plumbline.check.Verdict;
import dev.plumbline.cosim.Model;
import java.io.IOException;
import java.nio.file.Path;

/** How fast the scene executor is run in lockstep, against a bare loop that compares nothing. */
final class SceneRates {
  private static final long CYCLES = 1_000_000;
  private static final long RAYS = 20_480;

  private final Speeds speeds;
  private final Path folder;
  private final int repetitions;

  SceneRates(Speeds speeds, Path folder, int repetitions) {
    this.speeds = speeds;
    this.folder = folder;
    this.repetitions = repetitions;
  }

  void measure() throws IOException {
    SampleExecutor executor = SampleExecutor.STANDARD;
    Model model = Model.of(executor.rtlIn(SampleRtl.FOLDER));
    StockModel stock =
        new StockModel(
            executor.rtlIn(SampleRtl.FOLDER), model.design(), folder.resolve("scene_executor"));
    stock.buildLoop();
    Sample bare = new Sample();
    Sample[] checked = {new Sample(), new Sample()};
    Sample[] rays = {new Sample(), new Sample()};
    lockstep(executor, model, 2); // warm
    for (int i = 0; i < repetitions; i++) {
      bare.add(stock.run(CYCLES));
      for (int threads = 1; threads <= 2; threads++) {
        Verdict verdict = lockstep(executor, model, threads);
        checked[threads - 1].add(verdict.cyclesPerSecond());
        rays[threads - 1].add(verdict.cases() / verdict.seconds());
      }
    }
    String group = "scene_executor";
    speeds.add(group, "bare C++ loop, random inputs, nothing checked", bare, "cycles/s", 1, "");
    for (int threads = 1; threads <= 2; threads++) {
      String with = threads == 1 ? ", one thread" : ", two threads";
      Sample rate = checked[threads - 1];
      speeds.add(group, "lockstep" + with, rate, "cycles/s", rate.median() / bare.median(), "");
      speeds.add(group, "lockstep" + with, rays[threads - 1], "rays/s", Double.NaN, "");
    }
  }

  private static Verdict lockstep(SampleExecutor executor, Model model, int threads) {
    return executor.bench(model).cases(RAYS).threads(threads).check();
  }
}
