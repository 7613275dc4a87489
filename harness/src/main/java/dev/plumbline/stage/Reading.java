package dev.plumbline.stage;

import java.util.Map;

/**
 * What a signal's bits mean for the step in whose place they stand: the step's code as it is, the
 * other of a bit, or a decision that is seen in the state that it leads to.
 *
 * @param inverted whether a bit is the other one
 * @param decided what decision a value stands for; empty where it is no matter of state
 */
record Reading(boolean inverted, Map<Long, Long> decided) {
  static final Reading PLAIN = new Reading(false, Map.of());
  static final Reading INVERTED = new Reading(true, Map.of());

  Reading {
    decided = Map.copyOf(decided);
  }

  static Reading decided(Map<Long, Long> values) {
    return new Reading(false, values);
  }

  /** The step's code, of one word; values that were never seen decide as 0. */
  long of(long bits) {
    return !decided.isEmpty() ? decided.getOrDefault(bits, 0L) : inverted ? (bits & 1) ^ 1 : bits;
  }
}
