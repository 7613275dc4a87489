package dev.plumbline.models.light;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.Operation;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.span.Distances;
import dev.plumbline.models.span.SpanList;

/**
 * The exact solids of a program, for rays in doubles of any direction: the mathematics, skips
 * aside. Distances count in lengths of the direction.
 */
final class IdealScene {
  private static final int AXES = SurfaceTable.AXES;

  private final Program program;
  private final Distances reals = Distances.reals();
  private final long limit; // the largest word
  private final SpanList[] stack;
  private final double[][] operands;
  private final double[] near = new double[AXES];
  private final double[] far = new double[AXES];
  private double entry;
  private double exit;

  /** Of the ray traced last: where it meets a surface, if it does, and whose. */
  double distance;

  int address;
  boolean leaving;

  IdealScene(Program program) {
    this.program = program;
    Format word = program.formats().word();
    this.limit = reals.of(word.toReal(word.maxCode()));
    this.stack = new SpanList[program.limits().depth()];
    for (int i = 0; i < stack.length; i++) {
      stack[i] = SpanList.of(reals, program.length());
    }
    this.operands = new double[program.length()][];
    for (int at = 0; at < operands.length; at++) {
      Operation operation = program.at(at);
      operands[at] = new double[operation.kind().operands().size()];
      for (int i = 0; i < operands[at].length; i++) {
        Format format = program.formats().operand(operation.kind().operands().get(i));
        operands[at][i] = format.toReal(operation.operand(i));
      }
    }
  }

  /** Whether the ray meets a surface strictly beyond its origin, nearer than the largest word. */
  boolean trace(double[] origin, double[] direction) {
    long start = reals.of(0);
    long nearest = limit;
    int height = 0;
    for (int at = 0; at < operands.length; at++) {
      OperationKind kind = program.at(at).kind();
      if (kind.isSolid()) {
        boolean met = cross(at, origin, direction);
        stack[height].clear();
        if (met) {
          stack[height].set(reals.of(entry), reals.of(exit), at, at);
        }
        height++;
      } else if (kind.isCombination()) {
        height--;
        stack[height - 1].combine(kind.operator(), stack[height - 1], stack[height]);
      } else if (kind == OperationKind.CLOSE) {
        SpanList list = stack[--height];
        int end = list.nearestBeyond(start);
        if (end >= 0 && list.distance(end) < nearest) {
          nearest = list.distance(end);
          address = list.surface(end);
          leaving = (end & 1) == 1 != list.isReversed(end);
        }
      }
    }
    distance = reals.toReal(nearest);
    return nearest != limit;
  }

  private boolean cross(int at, double[] origin, double[] direction) {
    double[] solid = operands[at];
    return switch (program.at(at).kind()) {
      case SPHERE -> sphere(solid, origin, direction);
      case HALF_SPACE -> halfSpace(solid, origin, direction);
      default -> box(solid, origin, direction);
    };
  }

  private boolean sphere(double[] solid, double[] origin, double[] direction) {
    double radius = solid[AXES];
    double squared = dot(direction, direction);
    double foot = 0;
    for (int k = 0; k < AXES; k++) {
      foot += (solid[k] - origin[k]) * direction[k];
    }
    foot /= squared;
    double apart = 0;
    for (int k = 0; k < AXES; k++) {
      double d = origin[k] + foot * direction[k] - solid[k];
      apart += d * d;
    }
    double rest = (radius * radius - apart) / squared;
    if (radius < 0 || rest < 0) {
      return false;
    }
    entry = foot - Math.sqrt(rest);
    exit = foot + Math.sqrt(rest);
    return true;
  }

  private boolean halfSpace(double[] solid, double[] origin, double[] direction) {
    double slope = dot(solid, direction);
    double height = solid[AXES] - dot(solid, origin);
    entry = slope < 0 ? height / slope : Double.NEGATIVE_INFINITY;
    exit = slope > 0 ? height / slope : Double.POSITIVE_INFINITY;
    return slope != 0 || height >= 0;
  }

  private boolean box(double[] solid, double[] origin, double[] direction) {
    entry = Double.NEGATIVE_INFINITY;
    exit = Double.POSITIVE_INFINITY;
    for (int k = 0; k < AXES; k++) {
      double toMin = solid[k] - origin[k];
      double toMax = solid[k + AXES] - origin[k];
      if (direction[k] == 0) {
        near[k] = Double.NEGATIVE_INFINITY;
        far[k] = Double.POSITIVE_INFINITY;
        if (toMin > 0 || toMax < 0) {
          return false;
        }
      } else {
        near[k] = (direction[k] > 0 ? toMin : toMax) / direction[k];
        far[k] = (direction[k] > 0 ? toMax : toMin) / direction[k];
      }
      entry = Math.max(entry, near[k]);
      exit = Math.min(exit, far[k]);
    }
    return entry < exit;
  }

  /** The outward normal of the surface met last, at a point of it. */
  void normal(double[] origin, double[] direction, double[] point, double[] into) {
    double[] solid = operands[address];
    switch (program.at(address).kind()) {
      case SPHERE -> {
        for (int k = 0; k < AXES; k++) {
          into[k] = (point[k] - solid[k]) / solid[AXES];
        }
      }
      case HALF_SPACE -> System.arraycopy(solid, 0, into, 0, AXES);
      default -> {
        box(solid, origin, direction);
        int axis = 0;
        while (axis < AXES - 1 && (leaving ? far[axis] != exit : near[axis] != entry)) {
          axis++;
        }
        java.util.Arrays.fill(into, 0);
        into[axis] = direction[axis] > 0 == leaving ? 1 : -1;
      }
    }
  }

  static double dot(double[] a, double[] b) {
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  }
}
