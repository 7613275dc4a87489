package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;
import java.util.function.UnaryOperator;

/** The codes a value can take, both ends included; arithmetic on it is exact. */
record Range(BigInteger min, BigInteger max) {
  static final Range BIT = new Range(BigInteger.ZERO, BigInteger.ONE);

  static Range of(Format format) {
    return new Range(format.minCode(), format.maxCode());
  }

  static Range of(BigInteger a, BigInteger b) {
    return new Range(a.min(b), a.max(b));
  }

  Range plus(Range other) {
    return new Range(min.add(other.min), max.add(other.max));
  }

  Range minus(Range other) {
    return new Range(min.subtract(other.max), max.subtract(other.min));
  }

  Range times(Range other) {
    Range low = of(min.multiply(other.min), min.multiply(other.max));
    return low.hull(of(max.multiply(other.min), max.multiply(other.max)));
  }

  Range negated() {
    return new Range(max.negate(), min.negate());
  }

  Range magnitude() {
    if (min.signum() >= 0) {
      return this;
    }
    return max.signum() <= 0 ? negated() : new Range(BigInteger.ZERO, min.negate().max(max));
  }

  Range hull(Range other) {
    return new Range(min.min(other.min), max.max(other.max));
  }

  /** The range of the smaller (or, below, the larger) of two values. */
  Range smaller(Range other) {
    return new Range(min.min(other.min), max.min(other.max));
  }

  Range larger(Range other) {
    return new Range(min.max(other.min), max.max(other.max));
  }

  Range shiftedLeft(int bits) {
    return new Range(min.shiftLeft(bits), max.shiftLeft(bits));
  }

  /** What is left of the low bits' removal, whichever way each code is rounded. */
  Range rounded(int bits) {
    return new Range(min.shiftRight(bits), ceiling(max, bits));
  }

  static BigInteger ceiling(BigInteger code, int bits) {
    return code.negate().shiftRight(bits).negate();
  }

  /** The image under a function that never decreases. */
  Range map(UnaryOperator<BigInteger> function) {
    return new Range(function.apply(min), function.apply(max));
  }

  boolean within(Range other) {
    return min.compareTo(other.min) >= 0 && max.compareTo(other.max) <= 0;
  }

  boolean within(long low, long high) {
    return within(new Range(BigInteger.valueOf(low), BigInteger.valueOf(high)));
  }

  /**
   * Whether the difference of any two of its codes fits a signed word, so that its sign decides.
   */
  boolean roomy() {
    return max.subtract(min).bitLength() <= 63;
  }

  /** The same of two words. */
  boolean roomyInTwoWords() {
    return max.subtract(min).bitLength() <= 127;
  }

  /** Bits of the smallest format that holds every code; unsigned when none is negative. */
  int bits() {
    return min.signum() < 0
        ? Math.max(min.bitLength(), max.bitLength()) + 1
        : Math.max(1, max.bitLength());
  }

  /** Bits that a signed column needs; up to 64 stand in one word. */
  int columnBits() {
    return Math.max(min.bitLength(), max.bitLength()) + 1;
  }

  Format format(int fractionBits) {
    return new Format(min.signum() < 0, bits(), fractionBits);
  }
}
