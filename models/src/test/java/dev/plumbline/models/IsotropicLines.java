package dev.plumbline.models;

import java.util.Random;

/**
 * Random lines that hit a sphere about the origin: uniform direction, and uniform offset in the
 * disc across it (one of the two valid ways of outside check C13).
 *
 * <p>{@link Random} is specified to the bit, so a seed names the same lines on every JDK.
 */
public final class IsotropicLines {
  private final Random random;
  private final double radius;

  /** The unit direction of the line drawn last. */
  public final double[] direction = new double[3];

  /** A point of the line in front of the sphere. */
  public final double[] origin = new double[3];

  public IsotropicLines(long seed, double radius) {
    this.random = new Random(seed);
    this.radius = radius;
  }

  public void next() {
    double[] n = direction;
    n[2] = 2 * random.nextDouble() - 1;
    double ring = Math.sqrt(1 - n[2] * n[2]);
    double turn = 2 * Math.PI * random.nextDouble();
    n[0] = ring * Math.cos(turn);
    n[1] = ring * Math.sin(turn);
    double reach = radius * Math.sqrt(random.nextDouble());
    double at = 2 * Math.PI * random.nextDouble();
    double u = reach * Math.cos(at);
    double v = reach * Math.sin(at);
    // Two unit vectors across the direction; the pole has no meridian, and is never drawn exactly.
    double ex = -n[1] / ring;
    double ey = n[0] / ring;
    double fx = -n[2] * ey;
    double fy = n[2] * ex;
    double fz = n[0] * ey - n[1] * ex;
    double back = 2 * radius;
    origin[0] = u * ex + v * fx - back * n[0];
    origin[1] = u * ey + v * fy - back * n[1];
    origin[2] = v * fz - back * n[2];
  }
}
