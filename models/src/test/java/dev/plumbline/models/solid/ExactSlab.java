package dev.plumbline.models.solid;

import java.math.BigInteger;

/**
 * The slab rule of Kay and Kajiya (1986) in exact fractions, for rays and boxes given as whole
 * codes; shares nothing with the model.
 */
final class ExactSlab {
  private Fraction near;
  private Fraction far;
  private boolean missed;

  /** A fraction with a positive denominator. */
  record Fraction(BigInteger numerator, BigInteger denominator) implements Comparable<Fraction> {
    static Fraction of(BigInteger numerator, BigInteger denominator) {
      return denominator.signum() < 0
          ? new Fraction(numerator.negate(), denominator.negate())
          : new Fraction(numerator, denominator);
    }

    @Override
    public int compareTo(Fraction other) {
      return numerator.multiply(other.denominator).compareTo(other.numerator.multiply(denominator));
    }

    double value() {
      return numerator.doubleValue() / denominator.doubleValue();
    }
  }

  /**
   * Cuts the ray by one more pair of faces.
   *
   * <p>Distances are whole codes; the ray advances {@code up / down} distance codes for each unit
   * of the parameter (either may be negative, {@code up} may be zero for a parallel axis).
   */
  void cut(long toMin, long toMax, long up, long down, boolean facesCount) {
    if (up == 0) {
      boolean inside = facesCount ? toMin <= 0 && toMax >= 0 : toMin < 0 && toMax > 0;
      missed |= !inside;
      return;
    }
    BigInteger divisor = BigInteger.valueOf(up);
    Fraction first = Fraction.of(times(toMin, down), divisor);
    Fraction second = Fraction.of(times(toMax, down), divisor);
    boolean inOrder = first.compareTo(second) <= 0;
    Fraction nearer = inOrder ? first : second;
    Fraction farther = inOrder ? second : first;
    near = near == null || nearer.compareTo(near) > 0 ? nearer : near;
    far = far == null || farther.compareTo(far) < 0 ? farther : far;
  }

  private static BigInteger times(long a, long b) {
    return BigInteger.valueOf(a).multiply(BigInteger.valueOf(b));
  }

  /**
   * Whether the line's part inside all slabs reaches the ray's start or beyond; touching counts.
   */
  boolean hit() {
    return !missed && (near == null || (near.compareTo(far) <= 0 && far.numerator().signum() >= 0));
  }

  /** The largest entry; null when every axis is parallel. */
  Fraction near() {
    return near;
  }

  /** The smallest exit; null when every axis is parallel. */
  Fraction far() {
    return far;
  }
}
