package dev.plumbline.models.light;

/** An interval of reals that is written over again and again; both ends belong to it. */
final class Interval {
  double low;
  double high;

  Interval set(double least, double greatest) {
    low = least;
    high = greatest;
    return this;
  }

  /** Wider by so much at both ends. */
  Interval widen(double by) {
    low -= by;
    high += by;
    return this;
  }

  /** A product of two; either may be this one. */
  Interval product(Interval a, Interval b) {
    double ll = a.low * b.low;
    double lh = a.low * b.high;
    double hl = a.high * b.low;
    double hh = a.high * b.high;
    return set(
        Math.min(Math.min(ll, lh), Math.min(hl, hh)), Math.max(Math.max(ll, lh), Math.max(hl, hh)));
  }

  Interval add(Interval other) {
    return set(low + other.low, high + other.high);
  }

  Interval subtract(Interval other) {
    return set(low - other.high, high - other.low);
  }

  Interval square() {
    double least = low > 0 ? low : high < 0 ? high : 0;
    double most = Math.max(Math.abs(low), Math.abs(high));
    return set(least * least, most * most);
  }

  /** One over it, which must not contain zero. */
  Interval inverse() {
    return set(1 / high, 1 / low);
  }

  double least() {
    return low > 0 ? low : high < 0 ? -high : 0;
  }

  double most() {
    return Math.max(Math.abs(low), Math.abs(high));
  }
}
