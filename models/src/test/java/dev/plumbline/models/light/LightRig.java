package dev.plumbline.models.light;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.scene.Scene;
import dev.plumbline.models.traversal.Rays;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** A scene and a lamp, for rays that are given, in bits or in reals. */
final class LightRig {
  static final SceneFormats FORMATS = SceneFormats.of(Format.signed(16, 16), Format.signed(2, 16));
  private static final int BLOCK = 512;

  private final Lighting lighting;
  private final ExactLight exact;
  private final IdealLight ideal;

  /** What a ray came to; fields are null where it met nothing. */
  record Seen(double[] start, double[] normal, double[] reflected, double cosine, double light) {}

  LightRig(String scene, double[] lamp, double epsilon) {
    Program program = Scene.parse(scene).program(FORMATS, new ProgramLimits(64, 8, 256));
    Camera camera = Camera.looking(FORMATS.word(), new double[] {0, -9, 1}, new double[3], 1, 8, 8);
    lighting =
        Lighting.of(FORMATS, camera, lamp)
            .withEpsilon(Codes.code(FORMATS.word(), epsilon))
            .withAmbient(0);
    exact = ExactLight.of(program, lighting, 8);
    ideal = IdealLight.of(program, lighting);
  }

  static String planeFacing(double[] normal) {
    return String.format(
        Locale.ROOT,
        "piece plane take half-space facing %.9f, %.9f, %.9f up to 0 of 1 done%n",
        normal[0],
        normal[1],
        normal[2]);
  }

  /** One ray after the other, by origin and direction. */
  List<Seen> trace(boolean bits, List<double[][]> rays) {
    return bits ? bits(rays) : reals(rays);
  }

  Seen one(boolean bits, double[] origin, double[] direction) {
    return trace(bits, List.<double[][]>of(new double[][] {origin, direction})).get(0);
  }

  private List<Seen> reals(List<double[][]> rays) {
    List<Seen> seen = new ArrayList<>();
    for (double[][] ray : rays) {
      IdealLight.Hit hit = new IdealLight.Hit();
      seen.add(
          ideal.shade(ray[0], ray[1], hit)
              ? new Seen(hit.start, hit.normal, hit.reflected, hit.cosine, hit.lit ? hit.cosine : 0)
              : null);
    }
    return seen;
  }

  private List<Seen> bits(List<double[][]> rays) {
    List<Seen> seen = new ArrayList<>();
    Rays columns = Rays.of(FORMATS, BLOCK);
    DirectionColumns directions = new DirectionColumns(FORMATS, BLOCK);
    java.util.Arrays.fill(columns.column("limit"), FORMATS.word().maxCode().longValue());
    long[] codes = new long[BLOCK];
    for (int from = 0; from < rays.size(); from += BLOCK) {
      int count = Math.min(BLOCK, rays.size() - from);
      for (int axis = 0; axis < 3; axis++) {
        for (int i = 0; i < count; i++) {
          codes[i] = Codes.code(FORMATS.direction(), rays.get(from + i)[1][axis]);
          columns.column("origin_" + "xyz".charAt(axis))[i] =
              Codes.code(FORMATS.word(), rays.get(from + i)[0][axis]);
        }
        directions.set(columns, axis, codes, count);
      }
      exact.light(columns, count, new int[count], 0);
      ShadePass shaded = exact.shaded();
      for (int i = 0; i < count; i++) {
        seen.add(null);
      }
      for (int entry = 0; entry < shaded.count; entry++) {
        seen.set(
            from + shaded.ray[entry],
            new Seen(
                reals(FORMATS.word(), shaded.start, entry),
                reals(FORMATS.direction(), shaded.normal, entry),
                reals(FORMATS.direction(), shaded.reflected, entry),
                shaded.cosine(entry) * 0x1p-16,
                shaded.light(entry) * 0x1p-16));
      }
    }
    return seen;
  }

  private static double[] reals(Format format, long[][] columns, int entry) {
    double[] reals = new double[3];
    for (int axis = 0; axis < 3; axis++) {
      reals[axis] = format.toReal(columns[axis][entry]);
    }
    return reals;
  }
}
