package dev.plumbline.stimulus;

import dev.plumbline.models.fixed.Format;

/** {@link Generator#walkingOnes}. */
final class WalkingSource implements Generator.Source {
  private final int width;
  private final int signBit; // -1 when unsigned
  private int bit;

  WalkingSource(Format format) {
    this.width = format.width();
    this.signBit = format.signed() ? width - 1 : -1;
  }

  @Override
  public void fill(long[][] words, int from, int to) {
    for (int row = from; row < to; row++) {
      for (int word = 0; word < words.length; word++) {
        int within = bit - 64 * word;
        long one = within >= 0 && within < 64 ? 1L << within : 0;
        // A lone sign bit is the most negative code: its extension is all ones.
        words[word][row] = bit == signBit ? (within < 0 ? -1 : -one) : one;
      }
      bit = bit + 1 == width ? 0 : bit + 1;
    }
  }
}
