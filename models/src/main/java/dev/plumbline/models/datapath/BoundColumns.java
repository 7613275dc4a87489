package dev.plumbline.models.datapath;

/** The lanes of an evaluation in bounds: the low and the high end of each value's interval. */
final class BoundColumns {
  private final Columns low;
  private final Columns high;

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

  int capacity() {
    return low.capacity();
  }
}
