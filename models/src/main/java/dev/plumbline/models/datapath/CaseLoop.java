package dev.plumbline.models.datapath;

import java.util.Arrays;

/**
 * Runs steps and their registers case after case: takes what they need from columns into cells,
 * runs the steps there, and shows in columns what they gave.
 */
final class CaseLoop implements Loop {
  private final boolean[] begins; // by row
  private long[][] taken = {}; // a column, then its cell
  private long[][] shown = {};
  private double[][] realsTaken = {};
  private double[][] realsShown = {};
  private Loop[] loops = {};
  private Held[] registers = {};
  private boolean begun;

  CaseLoop(boolean[] begins) {
    this.begins = begins;
  }

  /**
   * Runs all steps of a datapath so, whatever loops they are bound to by then.
   *
   * @param columns where inputs are filled; those of the other values are made
   * @param cells of one case, with all steps bound
   * @param begins as the constructor has it
   */
  static CaseLoop ofAll(Datapath datapath, Columns columns, Columns cells, boolean[] begins) {
    CaseLoop all = new CaseLoop(begins);
    for (Value input : datapath.inputValues()) {
      columns.allocate(input);
      all.take(columns.lane(input), cells.lane(input));
    }
    Loop[] bound = cells.loops();
    for (Value value : datapath.values()) {
      all.run(count -> bound[value.index()].run(count));
      if (!(value.step() instanceof Input)) {
        columns.allocate(value);
        if (!(value.step() instanceof Constant) && value.step().sameColumns() == null) {
          all.show(cells.lane(value), columns.lane(value));
        }
      }
    }
    datapath.registers().forEach(each -> all.hold(Held.bits(cells, each)));
    return all;
  }

  private static <T> T[] with(T[] some, T another) {
    T[] more = Arrays.copyOf(some, some.length + 1);
    more[some.length] = another;
    return more;
  }

  /** Takes a value's codes; its cell is as wide as its column. */
  void take(Lane column, Lane cell) {
    taken = with(taken, column, cell);
  }

  void take(double[] column, double[] cell) {
    realsTaken = with(with(realsTaken, column), cell);
  }

  void run(Loop loop) {
    if (loop != Loop.NOTHING) {
      loops = with(loops, loop);
    }
  }

  /** Shows a value's codes; its column is as wide as its cell. */
  void show(Lane cell, Lane column) {
    shown = with(shown, column, cell);
  }

  void show(double[] cell, double[] column) {
    realsShown = with(with(realsShown, column), cell);
  }

  private static long[][] with(long[][] words, Lane column, Lane cell) {
    long[][] more = with(with(words, column.low), cell.low);
    return cell.wide() ? with(with(more, column.high), cell.high) : more;
  }

  void hold(Held register) {
    registers = with(registers, register);
  }

  @Override
  public void run(int count) {
    for (int row = 0; row < count; row++) {
      boolean anew = begins[row] || !begun;
      begun = true;
      for (Held register : registers) {
        if (anew) {
          register.begin();
        }
        register.show(0);
      }
      for (int k = 0; k < taken.length; k += 2) {
        taken[k + 1][0] = taken[k][row];
      }
      for (int k = 0; k < realsTaken.length; k += 2) {
        realsTaken[k + 1][0] = realsTaken[k][row];
      }
      for (Loop loop : loops) {
        loop.run(1);
      }
      for (int k = 0; k < shown.length; k += 2) {
        shown[k][row] = shown[k + 1][0];
      }
      for (int k = 0; k < realsShown.length; k += 2) {
        realsShown[k][row] = realsShown[k + 1][0];
      }
      for (Held register : registers) {
        register.take(0);
      }
    }
  }
}
