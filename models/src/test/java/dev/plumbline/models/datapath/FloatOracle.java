package dev.plumbline.models.datapath;

import java.math.BigInteger;

/** Floating point done in other ways: by scaling doubles to whole numbers, by exact rationals. */
final class FloatOracle {
  private FloatOracle() {}

  /** Rounds a double to a format by scaling it to whole numbers. */
  static long nearest(FloatFormat f, double value) {
    int bias = (1 << (f.exponentBits() - 1)) - 1;
    if (Double.isNaN(value)) {
      return f.nan();
    }
    long sign = Double.doubleToRawLongBits(value) < 0 ? 1L << (f.width() - 1) : 0;
    double size = Math.abs(value);
    int exponent = Math.max(size == 0 ? -2000 : Math.getExponent(size), 1 - bias);
    if (Double.isInfinite(size)) {
      return sign | f.infinity();
    }
    long whole = (long) Math.rint(Math.scalb(size, f.fractionBits() - exponent));
    long code = whole + ((long) (exponent - 1 + bias) << f.fractionBits());
    return sign | Math.min(code, f.infinity());
  }

  /** A code read by its digits. */
  static double number(FloatFormat f, long code) {
    int bias = (1 << (f.exponentBits() - 1)) - 1;
    long exponent = (code >> f.fractionBits()) % (1L << f.exponentBits());
    double fraction = (code % (1L << f.fractionBits())) / Math.pow(2, f.fractionBits());
    double size =
        exponent == (1L << f.exponentBits()) - 1
            ? fraction == 0 ? Double.POSITIVE_INFINITY : Double.NaN
            : exponent == 0
                ? fraction * Math.pow(2, 1 - bias)
                : (1 + fraction) * Math.pow(2, (int) exponent - bias);
    return code >> (f.width() - 1) == 1 ? -size : size;
  }

  // Exact rationals: a code is nearest to n/d where twice the distance is at most the gap.

  private static BigInteger units(FloatFormat f, long size) {
    // In units of the least subnormal number; infinity as the power of two it stands at.
    long exponent = size >> f.fractionBits();
    BigInteger fraction = BigInteger.valueOf(size % (1L << f.fractionBits()));
    return exponent == 0
        ? fraction
        : fraction.add(BigInteger.ONE.shiftLeft(f.fractionBits())).shiftLeft((int) exponent - 1);
  }

  private static int leastExponent(FloatFormat f) {
    return 2 - (1 << (f.exponentBits() - 1)) - f.fractionBits();
  }

  /** The code nearest to the magnitude n/d, or its square root. */
  static long search(FloatFormat f, BigInteger n, BigInteger d, boolean root) {
    long low = 0;
    long high = f.infinity();
    while (low < high) { // the greatest code at or below
      long middle = (low + high + 1) / 2;
      if (compare(units(f, middle), n, d, root, f) <= 0) {
        low = middle;
      } else {
        high = middle - 1;
      }
    }
    if (low == f.infinity()) {
      return low;
    }
    BigInteger half = units(f, low).add(units(f, low + 1));
    int side = compare(half, n, d.shiftLeft(0), root, f, 1);
    return side < 0 || (side == 0 && (low & 1) == 1) ? low + 1 : low;
  }

  private static int compare(
      BigInteger units, BigInteger n, BigInteger d, boolean root, FloatFormat f) {
    return compare(units, n, d, root, f, 0);
  }

  /** Whether units/2^halves least numbers are below, at or above n/d. */
  private static int compare(
      BigInteger units, BigInteger n, BigInteger d, boolean root, FloatFormat f, int halves) {
    int exponent = leastExponent(f) - halves; // negative, or a little above
    BigInteger left = root ? units.multiply(units) : units;
    int power = root ? 2 * exponent : exponent;
    left = left.multiply(d);
    BigInteger right = n;
    if (power < 0) {
      right = right.shiftLeft(-power);
    } else {
      left = left.shiftLeft(power);
    }
    return left.compareTo(right);
  }

  private static BigInteger[] rational(FloatFormat f, long code) {
    BigInteger n = units(f, code & ~(1L << (f.width() - 1)));
    int e = leastExponent(f);
    BigInteger d = BigInteger.ONE;
    if (e < 0) {
      d = d.shiftLeft(-e);
    } else {
      n = n.shiftLeft(e);
    }
    return new BigInteger[] {code >> (f.width() - 1) == 1 ? n.negate() : n, d};
  }

  /** Finite operands and results other than zero; the rest is a table of special cases. */
  static long exact(FloatFormat f, int operation, long x, long y, long z) {
    BigInteger[] a = rational(f, x);
    BigInteger[] b = rational(f, y);
    BigInteger[] c = rational(f, z);
    BigInteger n;
    BigInteger d;
    switch (operation) {
      case 0, 1 -> {
        BigInteger other = operation == 0 ? b[0] : b[0].negate();
        n = a[0].multiply(b[1]).add(other.multiply(a[1]));
        d = a[1].multiply(b[1]);
      }
      case 2 -> {
        n = a[0].multiply(b[0]);
        d = a[1].multiply(b[1]);
      }
      case 3 -> {
        n = a[0].multiply(b[1]).multiply(BigInteger.valueOf(b[0].signum()));
        d = a[1].multiply(b[0].abs());
      }
      case 4 -> {
        n = a[0].multiply(b[0]).multiply(c[1]).add(c[0].multiply(a[1]).multiply(b[1]));
        d = a[1].multiply(b[1]).multiply(c[1]);
      }
      default -> {
        n = a[0];
        d = a[1];
      }
    }
    long size = search(f, n.abs(), d, operation == 5);
    return n.signum() < 0 ? size | 1L << (f.width() - 1) : size;
  }

  static boolean special(FloatFormat f, int operation, long x, long y, long z) {
    double a = number(f, x);
    double b = number(f, y);
    double c = number(f, z);
    double rough =
        switch (operation) {
          case 0 -> a + b;
          case 1 -> a - b;
          case 2 -> a * b;
          case 3 -> a / b;
          case 4 -> a * b + c;
          default -> Math.sqrt(a);
        };
    return Double.isNaN(a * 0 + b * 0 + (operation == 4 ? c * 0 : 0))
        || rough == 0
        || Double.isNaN(rough)
        || Double.isInfinite(rough);
  }
}
