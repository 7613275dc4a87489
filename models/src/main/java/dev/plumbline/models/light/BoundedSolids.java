package dev.plumbline.models.light;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.Operation;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.SceneFormats;

/**
 * Where a ray that is known within intervals may enter and leave each solid of a program, as
 * hardware in these formats may find it: the declared formulas of sphere, half-space and box, every
 * quantity two LSB of the word off either way, reciprocals and slopes one.
 */
final class BoundedSolids {
  private static final int AXES = SurfaceTable.AXES;

  /** Normals are of unit length within that, where offsets along them matter. */
  private static final double OFFSET_SLACK = 0x1p-7;

  private static final int NONE = -1;

  /** Half, and terms of the second order. */
  private static final double HALF_AND_MORE = 0.53;

  private static final double FOREVER = Double.POSITIVE_INFINITY;

  private final Program program;
  private final double lsb;
  private final double slopeLsb;
  private final double directionLoss;
  private final double longest; // the largest word
  private final double[][] operands;

  /** By address. The solid surely is where it may be, between the greatest entry and least exit. */
  final boolean[] sure;

  final boolean[] possible;
  final double[] entryLow;
  final double[] entryHigh;
  final double[] exitLow;
  final double[] exitHigh;

  /** Of a box; -1 where it may be one or another. */
  final int[] entryFace;

  final int[] exitFace;

  private final Interval a = new Interval();
  private final Interval b = new Interval();
  private final Interval foot = new Interval();
  private final Interval sum = new Interval();
  private final Interval near = new Interval();
  private final Interval far = new Interval();
  private final Interval entry = new Interval();
  private final Interval exit = new Interval();
  private final Interval place = new Interval();

  // The solid on whose surface the ray begins, -1 for none: how far off it, on which side.
  private int own = NONE;
  private boolean ownInside;
  private int ownFace;
  private double ownOffset;
  private double ownSlack;

  /** How far the squared length of the next rays' direction may be from 1. */
  double lengthSlack;

  BoundedSolids(Program program) {
    this.program = program;
    SceneFormats formats = program.formats();
    this.lsb = formats.word().lsbs();
    this.slopeLsb = Math.max(formats.direction().lsbs(), lsb);
    boolean coarser = formats.word().fractionBits() < formats.direction().fractionBits();
    this.directionLoss = coarser ? lsb / 2 : 0;
    this.longest = formats.word().toReal(formats.word().maxCode());
    int length = program.length();
    this.operands = new double[length][];
    for (int at = 0; at < length; at++) {
      Operation operation = program.at(at);
      operands[at] = new double[operation.kind().operands().size()];
      for (int i = 0; i < operands[at].length; i++) {
        Format format = formats.operand(operation.kind().operands().get(i));
        operands[at][i] = format.toReal(operation.operand(i));
      }
    }
    sure = new boolean[length];
    possible = new boolean[length];
    entryLow = new double[length];
    entryHigh = new double[length];
    exitLow = new double[length];
    exitHigh = new double[length];
    entryFace = new int[length];
    exitFace = new int[length];
  }

  /** The largest distance there is. */
  double longest() {
    return longest;
  }

  /** The next rays begin anywhere. */
  void fromAnywhere() {
    own = NONE;
  }

  /**
   * The next rays begin so far off a surface, within a slack: that is known better than the place,
   * whose intervals do not know that it lies on the surface.
   */
  void fromSurface(int address, boolean inside, int face, double offset, double slack) {
    own = address;
    ownInside = inside;
    ownFace = face;
    ownOffset = offset;
    ownSlack = slack + Math.abs(offset) * OFFSET_SLACK;
  }

  /** How far a point that was found on a surface may lie off it, whatever the ray that found it. */
  double slack(int at, double distance, double lengthSlack) {
    return switch (program.at(at).kind()) {
      case SPHERE -> (10 + 2 / operands[at][AXES]) * lsb + distance * lengthSlack;
      case HALF_SPACE ->
          8 * lsb + distance * (slopeLsb + lsb * IdealScene.dot(operands[at], operands[at]));
      default -> 6 * lsb + 2 * distance * lsb;
    };
  }

  /** How far the squared length of a surface's normal may be from 1, given that slack. */
  double normalSlack(int at, double slack) {
    double[] solid = operands[at];
    return switch (program.at(at).kind()) {
      case SPHERE -> 2.5 * slack / solid[AXES] + 6 * slopeLsb + 3 * lsb * solid[AXES];
      case HALF_SPACE -> Math.abs(IdealScene.dot(solid, solid) - 1);
      default -> 0;
    };
  }

  /** Finds the ends of all solids. */
  void cross(Interval[] origin, Interval[] direction) {
    for (int at = 0; at < operands.length; at++) {
      OperationKind kind = program.at(at).kind();
      if (!kind.isSolid()) {
        continue;
      }
      sure[at] = true;
      possible[at] = true;
      entryFace[at] = 0;
      exitFace[at] = 0;
      switch (kind) {
        case SPHERE -> sphere(at, origin, direction);
        case HALF_SPACE -> halfSpace(at, origin, direction);
        default -> box(at, origin, direction);
      }
      entryLow[at] = entry.low - lsb;
      entryHigh[at] = entry.high + lsb;
      exitLow[at] = exit.low - lsb;
      exitHigh[at] = exit.high + lsb;
      sure[at] &= possible[at] && entryHigh[at] < exitLow[at];
      possible[at] &= entryLow[at] < exitHigh[at];
    }
  }

  private void sphere(int at, Interval[] origin, Interval[] direction) {
    double[] solid = operands[at];
    double radius = solid[AXES];
    foot.set(0, 0);
    for (int k = 0; k < AXES; k++) {
      a.set(solid[k], solid[k]).subtract(origin[k]);
      foot.add(b.product(a, direction[k]));
    }
    foot.widen(2 * lsb);
    sum.set(0, 0);
    for (int k = 0; k < AXES; k++) {
      a.set(solid[k], solid[k]).subtract(origin[k]);
      a.subtract(b.product(foot, direction[k])).widen(2 * lsb);
      sum.add(a.square());
    }
    a.set(radius * radius, radius * radius).subtract(sum).widen(2 * lsb);
    possible[at] = radius >= 0 && a.high >= 0;
    sure[at] = a.low > 0;
    double least = Math.sqrt(Math.max(0, a.low));
    double most = Math.sqrt(Math.max(0, a.high));
    a.set(least, most).widen(2 * lsb);
    entry.set(foot.low, foot.high).subtract(a).widen(lsb);
    exit.set(foot.low, foot.high).add(a).widen(lsb);
    if (at == own) {
      beginOnSphere(at, radius);
    }
  }

  /**
   * Outside and going away it is not met again; inside it is left once. Where the squared length of
   * the direction is off by e, the formula finds a sphere as if the ray began up to e/2 times the
   * radius nearer to it.
   */
  private void beginOnSphere(int at, double radius) {
    double off = ownInside ? -ownOffset : ownOffset;
    double reach = radius + Math.abs(off);
    double slack = ownSlack + HALF_AND_MORE * lengthSlack * reach * reach / radius;
    if (off - slack > 0 && foot.high < 0) {
      possible[at] = false;
    } else if (off + slack < 0) {
      double inside = -(off + slack); // least depth: the product of both distances follows
      double product = inside * (2 * radius - inside);
      entry.high = Math.min(entry.high, -2 * lsb);
      exit.low = Math.max(exit.low, product / (2 * radius) - 2 * lsb);
    }
  }

  private void halfSpace(int at, Interval[] origin, Interval[] direction) {
    double[] solid = operands[at];
    near.set(solid[AXES], solid[AXES]); // how far inside the origin is
    sum.set(0, 0);
    for (int k = 0; k < AXES; k++) {
      a.set(solid[k], solid[k]);
      near.subtract(b.product(a, origin[k]));
      sum.add(b.product(a, direction[k]));
    }
    near.widen(2 * lsb);
    if (at == own) {
      double squared = IdealScene.dot(solid, solid);
      double inside = ownInside ? ownOffset : -ownOffset;
      double slack = ownSlack * Math.max(1, squared);
      near.set(
          Math.max(near.low, inside * squared - slack),
          Math.min(near.high, inside * squared + slack));
    }
    sum.widen(slopeLsb);
    entry.set(-FOREVER, -FOREVER);
    exit.set(FOREVER, FOREVER);
    if (sum.least() * longest > 2) {
      boolean leaving = sum.low > 0;
      a.set(sum.low, sum.high).inverse().widen(lsb);
      (leaving ? exit : entry).product(near, a).widen(2 * lsb);
      return;
    }
    // Almost along the plane: the reciprocal may saturate, so that distances come out too small.
    double reach = near.least() * Math.min(1 / sum.most(), longest) - 2 * lsb;
    if (near.low > 0) {
      entry.set(-FOREVER, -reach);
      exit.set(reach, FOREVER);
    } else {
      sure[at] = false;
      entry.set(near.high < 0 ? reach : -FOREVER, FOREVER);
      exit.set(entry.low, FOREVER);
    }
  }

  private void box(int at, Interval[] origin, Interval[] direction) {
    double[] solid = operands[at];
    entry.set(-FOREVER, -FOREVER);
    exit.set(FOREVER, FOREVER);
    for (int k = 0; k < AXES; k++) {
      int toMax = 2 * k + 1;
      int toMin = 2 * k;
      b.set(direction[k].low, direction[k].high).widen(directionLoss);
      place.set(origin[k].low, origin[k].high);
      if (at == own && ownFace / 2 == k) {
        beginOnFace(solid);
      }
      if (b.low == 0 && b.high == 0) {
        parallel(at, solid[k], solid[k + AXES], place, 0);
        continue;
      }
      if (b.least() * longest <= 2) {
        parallel(at, solid[k], solid[k + AXES], place, b.most());
        continue;
      }
      boolean rising = b.low > 0;
      b.inverse().widen(lsb);
      near.product(a.set(solid[k], solid[k]).subtract(place), b).widen(2 * lsb);
      far.product(a.set(solid[k + AXES], solid[k + AXES]).subtract(place), b).widen(2 * lsb);
      entryFace[at] = nearer(rising ? near : far, rising ? toMin : toMax, entryFace[at]);
      exitFace[at] = farther(rising ? far : near, rising ? toMax : toMin, exitFace[at]);
    }
  }

  private void beginOnFace(double[] solid) {
    int axis = ownFace / 2;
    boolean max = ownFace % 2 == 1;
    double plane = max ? solid[axis + AXES] : solid[axis];
    double at = plane + (max == ownInside ? -ownOffset : ownOffset);
    place.set(Math.max(place.low, at - ownSlack), Math.min(place.high, at + ownSlack));
  }

  private int nearer(Interval candidate, int face, int before) {
    int chosen = candidate.low > entry.high ? face : candidate.high < entry.low ? before : -1;
    entry.set(Math.max(entry.low, candidate.low), Math.max(entry.high, candidate.high));
    return chosen;
  }

  private int farther(Interval candidate, int face, int before) {
    int chosen = candidate.high < exit.low ? face : candidate.low > exit.high ? before : -1;
    exit.set(Math.min(exit.low, candidate.low), Math.min(exit.high, candidate.high));
    return chosen;
  }

  /** A direction of at most so much between two planes, or beside them. */
  private void parallel(int at, double min, double max, Interval origin, double steepest) {
    double inside = Math.min(origin.low - min, max - origin.high);
    double outside = Math.max(origin.low - max, min - origin.high);
    if (steepest == 0) {
      sure[at] &= inside > 0;
      possible[at] &= outside <= 0;
      return;
    }
    if (inside > 0) { // a plane may be met, but not before this
      double reach = inside / steepest;
      entryFace[at] = nearer(near.set(-FOREVER, -reach), -1, entryFace[at]);
      exitFace[at] = farther(far.set(reach, FOREVER), -1, exitFace[at]);
      return;
    }
    sure[at] = false;
    entry.set(Math.max(entry.low, outside > 0 ? outside / steepest : -FOREVER), FOREVER);
    exit.set(-FOREVER, exit.high);
    entryFace[at] = -1;
    exitFace[at] = -1;
  }
}
