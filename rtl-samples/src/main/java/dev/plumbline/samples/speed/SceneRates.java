package dev.plumbline.samples.speed;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.samples.CarouselProgram;
import dev.plumbline.samples.ObservedExecutor.Result;
import dev.plumbline.samples.SampleExecutor;
import dev.plumbline.samples.SampleScene;
import dev.plumbline.verdict.Verdict;
import java.io.IOException;
import java.nio.file.Path;

/**
 * How fast the scene executor runs the demo scenes in lockstep, against a bare loop that offers it
 * the same rays and compares nothing; and what the carousel costs it with culling and without.
 */
final class SceneRates {
  /** Of a run: some ten million cycles. */
  private static final int RAYS = 120_000;

  private static final long PIXELS = 3000;

  /** Runs of that length are steady: more say nothing more. */
  private static final int LONG_RUNS = 3;

  private final Speeds speeds;
  private final Path folder;
  private final int repetitions;

  SceneRates(Speeds speeds, Path folder, int repetitions) {
    this.speeds = speeds;
    this.folder = folder;
    this.repetitions = Math.min(repetitions, LONG_RUNS);
  }

  void measure() throws IOException {
    SampleExecutor executor = SampleExecutor.STANDARD;
    CompiledDesign model = CompiledDesign.of(executor.rtl());
    StockModel stock =
        new StockModel(executor.rtl(), model.design(), folder.resolve("scene_executor"));
    SceneLoop loop = new SceneLoop(stock, model.design(), folder.resolve("rays.bin"));
    loop.build();
    for (SampleScene scene : SampleScene.all()) {
      measure(scene, model, loop);
    }
    measureCarousel();
  }

  private void measure(SampleScene scene, CompiledDesign model, SceneLoop loop) throws IOException {
    Program program = scene.program();
    Rays rays = scene.rays(program, PIXELS);
    int times = Math.max(1, RAYS / rays.capacity());
    Ways bare = new Ways();
    Ways[] lockstep = {new Ways(), new Ways()};
    lockstep(scene, model, 2, rays, times); // warm
    for (int i = 0; i < repetitions; i++) {
      SceneLoop.Run run = loop.run(program, rays, times);
      bare.add(run.rays(), run.cycles(), run.seconds(), run.processorSeconds());
      for (int threads = 1; threads <= 2; threads++) {
        long start = RayBenchSpeeds.processorTime();
        Verdict verdict = lockstep(scene, model, threads, rays, times);
        double processor = (RayBenchSpeeds.processorTime() - start) / 1e9;
        lockstep[threads - 1].add(
            verdict.cases(), verdict.cycles(), verdict.checked().seconds(), processor);
      }
    }
    String group = "scene " + scene.name();
    bare.report(speeds, group, "bare C++ loop, the same rays, nothing checked", bare, "", "");
    lockstep[0].report(speeds, group, "lockstep, one thread", bare, "", "0.6");
    lockstep[1].report(speeds, group, "lockstep, two threads", bare, "1.1", "");
  }

  private static Verdict lockstep(
      SampleScene scene, CompiledDesign model, int threads, Rays rays, int times) {
    return scene.bench(model, rays).cases((long) times * rays.capacity()).threads(threads).check();
  }

  /** Rates of one way to run rays. */
  private static final class Ways {
    private final Sample rays = new Sample();
    private final Sample cycles = new Sample();
    private final Sample raysOfProcessor = new Sample();

    void add(long answered, long driven, double seconds, double processorSeconds) {
      rays.add(answered / seconds);
      cycles.add(driven / seconds);
      raysOfProcessor.add(answered / processorSeconds);
    }

    /** With targets by the clock and of processor time; empty for none. */
    void report(
        Speeds speeds, String group, String what, Ways base, String clock, String processor) {
      report(speeds, group, what, rays, "rays/s", base.rays, clock);
      report(speeds, group, what, cycles, "cycles/s", base.cycles, "");
      report(speeds, group, what, raysOfProcessor, "rays/cpu s", base.raysOfProcessor, processor);
    }

    private static void report(
        Speeds speeds,
        String group,
        String what,
        Sample own,
        String unit,
        Sample base,
        String target) {
      speeds.add(group, what, own, unit, own.median() / base.median(), target);
    }
  }

  private void measureCarousel() {
    Rays rays = CarouselProgram.rays(PIXELS);
    double flat = 0;
    for (CarouselProgram way : CarouselProgram.values()) {
      long cycles = way.results(rays).stream().mapToLong(Result::cycles).sum();
      Sample each = new Sample();
      each.add((double) cycles / rays.capacity());
      flat = flat == 0 ? each.median() : flat;
      speeds.add("carousel", way.toString(), each, "cycles/ray", each.median() / flat, "");
    }
  }
}
