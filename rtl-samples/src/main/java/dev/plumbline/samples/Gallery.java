package dev.plumbline.samples;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.lockstep.Executor;
import dev.plumbline.models.light.IdealLight;
import dev.plumbline.regression.Regression;
import dev.plumbline.toolchain.BuildOptions;
import dev.plumbline.verdict.Verdict;

/**
 * Every demo scene, drawn by the whole chip in RTL: held to the model bit for bit, measured against
 * the mathematics, and kept as pictures under {@code reports/}: {@code mvn -q test -Pgallery}.
 *
 * <p>A case is a pixel: {@code plumbline.cases} says how many a picture has, 256 by 192 unless set.
 * {@code plumbline.pixel=X,Y} runs the rays of that pixel through the scene executor instead.
 */
public final class Gallery {
  /** Contexts of the chip as it stands. */
  private static final int CONTEXTS = 2;

  /** Pixels up to which compiling for speed would take longer than it saves. */
  private static final int SMALL = 2000;

  private Gallery() {}

  /**
   * Runs it.
   *
   * @param arguments none
   */
  public static void main(String[] arguments) {
    Regression regression = Regression.fromProperties(SampleFrame.FULL);
    add(regression, 1);
    System.exit(regression.command("mvn -q test -Pgallery").run());
  }

  /** Adds a bench for each scene, with a pixel for so many cases. */
  static void add(Regression regression, long casesOfPixel) {
    for (SampleScene scene : SampleScene.all()) {
      regression.bench(
          SampleFrame.of(scene, SampleFrame.FULL).toString(),
          to -> run(SampleFrame.of(scene, Math.max(1, to.cases() / casesOfPixel)), to));
    }
  }

  private static Verdict run(SampleFrame frame, Regression.Settings to) {
    Executor executor = SampleExecutor.STANDARD.promise().build();
    return frame
        .bench(model(frame), CONTEXTS)
        .beside(
            IdealLight.of(frame.scene().program(), frame.lighting())
                .frame(frame.width(), frame.height())
                .picture())
        .executor(() -> SampleScene.model(), executor)
        .alwaysShown()
        .seed(to.seed())
        .recorder(to.recorder())
        .repeat(to.repeat())
        .run();
  }

  /** A frame is one long life, so that a large one is better simulated by a fast model. */
  private static CompiledDesign model(SampleFrame frame) {
    boolean large = frame.width() * frame.height() > SMALL;
    BuildOptions options = BuildOptions.defaults();
    return CompiledDesign.of(
        SampleFrame.rtl(SampleRtl.FOLDER, CONTEXTS),
        large
            ? options.withOptimisation(BuildOptions.Optimisation.FIRST)
            : options.withOptimisation(false));
  }
}
