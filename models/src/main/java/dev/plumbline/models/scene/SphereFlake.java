package dev.plumbline.models.scene;

import dev.plumbline.models.program.OperationKind;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;

/**
 * The sphere-flake of the published standard scenes, to see how an executor's work grows with a
 * scene: every sphere carries nine of a third of its radius (E. Haines, "A Proposal for Standard
 * Graphics Environments", IEEE CG&amp;A 7(11), 1987). The nine stand as in a close packing, six
 * around and three above; that arrangement is from memory, the counts are published.
 *
 * <pre>{@code
 * Program program = SphereFlake.of(2).program(formats, limits);   // 91 spheres, 274 operations
 * }</pre>
 */
public final class SphereFlake {
  /** 66,430 spheres. */
  private static final int MOST = 5;

  private final List<Scene.Item> pieces = new ArrayList<>();

  private SphereFlake() {}

  /**
   * A flake about the origin, along z, within a distance of 2.
   *
   * @param generations of smaller spheres around the first one, which has radius 1: 0 to 5, for 1,
   *     10, 91, 820, 7381 or 66430 spheres
   * @return the scene, without culling boxes; lengths are in words, a sphere's material is how many
   *     generations it carries
   * @throws IllegalArgumentException for other generations
   */
  public static Scene of(int generations) {
    if (generations < 0 || generations > MOST) {
      throw new IllegalArgumentException(
          "sphere-flake of " + generations + " generations: 0 to " + MOST + " are allowed");
    }
    SphereFlake flake = new SphereFlake();
    flake.sphere(new double[3], new double[] {0, 0, 1}, 1, generations);
    return Scene.of(null, Map.of(), flake.pieces);
  }

  private void sphere(double[] centre, double[] up, double radius, int generations) {
    List<BigDecimal> numbers = new ArrayList<>();
    for (double c : new double[] {centre[0], centre[1], centre[2], radius}) {
      numbers.add(BigDecimal.valueOf(Math.round(c * 1e6), 6));
    }
    Scene.Solid solid = new Scene.Primitive(OperationKind.SPHERE, numbers, generations);
    pieces.add(new Scene.Piece("s" + pieces.size(), solid));
    if (generations == 0) {
      return;
    }
    double[] a =
        unit(cross(up, Math.abs(up[0]) < 0.5 ? new double[] {1, 0, 0} : new double[] {0, 1, 0}));
    double[] b = cross(up, a);
    for (int k = 0; k < 9; k++) {
      double around = Math.toRadians(k < 6 ? 60 * k : 120 * k + 30);
      double flat = k < 6 ? 1 : Math.sqrt(1 / 3.0);
      double high = k < 6 ? 0 : Math.sqrt(2 / 3.0);
      double[] to = new double[3];
      double[] next = new double[3];
      for (int i = 0; i < 3; i++) {
        to[i] =
            flat * (StrictMath.cos(around) * a[i] + StrictMath.sin(around) * b[i]) + high * up[i];
        next[i] = centre[i] + to[i] * radius * 4 / 3;
      }
      sphere(next, to, radius / 3, generations - 1);
    }
  }

  private static double[] unit(double[] v) {
    double length = Math.sqrt(v[0] * v[0] + v[1] * v[1] + v[2] * v[2]);
    return new double[] {v[0] / length, v[1] / length, v[2] / length};
  }

  private static double[] cross(double[] a, double[] b) {
    return new double[] {
      a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]
    };
  }
}
