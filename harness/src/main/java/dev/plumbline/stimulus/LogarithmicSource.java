package dev.plumbline.stimulus;

import dev.plumbline.models.fixed.Format;

/** {@link Generator#logarithmic}: a number of significant bits, then bits below the leading one. */
final class LogarithmicSource implements Generator.Source {
  private final RandomStream stream;
  private final int sizes;
  private final boolean signed;

  LogarithmicSource(Format format, long seed) {
    this.stream = RandomStream.of(seed);
    this.signed = format.signed();
    // Significant bits of a magnitude, from none up to all; the most negative code is left to the
    // corners.
    this.sizes = (signed ? format.width() - 1 : format.width()) + 1;
  }

  @Override
  public void fill(long[][] words, int from, int to) {
    if (words.length > 1) {
      fillWide(words, from, to);
      return;
    }
    stream.state(fill(words[0], from, to, stream.state(), sizes, signed ? 1 : 0));
  }

  /** With the state in a variable and no branch; returns it as it is afterwards. */
  private static long fill(long[] column, int from, int to, long state, long sizes, long signBit) {
    long next = state;
    for (int row = from; row < to; row++) {
      long draw = RandomStream.mix(next + RandomStream.STEP);
      next += RandomStream.STEP; // twice, since twice the step is more than a long holds
      next += RandomStream.STEP;
      long bits = ((draw >>> 32) * sizes) >>> 32;
      // In two steps, the second by up to 63: no bits at all are 0.
      long magnitude = ((RandomStream.mix(next) | Long.MIN_VALUE) >>> 1) >>> (63 - bits);
      long sign = -(draw & signBit);
      column[row] = (magnitude ^ sign) - sign;
    }
    return next;
  }

  private long magnitude(int bits) {
    long below = stream.next();
    return bits == 0 ? 0 : (below | Long.MIN_VALUE) >>> (64 - bits);
  }

  private void fillWide(long[][] words, int from, int to) {
    for (int row = from; row < to; row++) {
      long draw = stream.next();
      int bits = (int) (((draw >>> 32) * sizes) >>> 32);
      boolean negative = signed && (draw & 1) == 1;
      long low = stream.next();
      long high = magnitude(Math.max(0, bits - 64));
      if (bits <= 64) {
        low = bits == 0 ? 0 : (low | Long.MIN_VALUE) >>> (64 - bits);
      }
      words[0][row] = negative ? -low : low;
      words[1][row] = negative ? (low == 0 ? -high : ~high) : high;
    }
  }
}
