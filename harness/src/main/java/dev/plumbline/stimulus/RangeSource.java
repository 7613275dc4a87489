package dev.plumbline.stimulus;

import dev.plumbline.models.fixed.Format;
import java.math.BigDecimal;
import java.math.BigInteger;

/**
 * {@link Generator#uniform(long, long)} and {@link Generator#between}: low + draw * size / 2^64.
 */
final class RangeSource implements Generator.Source {
  private static final BigInteger LARGEST_SPAN = BigInteger.ONE.shiftLeft(61);

  private final RandomStream stream;
  private final long low;
  private final long size;
  private final boolean wide;
  private final boolean signed;

  private RangeSource(Format format, BigInteger low, BigInteger high, long seed) {
    BigInteger span = high.subtract(low);
    if (!format.holds(low)
        || !format.holds(high)
        || span.signum() < 0
        || span.compareTo(LARGEST_SPAN) >= 0) {
      throw new IllegalArgumentException(
          "A range of codes from "
              + low
              + " to "
              + high
              + " cannot be drawn from in "
              + format
              + "; allowed are 1 to 2^61 codes from "
              + format.minCode()
              + " to "
              + format.maxCode()
              + ".");
    }
    if (low.bitLength() > 63 || high.bitLength() > 63) {
      throw new IllegalArgumentException(
          "A range of codes from "
              + low
              + " to "
              + high
              + " does not fit 64 bits; give a generator of your own for such values.");
    }
    this.stream = RandomStream.of(seed);
    this.low = low.longValueExact();
    this.size = span.longValueExact() + 1;
    this.wide = format.words() > 1;
    this.signed = format.signed();
  }

  static Generator generator(long low, long high) {
    return (format, seed) ->
        new RangeSource(format, BigInteger.valueOf(low), BigInteger.valueOf(high), seed);
  }

  static Generator generator(double low, double high) {
    BigDecimal exactLow = CodeWords.finite(low);
    BigDecimal exactHigh = CodeWords.finite(high);
    return (format, seed) ->
        new RangeSource(
            format, CodeWords.ceiling(format, exactLow), CodeWords.floor(format, exactHigh), seed);
  }

  @Override
  public void fill(long[][] words, int from, int to) {
    long[] column = words[0];
    for (int row = from; row < to; row++) {
      column[row] = low + Math.multiplyHigh(stream.next() >>> 1, size << 1);
    }
    if (wide) {
      CodeWords.extend(words, from, to, signed);
    }
  }
}
