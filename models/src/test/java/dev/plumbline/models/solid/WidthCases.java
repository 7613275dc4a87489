package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.datapath.Vectors;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.util.Collection;
import java.util.List;
import java.util.Random;

/**
 * Cases of one kind, drawn in real numbers and brought to the codes of a datapath's operands: the
 * same for every format. Only square roots and what {@link Random} specifies: the same codes on
 * every JDK.
 */
final class WidthCases {
  private final Random random;
  private final List<Operand> operands;
  private final long[][] columns;
  private int at;

  private WidthCases(Datapath datapath, int cases, long seed) {
    this.random = new Random(seed);
    this.operands = datapath.inputs();
    this.columns = new long[operands.size()][cases];
  }

  /** Sets the operands of one case. */
  interface CaseKind {
    void draw(WidthCases c);
  }

  /** So many cases of each kind, one kind after the other. */
  static long[][] columns(Datapath datapath, Collection<CaseKind> kinds, int cases, long seed) {
    WidthCases drawn = new WidthCases(datapath, kinds.size() * cases, seed);
    for (CaseKind kind : kinds) {
      for (int i = 0; i < cases; i++) {
        kind.draw(drawn);
        drawn.at++;
      }
    }
    return drawn.columns;
  }

  /** Uniform. */
  double between(double low, double high) {
    return low + (high - low) * random.nextDouble();
  }

  /** -1, 0 or 1 LSB of an operand. */
  double nudge(String operand) {
    return (random.nextInt(3) - 1) * operands.get(index(operand)).format().lsbs();
  }

  /** A direction anywhere, of unit length. */
  double[] direction() {
    return unit(random.nextGaussian(), random.nextGaussian(), random.nextGaussian());
  }

  /** A direction across another. */
  double[] across(double[] d) {
    double[] v = direction();
    double along = v[0] * d[0] + v[1] * d[1] + v[2] * d[2];
    return unit(v[0] - along * d[0], v[1] - along * d[1], v[2] - along * d[2]);
  }

  static double[] unit(double x, double y, double z) {
    double length = Math.sqrt(x * x + y * y + z * z);
    return new double[] {x / length, y / length, z / length};
  }

  /** A point within half a scene of the middle. */
  double[] point() {
    return new double[] {between(-16, 16), between(-16, 16), between(-16, 16)};
  }

  static double[] sum(double[] a, double factor, double[] b) {
    return new double[] {a[0] + factor * b[0], a[1] + factor * b[1], a[2] + factor * b[2]};
  }

  /** Sets an operand to the code nearest to a value. */
  void set(String operand, double value) {
    int index = index(operand);
    columns[index][at] =
        operands
            .get(index)
            .format()
            .toCode(value, Rounding.HALF_CEILING, Overflow.SATURATE)
            .longValue();
  }

  /** Sets the three components of an operand. */
  void set(String operand, double[] xyz) {
    for (int axis = 0; axis < xyz.length; axis++) {
      set(operand + Vectors.suffix(axis), xyz[axis]);
    }
  }

  /** Sets the direction, or its inverse and the bits of parallel axes where those are asked for. */
  void setDirection(double[] d) {
    if (index("direction_x") >= 0) {
      set("direction", d);
      return;
    }
    for (int axis = 0; axis < d.length; axis++) {
      String suffix = Vectors.suffix(axis);
      set("parallel" + suffix, d[axis] == 0 ? 1 : 0);
      set("inverse" + suffix, d[axis] == 0 ? 0 : 1 / d[axis]);
    }
  }

  private int index(String operand) {
    for (int i = 0; i < operands.size(); i++) {
      if (operands.get(i).name().equals(operand)) {
        return i;
      }
    }
    return -1;
  }
}
