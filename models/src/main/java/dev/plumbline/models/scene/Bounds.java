package dev.plumbline.models.scene;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.span.SpanOperator;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * A box around what an executor may find of a solid, in words: min_x, min_y, min_z, max_x, max_y,
 * max_z. It is taken of the codes, so that no rounding of numbers is missed.
 */
final class Bounds {
  private static final int AXES = 3;

  /** Faces that nearly go through one line: their corner is not worth finding. */
  private static final double FLAT = 1e-6;

  private static final double[][] SIDES = {
    {-1, 0, 0}, {0, -1, 0}, {0, 0, -1}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}
  };

  /** What lies in a box and behind all of some faces (normal, level). */
  private static final class Region {
    final double[] box;
    final List<double[]> faces;

    Region(double[] box, List<double[]> faces) {
      this.box = box;
      this.faces = faces;
    }
  }

  private final Scene scene;
  private final SceneFormats formats;
  private final double padding;
  private final double world;

  /** With faces and boxes moved outwards by so many words. */
  Bounds(Scene scene, SceneFormats formats, double padding) {
    this.scene = scene;
    this.formats = formats;
    this.padding = padding;
    this.world = -2 * formats.word().toReal(formats.word().minCode());
  }

  /** Null when there are none, or none that the word holds. */
  double[] of(Scene.Solid solid) {
    double[] box = tight(region(solid));
    Format word = formats.word();
    for (int i = 0; i < AXES; i++) {
      box[i] -= padding;
      box[i + AXES] += padding;
      if (box[i] < word.toReal(word.minCode())
          || box[i + AXES] > word.toReal(word.maxCode())
          || box[i] > box[i + AXES]) {
        return null;
      }
    }
    return box;
  }

  private Region region(Scene.Solid solid) {
    if (solid instanceof Scene.Primitive primitive) {
      return region(primitive);
    }
    Scene.Part part = (Scene.Part) solid;
    Region all = region(part.first());
    for (Scene.Step step : part.steps()) {
      if (step.operator() == SpanOperator.INTERSECTION) {
        all = intersection(all, region(step.solid()));
      } else if (step.operator() == SpanOperator.UNION) {
        all = new Region(union(tight(all), tight(region(step.solid()))), List.of());
      }
    }
    return all;
  }

  private Region region(Scene.Primitive primitive) {
    OperationKind kind = primitive.kind();
    double[] n = new double[primitive.numbers().size()];
    for (int i = 0; i < n.length; i++) {
      Format format = formats.operand(kind.operands().get(i));
      boolean isDirection = OperationKind.isDirection(kind.operands().get(i));
      BigInteger code =
          SceneNumbers.code(primitive.numbers().get(i), isDirection ? null : scene.unit(), format);
      n[i] = format.toReal(code);
    }
    if (kind == OperationKind.BOX) {
      return new Region(n, List.of());
    }
    if (kind == OperationKind.SPHERE) {
      double[] box = new double[2 * AXES];
      for (int i = 0; i < AXES; i++) {
        box[i] = n[i] - n[AXES];
        box[i + AXES] = n[i] + n[AXES];
      }
      return new Region(box, List.of());
    }
    double square = n[0] * n[0] + n[1] * n[1] + n[2] * n[2];
    n[AXES] += padding * Math.max(1, square);
    return new Region(everything(), square == 0 ? List.of() : List.of(n));
  }

  private double[] everything() {
    double[] box = new double[2 * AXES];
    Arrays.fill(box, 0, AXES, -world);
    Arrays.fill(box, AXES, 2 * AXES, world);
    return box;
  }

  static double[] union(double[] a, double[] b) {
    double[] box = new double[2 * AXES];
    for (int i = 0; i < AXES; i++) {
      box[i] = Math.min(a[i], b[i]);
      box[i + AXES] = Math.max(a[i + AXES], b[i + AXES]);
    }
    return box;
  }

  private static Region intersection(Region a, Region b) {
    double[] box = new double[2 * AXES];
    for (int i = 0; i < AXES; i++) {
      box[i] = Math.max(a.box[i], b.box[i]);
      box[i + AXES] = Math.min(a.box[i + AXES], b.box[i + AXES]);
    }
    List<double[]> faces = new ArrayList<>(a.faces);
    faces.addAll(b.faces);
    return new Region(box, faces);
  }

  /** The box around the corners of a region; the region's own where corners cannot be found. */
  private double[] tight(Region region) {
    if (region.faces.isEmpty()) {
      return region.box.clone();
    }
    List<double[]> faces = new ArrayList<>(region.faces);
    for (int i = 0; i < SIDES.length; i++) {
      double[] side = Arrays.copyOf(SIDES[i], AXES + 1);
      side[AXES] = i < AXES ? -region.box[i] : region.box[i];
      faces.add(side);
    }
    double[] box = new double[2 * AXES];
    Arrays.fill(box, 0, AXES, Double.POSITIVE_INFINITY);
    Arrays.fill(box, AXES, 2 * AXES, Double.NEGATIVE_INFINITY);
    for (int i = 0; i < faces.size(); i++) {
      for (int j = 0; j < i; j++) {
        double[] line = cross(faces.get(i), faces.get(j));
        for (int k = 0; k < j; k++) {
          double volume = dot(line, faces.get(k));
          if (volume != 0 && Math.abs(volume) < FLAT) {
            return region.box.clone();
          }
          if (volume != 0) {
            double[] corner = corner(faces.get(i), faces.get(j), faces.get(k), volume);
            if (isBehindAll(corner, faces)) {
              box =
                  union(
                      box,
                      new double[] {
                        corner[0], corner[1], corner[2], corner[0], corner[1], corner[2]
                      });
            }
          }
        }
      }
    }
    return box[0] > box[AXES] ? region.box.clone() : box;
  }

  private boolean isBehindAll(double[] point, List<double[]> faces) {
    return faces.stream().allMatch(face -> dot(face, point) <= face[AXES] + 1e-9 * world);
  }

  /** Cramer's rule. */
  private static double[] corner(double[] a, double[] b, double[] c, double volume) {
    double[] bc = cross(b, c);
    double[] ca = cross(c, a);
    double[] ab = cross(a, b);
    double[] point = new double[AXES];
    for (int i = 0; i < AXES; i++) {
      point[i] = (a[AXES] * bc[i] + b[AXES] * ca[i] + c[AXES] * ab[i]) / volume;
    }
    return point;
  }

  private static double[] cross(double[] a, double[] b) {
    return new double[] {
      a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]
    };
  }

  private static double dot(double[] a, double[] b) {
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  }

  /** Half the surface of a box; huge where there is none. */
  static double area(double[] box) {
    if (box == null) {
      return 1e18;
    }
    double x = box[3] - box[0];
    double y = box[4] - box[1];
    double z = box[5] - box[2];
    return x * y + y * z + z * x;
  }
}
