package dev.plumbline.models.datapath;

/**
 * Operations on numbers of 24 significant bits, to a double that is exact or rounded to odd: of the
 * two doubles around what it should be, the one whose last bit is 1. Rounded again to 24 bits or
 * fewer, in any direction, that gives what the exact result would (S. Boldo and G. Melquiond,
 * Emulation of a FMA and correctly rounded sums: proved algorithms using rounding to odd, IEEE
 * Trans. Comp. 57(4), 2008). Infinities, NaN and the signs of zeros are those of doubles.
 */
enum FloatOperation {
  ADD("%s + %s"),
  SUBTRACT("%s - %s"),
  MULTIPLY("%s * %s"),
  DIVIDE("%s / %s"),
  FUSED("%s * %s + %s"),
  ROOT("root of %s"),
  CONVERT("%s");

  private final String words;

  FloatOperation(String words) {
    this.words = words;
  }

  String words() {
    return words;
  }

  double odd(double a, double b, double c) {
    return switch (this) {
      case ADD -> sum(a, b);
      case SUBTRACT -> sum(a, -b);
      case MULTIPLY -> a * b; // 48 bits: exact
      case DIVIDE -> {
        double quotient = a / b;
        double rest = Math.fma(-quotient, b, a);
        yield odd(quotient, b < 0 ? -rest : rest);
      }
      case FUSED -> sum(a * b, c);
      case ROOT -> {
        double root = Math.sqrt(a);
        yield odd(root, Math.fma(-root, root, a));
      }
      case CONVERT -> a;
    };
  }

  private static double sum(double a, double b) {
    double sum = a + b;
    double second = sum - a;
    return odd(sum, (a - (sum - second)) + (b - second));
  }

  /** A double that is rounded to nearest, and which way the rest of it lies; NaN is no rest. */
  static double odd(double near, double rest) {
    long bits = Double.doubleToRawLongBits(near);
    if ((bits & 1) != 0 || !(rest > 0 || rest < 0) || Double.isInfinite(near)) {
      return near;
    }
    return Double.longBitsToDouble(rest > 0 == near > 0 ? bits + 1 : bits - 1);
  }

  /** A code of two words as a double, rounded to odd. */
  static double odd(long high, long low) {
    if (high == low >> 63 && Math.abs(low) < 1L << 53 && low != Long.MIN_VALUE) {
      return low;
    }
    long sign = high >> 63;
    long sizeLow = (low ^ sign) - sign;
    long sizeHigh = (high ^ sign) + (sign & (low == 0 ? 1 : 0));
    int length =
        sizeHigh != 0
            ? 128 - Long.numberOfLeadingZeros(sizeHigh)
            : 64 - Long.numberOfLeadingZeros(sizeLow);
    int dropped = length - 53;
    long kept =
        dropped < 64
            ? (sizeLow >>> dropped) | (sizeHigh << 1 << (63 - dropped))
            : sizeHigh >>> (dropped - 64);
    long lostLow = dropped < 64 ? sizeLow & ((1L << dropped) - 1) : sizeLow;
    long lostHigh = dropped <= 64 ? 0 : sizeHigh & ((1L << (dropped - 64)) - 1);
    double size = Math.scalb((double) (kept | ((lostLow | lostHigh) != 0 ? 1 : 0)), dropped);
    return sign != 0 ? -size : size;
  }
}
