package dev.plumbline.samples.chip;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.program.SceneFormats;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;

/**
 * A few solids, met by rays in doubles: what stands in for the executor, and the ideal beside it.
 */
final class StandInScene {

  /** A solid: what it is made of, and where a ray enters or leaves it. */
  private record Solid(int operation, int material, long[] codes, double[] slots) {}

  /**
   * What a ray meets first.
   *
   * @param distance in lengths of the direction
   * @param normal outwards, of length 1
   */
  record Hit(int address, int material, int face, double distance, double[] normal) {}

  private final Formats formats;
  private final List<Solid> solids = new ArrayList<>();

  StandInScene() {
    this(Formats.STANDARD);
  }

  StandInScene(Formats formats) {
    this.formats = formats;
  }

  StandInScene sphere(int material, double x, double y, double z, double radius) {
    long code = formats.wordCode(radius);
    // Rounded to nearest, as whoever writes the program does.
    long one = 1L << 2 * formats.wordFraction();
    long inverse = Formats.saturated((2 * one + code) / (2 * code), formats.wordBits());
    return add(4, material, word(x), word(y), word(z), code, inverse, 0);
  }

  StandInScene halfSpace(int material, double x, double y, double z, double level) {
    return add(
        5,
        material,
        formats.unitCode(x),
        formats.unitCode(y),
        formats.unitCode(z),
        word(level),
        0,
        0);
  }

  StandInScene box(int material, double... ends) {
    return add(
        6,
        material,
        word(ends[0]),
        word(ends[1]),
        word(ends[2]),
        word(ends[3]),
        word(ends[4]),
        word(ends[5]));
  }

  private long word(double value) {
    return formats.wordCode(value);
  }

  private StandInScene add(int operation, int material, long... codes) {
    double[] slots = new double[6];
    for (int i = 0; i < slots.length; i++) {
      boolean isUnit = operation == 5 && i < 3;
      slots[i] = isUnit ? formats.unit(codes[i]) : formats.word(codes[i]);
    }
    solids.add(new Solid(operation, material, codes, slots));
    return this;
  }

  /** The solids as a program of the models, each an object of its own, at the same addresses. */
  Program program() {
    Program.Builder program =
        Program.builder(
            SceneFormats.of(
                Format.signed(formats.wordBits() - formats.wordFraction(), formats.wordFraction()),
                Format.signed(formats.unitBits() - formats.unitFraction(), formats.unitFraction())),
            new ProgramLimits(1024, 4, 256));
    for (Solid solid : solids) {
      long[] c = solid.codes();
      program.begin();
      switch (solid.operation()) {
        case 4 -> program.sphere(solid.material(), c[0], c[1], c[2], c[3]);
        case 5 -> program.halfSpace(solid.material(), c[0], c[1], c[2], c[3]);
        default -> program.box(solid.material(), c);
      }
      program.close();
    }
    return program.end().build();
  }

  /** Where {@link #program} has a solid. */
  static int addressInProgram(int address) {
    return 3 * address + 1;
  }

  /** What a ray of codes meets beyond its origin; none gives null. */
  Hit meet(long[] origin, long[] direction) {
    double[] from = new double[3];
    double[] along = new double[3];
    for (int k = 0; k < 3; k++) {
      from[k] = formats.word(origin[k]);
      along[k] = formats.unit(direction[k]);
    }
    return meet(from, along, 0);
  }

  /** The nearest surface beyond a distance; none gives null. */
  Hit meet(double[] origin, double[] direction, double beyond) {
    Hit nearest = null;
    for (int i = 0; i < solids.size(); i++) {
      Hit hit = meet(i, origin, direction, beyond);
      if (hit != null && (nearest == null || hit.distance() < nearest.distance())) {
        nearest = hit;
      }
    }
    return nearest;
  }

  private Hit meet(int address, double[] o, double[] d, double beyond) {
    Solid solid = solids.get(address);
    double[] s = solid.slots();
    switch (solid.operation()) {
      case 4:
        double[] from = {o[0] - s[0], o[1] - s[1], o[2] - s[2]};
        double squared = dot(d, d);
        double half = dot(from, d);
        double root = half * half - squared * (dot(from, from) - s[3] * s[3]);
        if (root < 0) {
          return null;
        }
        double entry = (-half - Math.sqrt(root)) / squared;
        double t = entry > beyond ? entry : (-half + Math.sqrt(root)) / squared;
        if (t <= beyond || t > farthest()) {
          return null;
        }
        double[] normal = new double[3];
        for (int k = 0; k < 3; k++) {
          normal[k] = (from[k] + t * d[k]) / s[3];
        }
        return new Hit(address, solid.material(), 0, t, normal);
      case 5:
        double slope = dot(s, d);
        double at = (s[3] - dot(s, o)) / slope;
        return slope == 0 || at <= beyond || at > farthest()
            ? null
            : new Hit(address, solid.material(), 0, at, new double[] {s[0], s[1], s[2]});
      default:
        return box(address, solid, o, d, beyond);
    }
  }

  private Hit box(int address, Solid solid, double[] o, double[] d, double beyond) {
    double near = Double.NEGATIVE_INFINITY;
    double far = Double.POSITIVE_INFINITY;
    int nearFace = 0;
    int farFace = 0;
    for (int k = 0; k < 3; k++) {
      double low = (solid.slots()[k] - o[k]) / d[k];
      double high = (solid.slots()[3 + k] - o[k]) / d[k];
      if (Math.min(low, high) > near) {
        near = Math.min(low, high);
        nearFace = 2 * k + (low < high ? 0 : 1);
      }
      if (Math.max(low, high) < far) {
        far = Math.max(low, high);
        farFace = 2 * k + (low < high ? 1 : 0);
      }
    }
    double t = near > beyond ? near : far;
    if (near > far || t <= beyond || t > farthest()) {
      return null;
    }
    int face = near > beyond ? nearFace : farFace;
    double[] normal = new double[3];
    normal[face / 2] = face % 2 == 0 ? -1 : 1;
    return new Hit(address, solid.material(), face, t, normal);
  }

  /** The program word of a solid, in words of 64 bits. */
  long[] word(int address) {
    Solid solid = solids.get(address);
    BigInteger bits = BigInteger.valueOf(solid.operation() | solid.material() << 4);
    for (int slot = 0; slot < 6; slot++) {
      boolean isUnit = solid.operation() == 5 && slot < 3;
      long mask = (1L << (isUnit ? formats.unitBits() : formats.wordBits())) - 1;
      long code = solid.codes()[slot] & mask;
      bits = bits.or(BigInteger.valueOf(code).shiftLeft(24 + formats.wordBits() * slot));
    }
    return SequencerDriver.words(bits, 24 + 6 * formats.wordBits());
  }

  private double farthest() {
    return formats.word((1L << formats.wordBits() - 1) - 2);
  }

  static double dot(double[] a, double[] b) {
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  }
}
