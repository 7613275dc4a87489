package dev.plumbline.models.datapath;

import java.util.Arrays;
import java.util.List;

/**
 * Evaluates a datapath with registers: column by column what no register's loop holds up, the rest
 * case by case. Allocates nothing while it runs.
 */
final class Sequence implements Loop {
  private final Loop[] loops;
  private final List<Value> registers;
  private final Held[] held; // by register
  private final boolean[] begins; // by row: whether the registers begin anew

  /** Binds steps to columns of many cases, and to cells: columns of one. */
  interface Binder {
    /** Binds a step to columns. */
    Loop column(Value value);

    /** Has a loop take a value from its column into its cell. */
    void take(Value value, CaseLoop loop);

    /** Binds a step to cells, and has a loop show its result in its column. */
    void cell(Value value, CaseLoop loop);

    /** What a register holds that is bound to columns, or to cells. */
    Held held(Value register, boolean inColumns);
  }

  Sequence(Datapath datapath, int capacity, Binder binder) {
    registers = datapath.registers();
    held = new Held[registers.size()];
    begins = new boolean[capacity];
    loops = Groups.of(datapath).stream().map(group -> loop(group, binder)).toArray(Loop[]::new);
  }

  private Loop loop(List<Value> group, Binder binder) {
    Value first = group.get(0);
    if (group.size() > 1) {
      return caseByCase(group, binder);
    }
    Loop loop = binder.column(first);
    return first.step() instanceof RegisterStep ? column(holding(first, binder, true)) : loop;
  }

  /** A register that is in no loop goes through its column alone. */
  private Loop column(Held register) {
    boolean[] begun = new boolean[1];
    return count -> {
      for (int row = 0; row < count; row++) {
        if (begins[row] || !begun[0]) {
          begun[0] = true;
          register.begin();
        }
        register.show(row);
        register.take(row);
      }
    };
  }

  private Loop caseByCase(List<Value> group, Binder binder) {
    CaseLoop loop = new CaseLoop(begins);
    Groups.sources(group).forEach(source -> binder.take(source, loop));
    group.forEach(value -> binder.cell(value, loop));
    group.stream()
        .filter(value -> value.step() instanceof RegisterStep)
        .forEach(register -> loop.hold(holding(register, binder, false)));
    return loop;
  }

  private Held holding(Value register, Binder binder, boolean inColumns) {
    Held holding = binder.held(register, inColumns);
    held[registers.indexOf(register)] = holding;
    return holding;
  }

  /** What the registers hold, in the order of their description. */
  List<Held> registers() {
    return List.of(held);
  }

  void renewBefore(int row) {
    begins[row] = true;
  }

  @Override
  public void run(int count) {
    for (Loop loop : loops) {
      loop.run(count);
    }
    Arrays.fill(begins, 0, count, false);
  }
}
