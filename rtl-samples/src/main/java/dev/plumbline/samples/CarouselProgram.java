package dev.plumbline.samples;

import dev.plumbline.lockstep.LockstepBench;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.scene.Carousel;
import dev.plumbline.models.scene.Culling;
import dev.plumbline.models.scene.Scene;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.samples.ObservedExecutor.Result;
import java.util.List;

/** The carousel of 85 spheres, the largest whose boxes the executor's program memory holds, too. */
public enum CarouselProgram {
  /** Every sphere for every ray. */
  FLAT("flat"),
  /** With culling boxes for the fewest operations. */
  FEWEST_OPERATIONS("culled for operations"),
  /** With culling boxes for the fewest cycles: what a wrong prediction costs is counted. */
  FEWEST_CYCLES("culled for cycles");

  private static final SampleExecutor EXECUTOR = SampleExecutor.STANDARD;

  /** No ray that hits anything begins further away from it than this. */
  private static final double REACH = 8;

  private final String words;

  CarouselProgram(String words) {
    this.words = words;
  }

  /**
   * The program.
   *
   * @return it, for the standard executor
   */
  public Program program() {
    Scene carousel = Carousel.of(3);
    Culling culling =
        switch (this) {
          case FLAT -> null;
          case FEWEST_OPERATIONS -> Culling.of(EXECUTOR.formats(), REACH);
          case FEWEST_CYCLES -> new Culling(EXECUTOR.formats(), REACH, EXECUTOR.misprediction());
        };
    Scene scene = culling == null ? carousel : culling.culled(carousel);
    return scene.program(EXECUTOR.formats(), EXECUTOR.limits());
  }

  /**
   * A picture and its shadows; the same rays for each program.
   *
   * @param pixels how many
   * @return the rays
   */
  public static Rays rays(long pixels) {
    View view = new View(new Point(3, -3.5, 2.5), new Point(0, 0, 0.2), 0.36);
    return new PictureRays(FLAT.program(), EXECUTOR.spans(), view)
        .with(new Point(40, -20, 60), 1, pixels);
  }

  /**
   * The bench over this program.
   *
   * @param rays what is offered
   * @return a bench that offers each once
   */
  public LockstepBench.Builder bench(Rays rays) {
    return EXECUTOR
        .bench(SampleScene.model())
        .named(EXECUTOR + " carousel " + words)
        .given(program(), rays);
  }

  /**
   * What the RTL makes of rays, from reset; no model is asked.
   *
   * @param rays the rays
   * @return their results in order
   */
  public List<Result> results(Rays rays) {
    try (ObservedExecutor rtl = new ObservedExecutor(EXECUTOR)) {
      rtl.load(program());
      return rtl.run(rays);
    }
  }

  @Override
  public String toString() {
    return words;
  }
}
