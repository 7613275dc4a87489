package dev.plumbline.models.datapath;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * Which steps an evaluation needs for what is read of it, and how long each needs its columns: once
 * the last step that reads them has run, later steps may have them, so that all that is worked on
 * stays in the cache.
 */
final class Lifetimes {
  private static final int FOREVER = Integer.MAX_VALUE;
  private static final int NEVER = -1;

  private final List<Value> values;
  private final int[] last; // the index of the last step that reads a value
  private final boolean[] fixed;
  private final List<Value> kept = new ArrayList<>(); // but for inputs

  private Lifetimes(Datapath datapath) {
    this.values = datapath.values();
    this.last = new int[values.size()];
    this.fixed = new boolean[values.size()];
    for (Value value : values) {
      Step step = value.step();
      fixed[value.index()] =
          step instanceof Constant
              || (step.exact()
                  && !(step instanceof RegisterStep)
                  && !step.operands().isEmpty()
                  && step.operands().stream().allMatch(each -> fixed[each.index()]));
    }
  }

  /** Where every step can be read. */
  static Lifetimes endless(Datapath datapath) {
    Lifetimes all = new Lifetimes(datapath);
    Arrays.fill(all.last, FOREVER);
    return all;
  }

  /** Where inputs, outputs and some steps are. */
  static Lifetimes of(Datapath datapath, String... steps) {
    Lifetimes some = new Lifetimes(datapath);
    Arrays.fill(some.last, NEVER);
    datapath.inputValues().forEach(some::keep);
    some.kept.addAll(datapath.outputValues());
    for (String step : steps) {
      some.kept.add(datapath.value(step));
    }
    some.kept.forEach(some::keep);
    some.trace();
    return some;
  }

  private void keep(Value value) {
    last[value.index()] = FOREVER;
  }

  /** Backwards, so that what reads a value is known to be needed before the value is asked for. */
  private void trace() {
    for (int i = values.size() - 1; i >= 0; i--) {
      Step step = values.get(i).step();
      if (last[i] == NEVER) {
        continue;
      }
      if (fixed[i]) {
        last[i] = FOREVER;
      }
      // What shares its operand's columns, or may, needs these as long as its own.
      boolean shares = step.sameColumns() != null || step instanceof UnitStep;
      int until = shares ? last[i] : fixed[i] ? FOREVER : i;
      for (Value operand : step.operands()) {
        last[operand.index()] = Math.max(last[operand.index()], until);
      }
    }
    // A value and those that share its columns end together.
    for (Value value : values) {
      Value same = value.step().sameColumns();
      if (same != null && last[value.index()] != NEVER) {
        last[value.index()] = last[same.index()];
      }
    }
  }

  boolean needed(Value value) {
    return last[value.index()] != NEVER;
  }

  /** What was asked to be kept: outputs and named steps; nothing where everything is. */
  List<Value> kept() {
    return kept;
  }

  /** Whether its codes are the same in every case: nothing but constants come in. */
  boolean fixed(Value value) {
    return fixed[value.index()];
  }

  boolean endless(Value value) {
    return last[value.index()] == FOREVER;
  }

  /** Gives back the columns that no step after this one reads. */
  void endAt(Value step, Columns columns) {
    for (Value operand : step.step().operands()) {
      Value value = operand;
      while (value != null) {
        if (last[value.index()] == step.index()) {
          columns.giveBack(value);
        }
        value = value.step().sameColumns();
      }
    }
  }
}
