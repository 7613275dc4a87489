package dev.plumbline.models.datapath;

/** Binds the steps of a datapath with registers to columns of bits. */
final class BitBinder implements Sequence.Binder {
  private final Columns columns;
  private final Columns cells;

  BitBinder(Datapath datapath, Columns columns) {
    this.columns = columns;
    this.cells = new Columns(datapath, 1);
  }

  @Override
  public Loop column(Value value) {
    columns.allocate(value);
    return value.step().bits(columns, value);
  }

  @Override
  public void take(Value value, CaseLoop loop) {
    take(columns, cells, value, loop);
  }

  /** Gives a value a cell as wide as its column. */
  static void take(Columns columns, Columns cells, Value value, CaseLoop loop) {
    Lane column = columns.lane(value);
    Lane cell = new Lane(1, column.wide());
    cells.share(value, cell);
    loop.take(column, cell);
  }

  @Override
  public void cell(Value value, CaseLoop loop) {
    cells.allocate(value);
    loop.run(value.step().bits(cells, value));
    show(columns, cells, value, loop);
  }

  /** Shows the steps inside a unit as well. */
  static void show(Columns columns, Columns cells, Value value, CaseLoop loop) {
    if (value.step() instanceof Constant) {
      columns.allocate(value);
      return;
    }
    columns.share(value, new Lane(columns.capacity(), cells.lane(value).wide()));
    loop.show(cells.lane(value), columns.lane(value));
    Columns inside = cells.nested(value.name());
    if (inside != null) {
      Columns beside = new Columns(inside.datapath(), columns.capacity());
      columns.nest(value.name(), beside);
      inside.datapath().values().forEach(step -> show(beside, inside, step, loop));
    }
  }

  @Override
  public Held held(Value register, boolean inColumns) {
    return Held.bits(inColumns ? columns : cells, register);
  }
}
