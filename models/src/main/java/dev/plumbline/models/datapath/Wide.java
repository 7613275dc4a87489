package dev.plumbline.models.datapath;

/** Two-word arithmetic on scalars, for wide loops: each method gives one word of a result. */
final class Wide {
  private static final int SHORT = 51; // bits of a code that is easily made a double

  private Wide() {}

  static boolean less(long aHigh, long aLow, long bHigh, long bLow) {
    return aHigh < bHigh || (aHigh == bHigh && Long.compareUnsigned(aLow, bLow) < 0);
  }

  /** The carry out of {@code a + b}, given their sum. */
  static long carry(long a, long b, long sum) {
    return ((a & b) | ((a | b) & ~sum)) >>> 63;
  }

  /** The borrow out of {@code a - b}, given their difference. */
  static long borrow(long a, long b, long difference) {
    return ((~a & b) | ((~a | b) & difference)) >>> 63;
  }

  static long unsignedMultiplyHigh(long a, long b) {
    return Math.multiplyHigh(a, b) + ((a >> 63) & b) + ((b >> 63) & a);
  }

  // Shifts by 0 to 127.

  static long leftLow(long low, int bits) {
    return bits < 64 ? low << bits : 0;
  }

  static long leftHigh(long high, long low, int bits) {
    return bits < 64 ? (high << bits) | (low >>> 1 >>> (63 - bits)) : low << (bits - 64);
  }

  static long rightLow(long high, long low, int bits) {
    return bits < 64 ? (low >>> bits) | (high << 1 << (63 - bits)) : high >> (bits - 64);
  }

  static long rightHigh(long high, int bits) {
    return bits < 64 ? high >> bits : high >> 63;
  }

  /**
   * The sign, all ones or zero, of a - b, which fits two words.
   *
   * @return -1 where a is less
   */
  static long lessMask(long aHigh, long aLow, long bHigh, long bLow) {
    return (aHigh - bHigh - borrow(aLow, bLow, aLow - bLow)) >> 63;
  }

  /**
   * The nearest double, or a neighbour of it; a code of one word is converted as such. The low word
   * is taken with its sign, which the high one makes up for, so that nothing is cancelled.
   */
  static double toDouble(long high, long low) {
    return high == low >> 63 ? low : ((double) high - (low >> 63)) * 0x1p64 + low;
  }

  // Conversions of whole columns, apart from what is done with them: a loop with one of them in it
  // does not run in vectors.

  static Loop toReals(long[] codes, Range range, double[] out) {
    String reals = range.columnBits() <= SHORT ? "short_reals($0)" : "reals($0)";
    return Loop.of(n -> toReals(codes, out, n), out, reals, codes);
  }

  private static void toReals(long[] codes, double[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = codes[i];
    }
  }

  /** What is whole and fits 51 bits, unless nobody asks for it. */
  static Loop toExactCodes(double[] reals, long[] out) {
    return Loop.of(n -> toCodes(reals, out, n), out, "exact_codes($0)", reals);
  }

  /** The whole parts of the same. */
  static Loop toCodes(double[] reals, long[] out) {
    return Loop.of(n -> toCodes(reals, out, n), out, "short_codes($0)", reals);
  }

  private static void toCodes(double[] reals, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = (long) reals[i];
    }
  }
}
