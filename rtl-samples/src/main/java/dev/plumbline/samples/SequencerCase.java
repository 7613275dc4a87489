package dev.plumbline.samples;

import dev.plumbline.contract.Reference;
import dev.plumbline.models.light.ExactLight;
import dev.plumbline.models.light.RayCounts;
import dev.plumbline.samples.SequencerRays.Kind;

/** One case after the other through the model of {@link SequencerBench}. */
final class SequencerCase implements Reference.CaseFunction {
  private static final int TAG = 2;
  private static final int PRIMARY = 5;
  private static final int MIRROR = 10;

  private final ExactLight light;
  private final SequencerRays rays;
  private final int[] x = new int[1];
  private final int[] y = new int[1];
  private final int[] colour = new int[1];

  SequencerCase(ExactLight light, SequencerRays rays) {
    this.light = light;
    this.rays = rays;
  }

  @Override
  public void compute(long[] inputs, long[] outputs) {
    x[0] = (int) inputs[0];
    y[0] = (int) inputs[1];
    rays.begin();
    meets(Kind.PRIMARY, Kind.SHADOW, inputs, PRIMARY);
    meets(Kind.MIRROR, Kind.MIRROR_SHADOW, inputs, MIRROR);
    RayCounts counts = light.run(x, y, 1, colour);
    outputs[0] = colour[0];
    outputs[1] = inputs[TAG];
    outputs[2] = counts.shadow();
    outputs[3] = counts.mirror();
    outputs[4] = counts.mirrorShadow();
    outputs[5] = 1; // asked well
    int next = 6;
    for (Kind kind : Kind.values()) {
      next = rays.copy(kind, outputs, next);
    }
  }

  private void meets(Kind kind, Kind shadow, long[] inputs, int from) {
    rays.meets(
        kind, inputs[from] == 1, inputs[from + 1], (int) inputs[from + 2], (int) inputs[from + 3]);
    rays.meets(shadow, inputs[from + 4] == 1, 0, 0, 0);
  }
}
