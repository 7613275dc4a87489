package dev.plumbline.stimulus;

import dev.plumbline.models.fixed.Format;

/** {@link Generator#drawn}. */
final class DrawnSource implements Generator.Source {
  private final RandomStream stream;
  private final Generator.Draw draw;
  private final int drop;
  private final boolean signed;

  DrawnSource(Format format, Generator.Draw draw, long seed) {
    if (format.words() > 1) {
      throw new IllegalArgumentException(
          "Values of "
              + format
              + " cannot be drawn one long at a time; up to 64 bits are allowed. Implement"
              + " Generator and fill both words.");
    }
    this.stream = RandomStream.of(seed);
    this.draw = draw;
    this.drop = 64 - format.width();
    this.signed = format.signed();
  }

  @Override
  public void fill(long[][] words, int from, int to) {
    long[] column = words[0];
    for (int row = from; row < to; row++) {
      long code = draw.next(stream) << drop;
      column[row] = signed ? code >> drop : code >>> drop;
    }
  }
}
