package dev.plumbline.models.datapath;

import java.util.ArrayList;
import java.util.List;

/**
 * Evaluates a datapath with registers: one case after another in columns of one case each, from and
 * to columns of many. Allocates nothing while it runs.
 */
final class Sequence {
  private final Loop[] loops;
  private final boolean[] begins;
  private final List<Lane> given = new ArrayList<>(); // a column of many, then that of one
  private final List<Lane> shown = new ArrayList<>();
  private final List<double[]> reals = new ArrayList<>();
  private final List<Held> registers = new ArrayList<>();
  private boolean begun;

  Sequence(Loop[] loops, int capacity) {
    this.loops = loops;
    this.begins = new boolean[capacity];
  }

  Sequence with(Held register) {
    registers.add(register);
    return this;
  }

  /** Takes inputs from columns of many cases. */
  Sequence from(Columns many, Columns one) {
    for (Value input : many.datapath().inputValues()) {
      given.add(many.lane(input));
      given.add(one.lane(input));
    }
    return this;
  }

  /** Shows all that was computed in columns of many cases, inside units as well. */
  Sequence to(Columns many, Columns one) {
    for (Value value : many.datapath().values()) {
      many.allocate(value);
      boolean constant = value.step() instanceof Constant; // filled once
      if (!constant && !(value.step() instanceof Input)) {
        shown.add(many.lane(value));
        shown.add(one.lane(value));
      }
      Columns inside = one.nested(value.name());
      if (inside != null) {
        Columns beside = new Columns(inside.datapath(), many.capacity());
        many.nest(value.name(), beside);
        to(beside, inside);
        for (Value input : beside.datapath().inputValues()) {
          shown.add(beside.lane(input));
          shown.add(inside.lane(input));
        }
      }
    }
    return this;
  }

  /**
   * Shows the high ends of bounds; those of points are the low ones, in one lane as in the other.
   */
  Sequence to(BoundColumns many, BoundColumns one, List<Value> values, Columns high) {
    for (Value value : values) {
      if (one.point(value)) {
        high.share(value, many.low(value));
      } else {
        high.allocate(value);
        shown.add(high.lane(value));
        shown.add(one.high(value));
      }
    }
    return this;
  }

  Sequence to(IdealColumns many, IdealColumns one, List<Value> values) {
    for (Value value : values) {
      reals.add(many.of(value));
      reals.add(one.of(value));
    }
    return this;
  }

  List<Held> registers() {
    return registers;
  }

  void renewBefore(int row) {
    begins[row] = true;
  }

  void run(int count) {
    for (int row = 0; row < count; row++) {
      if (begins[row] || !begun) {
        begin();
      }
      for (int k = 0; k < given.size(); k += 2) {
        copy(given.get(k), row, given.get(k + 1), 0);
      }
      for (Loop loop : loops) {
        loop.run(1);
      }
      for (int k = 0; k < shown.size(); k += 2) {
        copy(shown.get(k + 1), 0, shown.get(k), row);
      }
      for (int k = 0; k < reals.size(); k += 2) {
        reals.get(k)[row] = reals.get(k + 1)[0];
      }
      for (int k = 0; k < registers.size(); k++) {
        registers.get(k).take();
      }
      for (int k = 0; k < registers.size(); k++) {
        registers.get(k).show();
      }
      begins[row] = false;
    }
  }

  private void begin() {
    begun = true;
    for (int k = 0; k < registers.size(); k++) {
      registers.get(k).begin();
    }
  }

  private static void copy(Lane from, int i, Lane to, int k) {
    to.set(k, from.high(i), from.low[i]);
  }
}
