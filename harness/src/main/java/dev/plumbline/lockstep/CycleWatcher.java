package dev.plumbline.lockstep;

import java.util.ArrayList;
import java.util.List;

/** Has a {@link CycleModel} go along with a DUT, up to a row. */
final class CycleWatcher implements LockstepRunner.Watcher {
  private static final long NEVER = Long.MAX_VALUE;

  private final CycleModel model;
  private final List<CycleModel> others = new ArrayList<>();
  private final boolean endsApart;
  private final long last; // row
  private long at = -1;
  private long apart = NEVER;
  private long[] standing; // at the port that reads surfaces; null for what is not known

  CycleWatcher(CycleModel model, long last, boolean endsApart) {
    this.model = model;
    this.last = last;
    this.endsApart = endsApart;
  }

  /** Has another model go along as well. */
  void and(CycleModel other) {
    others.add(other);
  }

  @Override
  public void row(LockstepRunner.Call call, int row) {
    at = call.block().firstRow + call.from() + row;
    long[] word = standing;
    standing = call.checker().standing();
    if (at > last || (endsApart && apart != NEVER)) {
      return;
    }
    ExecutorColumns columns = call.columns();
    int offered = call.offered(row);
    CycleModel.Driven driven =
        new CycleModel.Driven(
            is(columns.reset, row, false),
            is(columns.abort, row, false),
            offered >= 0,
            is(columns.resultReady, row, true),
            is(columns.rayReady, row, false));
    model.row(at, driven, call.block().program, call.block().rays, offered);
    others.forEach(
        other -> other.row(at, driven, call.block().program, call.block().rays, offered));
    if (word != null && model.isOffering()) {
      model.reads(at, word); // nothing is promised of it but with a result
      others.forEach(other -> other.reads(at, word));
    }
    boolean differs =
        is(columns.rayReady, row, false) != model.isReady()
            || is(columns.resultValid, row, false) != model.isOffering()
            || (columns.retireValid != null
                && is(columns.retireValid, row, false) != model.isRetiring());
    boolean silent = is(columns.reset, row, false) || is(columns.abort, row, false);
    apart = differs && !silent ? Math.min(apart, at) : apart;
  }

  private static boolean is(long[] column, int row, boolean otherwise) {
    return column == null ? otherwise : column[row] == 1;
  }

  @Override
  public boolean wantsMore() {
    return at < last && !(endsApart && apart != NEVER);
  }

  /** Whether it has seen its last row. */
  boolean isOver() {
    return at >= last;
  }

  /** The first row in which the DUT shows something when the model does not; the last for none. */
  long apart() {
    return Math.min(apart, last);
  }
}
