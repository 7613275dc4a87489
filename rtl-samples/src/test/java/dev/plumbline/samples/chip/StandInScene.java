package dev.plumbline.samples.chip;

import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;

/**
 * A few solids, met by rays in doubles: what stands in for the executor, and the ideal beside it.
 */
final class StandInScene {
  private static final double NOTHING = 32000;

  /** A solid: what it is made of, and where a ray enters or leaves it. */
  private record Solid(int operation, int material, double[] slots) {}

  /**
   * What a ray meets first.
   *
   * @param distance in lengths of the direction
   * @param normal outwards, of length 1
   */
  record Hit(int address, int material, int face, double distance, double[] normal) {}

  private final List<Solid> solids = new ArrayList<>();

  StandInScene sphere(int material, double x, double y, double z, double radius) {
    solids.add(new Solid(4, material, new double[] {x, y, z, radius, 1 / radius, 0}));
    return this;
  }

  StandInScene halfSpace(int material, double x, double y, double z, double level) {
    solids.add(new Solid(5, material, new double[] {x, y, z, level, 0, 0}));
    return this;
  }

  StandInScene box(int material, double... ends) {
    solids.add(new Solid(6, material, ends));
    return this;
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
        if (t <= beyond || t > NOTHING) {
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
        return slope == 0 || at <= beyond || at > NOTHING
            ? null
            : new Hit(address, solid.material(), 0, at, new double[] {s[0], s[1], s[2]});
      default:
        return box(address, solid, o, d, beyond);
    }
  }

  private static Hit box(int address, Solid solid, double[] o, double[] d, double beyond) {
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
    if (near > far || t <= beyond || t > NOTHING) {
      return null;
    }
    int face = near > beyond ? nearFace : farFace;
    double[] normal = new double[3];
    normal[face / 2] = face % 2 == 0 ? -1 : 1;
    return new Hit(address, solid.material(), face, t, normal);
  }

  /** The program word at an address, at default parameters: 216 bits in words of 64. */
  long[] word(int address) {
    Solid solid = solids.get(address);
    BigInteger bits = BigInteger.valueOf(solid.operation() | solid.material() << 4);
    for (int slot = 0; slot < 6; slot++) {
      long code = Math.round(solid.slots()[slot] * 65536);
      boolean isUnit = solid.operation() == 5 && slot < 3;
      long mask = isUnit ? 0x3FFFF : 0xFFFF_FFFFL;
      bits = bits.or(BigInteger.valueOf(code & mask).shiftLeft(24 + 32 * slot));
    }
    return SequencerDriver.words(bits, 216);
  }

  static double dot(double[] a, double[] b) {
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  }
}
