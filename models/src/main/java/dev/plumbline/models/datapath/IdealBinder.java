package dev.plumbline.models.datapath;

/** Binds the steps of a datapath to columns of reals. */
final class IdealBinder implements Sequence.Binder {
  private final IdealColumns columns;
  private final IdealColumns cells;
  private final Columns codes;

  IdealBinder(Datapath datapath, IdealColumns columns, Columns codes) {
    this.columns = columns;
    this.cells = new IdealColumns(datapath, 1);
    this.codes = codes;
  }

  @Override
  public Loop column(Value value) {
    return value.step() instanceof Input
        ? reals(codes.lane(value), value.format().lsbs(), columns.of(value))
        : value.step().ideal(columns, value);
  }

  private static Loop reals(Lane lane, double lsbs, double[] out) {
    if (lane.wide()) {
      return count -> {
        for (int i = 0; i < count; i++) {
          out[i] = Wide.toDouble(lane.high[i], lane.low[i]) * lsbs;
        }
      };
    }
    long[] low = lane.low;
    return count -> {
      for (int i = 0; i < count; i++) {
        out[i] = low[i] * lsbs;
      }
    };
  }

  @Override
  public void take(Value value, CaseLoop loop) {
    loop.take(columns.of(value), cells.of(value));
  }

  @Override
  public void cell(Value value, CaseLoop loop) {
    loop.run(value.step().ideal(cells, value));
    loop.show(cells.of(value), columns.of(value));
  }

  @Override
  public Held held(Value register, boolean inColumns) {
    return Held.ideal(inColumns ? columns : cells, register);
  }
}
