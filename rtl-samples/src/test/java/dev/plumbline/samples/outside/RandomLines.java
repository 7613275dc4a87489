package dev.plumbline.samples.outside;

import dev.plumbline.stimulus.RandomStream;

/**
 * Isotropic uniform random lines that hit a sphere about the origin: a uniform direction and a
 * uniform offset in the disc across it, one of the two valid ways of outside check C13.
 *
 * <p>The direction is drawn from the disc without angles (G. Marsaglia, Choosing a point from the
 * surface of a sphere, Ann. Math. Stat. 43(2), 1972). Only square roots and the four operations are
 * used, so a seed names the same lines on every JDK.
 */
final class RandomLines {
  private final RandomStream chance;
  private final double radius;
  private double u; // of the point drawn last in the unit disc
  private double v;

  /** The unit direction of the line drawn last. */
  final double[] direction = new double[3];

  /** A point of the line in front of the sphere. */
  final double[] origin = new double[3];

  RandomLines(long seed, double radius) {
    this.chance = RandomStream.of(seed);
    this.radius = radius;
  }

  void next() {
    double[] n = direction;
    double square = inDisc();
    double ring = 2 * Math.sqrt(1 - square);
    n[0] = u * ring;
    n[1] = v * ring;
    n[2] = 1 - 2 * square;
    inDisc();
    // Two unit vectors across the direction; the poles have no meridian, and are never drawn.
    double meridian = Math.sqrt(n[0] * n[0] + n[1] * n[1]);
    double ex = -n[1] / meridian;
    double ey = n[0] / meridian;
    double fx = -n[2] * ey;
    double fy = n[2] * ex;
    double fz = n[0] * ey - n[1] * ex;
    origin[0] = radius * (u * ex + v * fx - 2 * n[0]);
    origin[1] = radius * (u * ey + v * fy - 2 * n[1]);
    origin[2] = radius * (v * fz - 2 * n[2]);
  }

  /** Draws a point in the unit disc; gives the square of its distance from the middle, never 0. */
  private double inDisc() {
    double square;
    do {
      u = 2 * chance.unit() - 1;
      v = 2 * chance.unit() - 1;
      square = u * u + v * v;
    } while (square >= 1 || square == 0);
    return square;
  }
}
