package dev.plumbline.models.scene;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.traversal.Alteration;
import dev.plumbline.models.traversal.ExecutorTiming;
import dev.plumbline.models.traversal.Pace;
import dev.plumbline.models.traversal.Predictor;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.models.traversal.Retirement;
import dev.plumbline.models.traversal.SceneUnits;
import dev.plumbline.models.traversal.Traversal;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Random;

/**
 * What rays cost with culling and without, in the sample executor; {@link #main} prints a table.
 */
public final class CullingTable {
  public static final SceneFormats FORMATS =
      SceneFormats.of(Format.signed(16, 16), Format.signed(2, 16));
  static final SceneUnits UNITS = SceneUnits.of(FORMATS);
  public static final ProgramLimits ROOMY = new ProgramLimits(1 << 16, 4, 256);

  /** From dispatch to retirement: words of 32 bits and 22 cycles more. */
  private static final Pace PACE =
      Pace.of(54, 64)
          .withEarlyDecision(10, 2)
          .withFlush(3)
          .withLearning(2)
          .withClose(1)
          .withResult(2);

  /** Means of rays, and what each saw. */
  record Costs(double solids, double operations, double cycles, double wrong, List<String> hits) {}

  private CullingTable() {}

  static Costs costs(Scene scene, Rays rays) {
    Program program = scene.program(FORMATS, ROOMY);
    ExecutorTiming timing =
        new ExecutorTiming(PACE, Predictor.of(Predictor.Policy.TWO_BIT, 4), Alteration.NONE);
    double[] sums = new double[4];
    List<String> hits = new ArrayList<>();
    Traversal.exact(UNITS, 4)
        .run(
            program,
            rays,
            0,
            rays.capacity(),
            timing,
            r -> {
              sums[3] += r.operation().kind().isSolid() ? 1 : 0;
              if (r.isLast()) {
                sums[0] += timing.retired();
                sums[1] += timing.cycles();
                sums[2] += timing.wrong();
                hits.add(hit(r));
              }
            });
    int n = rays.capacity();
    return new Costs(sums[3] / n, sums[0] / n, sums[1] / n, sums[2] / n, hits);
  }

  /** What a ray hit, to compare. */
  public static String hit(Retirement r) {
    return r.isFound()
        ? r.distance()
            + " of "
            + r.material()
            + (r.isReversed() ? " reversed" : "")
            + (r.isInward() ? " inward" : "")
        : "none";
  }

  /** From a sphere of radius 5 around the scene to points in it: primary rays of a camera. */
  public static Rays towards(int count, long seed) {
    Random random = new Random(seed);
    Rays rays = Rays.of(FORMATS, count);
    for (int i = 0; i < count; i++) {
      double[] from = direction(random);
      double[] to = direction(random);
      double far = Math.cbrt(random.nextDouble()) * 1.6;
      long[] origin = new long[3];
      double[] d = new double[3];
      for (int k = 0; k < 3; k++) {
        origin[k] = code(5 * from[k]);
        d[k] = far * to[k] - 5 * from[k];
      }
      rays.nearest(i, 16, origin, unit(d));
    }
    return rays;
  }

  public static double[] direction(Random random) {
    double[] d = {random.nextGaussian(), random.nextGaussian(), random.nextGaussian()};
    double length = Math.sqrt(d[0] * d[0] + d[1] * d[1] + d[2] * d[2]);
    return new double[] {d[0] / length, d[1] / length, d[2] / length};
  }

  public static long[] unit(double[] d) {
    double length = Math.sqrt(d[0] * d[0] + d[1] * d[1] + d[2] * d[2]);
    return new long[] {code(d[0] / length), code(d[1] / length), code(d[2] / length)};
  }

  public static long code(double words) {
    return Math.round(words * (1 << 16));
  }

  /** Prints means a ray for carousels of each size: flat, fewest operations, fewest cycles. */
  public static void main(String[] arguments) {
    System.out.println(
        "| spheres | words flat | solids | ops | cycles | words culled | solids | ops | cycles"
            + " | mispredicted | words timed | solids | ops | cycles | mispredicted |");
    for (int generations = 0; generations < 5; generations++) {
      Rays rays = towards(generations == 4 ? 200 : 1000, 3);
      Scene carousel = Carousel.of(generations);
      Costs flat = costs(carousel, rays);
      StringBuilder row = new StringBuilder();
      row.append(
          String.format(
              Locale.ROOT,
              "| %d | %d | %.0f | %.0f | %.0f |",
              carousel.items().size(),
              carousel.program(FORMATS, ROOMY).length(),
              flat.solids(),
              flat.operations(),
              flat.cycles()));
      for (double penalty : new double[] {0, PACE.decision() + PACE.redirection() - 1}) {
        Scene culled = new Culling(FORMATS, 8, penalty).culled(carousel);
        Costs costs = costs(culled, rays);
        row.append(
            String.format(
                Locale.ROOT,
                " %d | %.1f | %.0f | %.0f | %.1f |",
                culled.program(FORMATS, ROOMY).length(),
                costs.solids(),
                costs.operations(),
                costs.cycles(),
                costs.wrong()));
      }
      System.out.println(row);
    }
  }
}
