package dev.plumbline.stimulus;

import dev.plumbline.models.fixed.Format;

/** {@link Generator#uniform}: formats of up to 32 bits take two cases from each draw. */
final class UniformSource {
  private UniformSource() {}

  static Generator.Source open(Format format, long seed) {
    RandomStream stream = RandomStream.of(seed);
    if (format.width() <= 32) {
      return new Narrow(format, stream);
    }
    int words = format.words();
    int drop = 64 * words - format.width();
    return (columns, from, to) -> {
      for (int row = from; row < to; row++) {
        for (int word = 0; word < words - 1; word++) {
          columns[word][row] = stream.next();
        }
        long top = stream.next();
        columns[words - 1][row] = format.signed() ? top >> drop : top >>> drop;
      }
    };
  }

  /** The hot case: state in a local variable, no branch in the loop. */
  private static final class Narrow implements Generator.Source {
    private final RandomStream stream;
    private final int drop;
    private final boolean signed;
    private boolean hasSpare;
    private long spare;

    Narrow(Format format, RandomStream stream) {
      this.stream = stream;
      this.drop = 64 - format.width();
      this.signed = format.signed();
    }

    @Override
    public void fill(long[][] words, int from, int to) {
      long[] column = words[0];
      int row = from;
      if (hasSpare && row < to) {
        column[row++] = spare;
        hasSpare = false;
      }
      int pairs = (to - row) >> 1;
      if (signed) {
        fillSigned(column, row, pairs);
      } else {
        fillUnsigned(column, row, pairs);
      }
      row += 2 * pairs;
      if (row < to) {
        long draw = stream.next();
        column[row] = signed ? draw >> drop : draw >>> drop;
        spare = signed ? (draw << 32) >> drop : (draw << 32) >>> drop;
        hasSpare = true;
      }
    }

    private void fillSigned(long[] column, int from, int pairs) {
      long state = stream.state();
      int shift = drop;
      int end = from + 2 * pairs;
      for (int row = from; row < end; row += 2) {
        state += RandomStream.STEP;
        long draw = RandomStream.mix(state);
        column[row] = draw >> shift;
        column[row + 1] = (draw << 32) >> shift;
      }
      stream.state(state);
    }

    private void fillUnsigned(long[] column, int from, int pairs) {
      long state = stream.state();
      int shift = drop;
      int end = from + 2 * pairs;
      for (int row = from; row < end; row += 2) {
        state += RandomStream.STEP;
        long draw = RandomStream.mix(state);
        column[row] = draw >>> shift;
        column[row + 1] = (draw << 32) >>> shift;
      }
      stream.state(state);
    }
  }
}
