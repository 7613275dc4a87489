package dev.plumbline.samples.speed;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.samples.OrreryHost;
import dev.plumbline.samples.SampleFrame;
import dev.plumbline.samples.SampleRtl;
import dev.plumbline.samples.SampleScene;
import dev.plumbline.verdict.Verdict;
import java.io.IOException;
import java.nio.file.Path;
import java.util.List;

/**
 * What a frame of the whole chip takes when every pixel is held to the model, the model's own time
 * counted, against a bare loop that draws the same frame and looks at nothing.
 */
final class FrameRates {
  private static final long PIXELS = 4800;
  private static final int CONTEXTS = 2;
  private static final String TARGET = "1.1";

  private final Speeds speeds;
  private final Path folder;
  private final int repetitions;

  FrameRates(Speeds speeds, Path folder, int repetitions) {
    this.speeds = speeds;
    this.folder = folder;
    this.repetitions = repetitions;
  }

  void measure() throws IOException {
    RtlSource rtl = SampleFrame.rtl(SampleRtl.FOLDER, CONTEXTS);
    CompiledDesign model = CompiledDesign.of(rtl);
    FrameLoop loop =
        new FrameLoop(
            new StockModel(rtl, model.design(), folder.resolve("orrery")),
            folder.resolve("writes.bin"));
    loop.build();
    for (SampleScene scene : SampleScene.all()) {
      measure(SampleFrame.of(scene, PIXELS), model, loop);
    }
  }

  private void measure(SampleFrame frame, CompiledDesign model, FrameLoop loop) throws IOException {
    List<OrreryHost.Write> writes =
        OrreryHost.writes(
            frame.scene().program(),
            frame.scene().materials(),
            frame.lighting(),
            frame.width(),
            frame.height());
    Sample bare = new Sample();
    Sample checked = new Sample();
    Sample bareProcessor = new Sample();
    Sample checkedProcessor = new Sample();
    Sample cycles = new Sample();
    for (int i = 0; i < 3; i++) {
      frame.bench(model, CONTEXTS).check(); // warm: a small frame is over before the JVM knows it
    }
    for (int i = 0; i < repetitions; i++) {
      FrameLoop.Run run = loop.run(writes);
      bare.add(run.seconds());
      bareProcessor.add(run.processorSeconds());
      long start = System.nanoTime();
      long processor = RayBenchSpeeds.processorTime();
      Verdict verdict = frame.bench(model, CONTEXTS).check();
      checked.add((System.nanoTime() - start) / 1e9);
      checkedProcessor.add((RayBenchSpeeds.processorTime() - processor) / 1e9);
      cycles.add((double) verdict.cycles());
    }
    String group = "frame " + frame.scene().name();
    String size = frame.width() + " by " + frame.height();
    double base = bare.median();
    speeds.add(group, "bare C++ loop, nothing looked at, " + size, bare, "s", 1, "");
    speeds.add(group, "checked, the model counted", checked, "s", checked.median() / base, TARGET);
    base = bareProcessor.median();
    speeds.add(group, "bare C++ loop", bareProcessor, "cpu s", 1, "");
    speeds.add(
        group,
        "checked, the model counted",
        checkedProcessor,
        "cpu s",
        checkedProcessor.median() / base,
        TARGET);
    speeds.add(group, "cycles, with the loading of the scene", cycles, "cycles", Double.NaN, "");
  }
}
