package dev.plumbline.samples;

import dev.plumbline.models.fixed.Format;

/** A point or a vector, in words. */
record Point(double x, double y, double z) {
  Point plus(double times, Point other) {
    return new Point(x + times * other.x, y + times * other.y, z + times * other.z);
  }

  Point minus(Point other) {
    return plus(-1, other);
  }

  Point cross(Point other) {
    return new Point(
        y * other.z - z * other.y, z * other.x - x * other.z, x * other.y - y * other.x);
  }

  double length() {
    return Math.sqrt(x * x + y * y + z * z);
  }

  /** Of length 1; straight up where it has none. */
  Point unit() {
    double length = length();
    return length == 0 ? new Point(0, 0, 1) : new Point(x / length, y / length, z / length);
  }

  /** The nearest codes. */
  long[] codes(Format format) {
    double last = format.lsbs();
    return new long[] {Math.round(x / last), Math.round(y / last), Math.round(z / last)};
  }
}
