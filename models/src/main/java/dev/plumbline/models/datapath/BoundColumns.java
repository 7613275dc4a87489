package dev.plumbline.models.datapath;

/** The lanes of an evaluation in bounds: the low and the high end of each value's interval. */
final class BoundColumns {
  private final Columns low;
  private final Columns high;
  private Value divisor; // that is inverted last

  BoundColumns(Columns low, Columns high) {
    this.low = low;
    this.high = high;
  }

  Lane low(Value value) {
    return low.lane(value);
  }

  Lane high(Value value) {
    return high.lane(value);
  }

  /** Whether both ends are the same column, since no rounding came before. */
  boolean point(Value value) {
    return low(value) == high(value);
  }

  Lane scratch(int i, boolean wide) {
    return low.scratch(i, wide);
  }

  double[] reals(int i) {
    return low.reals(i);
  }

  /**
   * What fills {@link #inverseLow} and {@link #inverseHigh} with one over the ends of a value of
   * one word: nothing where the division bound before was by the same.
   */
  Loop inverted(Value value) {
    if (value == divisor) {
      return Loop.NOTHING;
    }
    divisor = value;
    long[] least = low(value).low;
    long[] greatest = high(value).low;
    double[] first = inverseLow();
    double[] last = inverseHigh();
    return Loop.all(
        Wide.toReals(least, value.range(), first),
        invert(first),
        Wide.toReals(greatest, value.range(), last),
        invert(last));
  }

  private static Loop invert(double[] reals) {
    return Loop.of(n -> invert(reals, n), reals, "1 / $0", reals);
  }

  private static void invert(double[] reals, int count) {
    for (int i = 0; i < count; i++) {
      reals[i] = 1 / reals[i];
    }
  }

  double[] inverseLow() {
    return reals(2);
  }

  double[] inverseHigh() {
    return reals(3);
  }

  /** Has the next division invert its divisor anew. */
  void forgetInverse() {
    divisor = null;
  }

  int capacity() {
    return low.capacity();
  }
}
