package dev.plumbline.frame;

import dev.plumbline.models.light.RayCounts;
import dev.plumbline.verdict.Fact;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** What a frame's time comes to: cycles a pixel, a ray, and a ray of each kind. */
final class FrameTimes {
  private static final String[] KINDS = {"primary", "shadow", "mirror", "mirror shadow"};

  private static final double CLOCK = 50e6; // Hz, to have a number that one can scale

  private FrameTimes() {}

  static Fact of(FrameScene scene, FrameRun run, int contexts) {
    long cycles = run.end - run.begin;
    long rays = scene.frame().rays().all();
    List<String> lines = new ArrayList<>();
    lines.add(
        String.format(
            Locale.ROOT,
            "%d cycles a frame, %.1f a pixel; of one of %d contexts %.1f a ray, %.1f an operation",
            cycles,
            (double) cycles / run.came.length,
            contexts,
            (double) cycles * contexts / rays,
            (double) cycles * contexts / scene.operations()));
    lines.add(
        String.format(
            Locale.ROOT,
            "%d rays, %.2f a pixel; at 50 MHz %.2f frames a second",
            rays,
            (double) rays / run.came.length,
            CLOCK / cycles));
    if (contexts == 1) {
      double[] kinds = byKind(scene.counts(), run.waited);
      StringBuilder text = new StringBuilder("by kind of ray, on average:");
      for (int kind = 0; kind < KINDS.length; kind++) {
        text.append(kind == 0 ? " " : ", ").append(KINDS[kind]);
        text.append(
            Double.isNaN(kinds[kind]) ? " none" : String.format(Locale.ROOT, " %.1f", kinds[kind]));
      }
      lines.add(text.toString());
    }
    return new Fact("time", lines);
  }

  /**
   * The cycles of a ray of each kind by least squares: those for which the pixels' own cycles come
   * out best, each the sum over its rays. NaN for a kind that no pixel has, or none without
   * another.
   *
   * @param rays of each pixel
   * @param cycles that each pixel took, one after the other
   */
  static double[] byKind(RayCounts[] rays, long[] cycles) {
    int kinds = KINDS.length;
    double[][] normal = new double[kinds][kinds + 1];
    for (int pixel = 0; pixel < rays.length; pixel++) {
      RayCounts own = rays[pixel];
      long[] counts = {own.primary(), own.shadow(), own.mirror(), own.mirrorShadow()};
      for (int i = 0; i < kinds; i++) {
        for (int k = 0; k < kinds; k++) {
          normal[i][k] += counts[i] * counts[k];
        }
        normal[i][kinds] += counts[i] * (double) cycles[pixel];
      }
    }
    return solved(normal);
  }

  /** Elimination without exchange, as the matrix is one of squares; what has no pivot is NaN. */
  private static double[] solved(double[][] rows) {
    int count = rows.length;
    boolean[] known = new boolean[count];
    for (int i = 0; i < count; i++) {
      known[i] = rows[i][i] > 1e-6;
      for (int row = 0; row < count && known[i]; row++) {
        double times = rows[row][i] / rows[i][i];
        for (int k = i; k <= count && row != i; k++) {
          rows[row][k] -= times * rows[i][k];
        }
      }
    }
    double[] solution = new double[count];
    for (int i = 0; i < count; i++) {
      solution[i] = known[i] ? rows[i][count] / rows[i][i] : Double.NaN;
    }
    return solution;
  }
}
