package dev.plumbline.models.datapath;

/** The columns of an evaluation in reals: doubles for each value, in real units. */
final class IdealColumns {
  private final double[][] columns;
  private final int capacity;

  IdealColumns(Datapath datapath, int capacity) {
    this.columns = new double[datapath.values().size()][capacity];
    this.capacity = capacity;
  }

  double[] of(Value value) {
    return columns[value.index()];
  }

  int capacity() {
    return capacity;
  }
}
