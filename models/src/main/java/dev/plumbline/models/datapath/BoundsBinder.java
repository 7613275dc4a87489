package dev.plumbline.models.datapath;

/**
 * Binds the steps of a datapath to columns of bounds: one for both ends where they are the same.
 */
final class BoundsBinder implements Sequence.Binder {
  private final Columns low;
  private final Columns high;
  private final BoundColumns columns;
  private final Columns cellsLow;
  private final Columns cellsHigh;
  private final BoundColumns cells;

  BoundsBinder(Datapath datapath, Columns low, Columns high) {
    this.low = low;
    this.high = high;
    this.columns = new BoundColumns(low, high);
    this.cellsLow = new Columns(datapath, 1);
    this.cellsHigh = new Columns(datapath, 1);
    this.cells = new BoundColumns(cellsLow, cellsHigh);
  }

  @Override
  public Loop column(Value value) {
    if (value.step() instanceof RegisterStep register
        && register.sources().stream().allMatch(columns::point)) {
      low.allocate(value);
      high.share(value, low.lane(value));
      return Loop.NOTHING;
    }
    return bind(low, high, columns, value);
  }

  private static Loop bind(Columns low, Columns high, BoundColumns both, Value value) {
    Step step = value.step();
    low.allocate(value);
    if (step.exact() && step.operands().stream().allMatch(both::point)) {
      high.share(value, low.lane(value));
      return step.bits(low, value);
    }
    high.allocate(value);
    return step.bounds(both, value);
  }

  @Override
  public void take(Value value, CaseLoop loop) {
    BitBinder.take(low, cellsLow, value, loop);
    if (columns.point(value)) {
      cellsHigh.share(value, cellsLow.lane(value));
    } else {
      BitBinder.take(high, cellsHigh, value, loop);
    }
  }

  @Override
  public void cell(Value value, CaseLoop loop) {
    cells.forgetInverse(); // what was bound before may have run for all cases before
    loop.run(bind(cellsLow, cellsHigh, cells, value));
    BitBinder.show(low, cellsLow, value, loop);
    if (cells.point(value)) {
      high.share(value, low.lane(value));
    } else {
      BitBinder.show(high, cellsHigh, value, loop);
    }
  }

  @Override
  public Held held(Value register, boolean inColumns) {
    return new Held.Bounds(inColumns ? columns : cells, register);
  }
}
