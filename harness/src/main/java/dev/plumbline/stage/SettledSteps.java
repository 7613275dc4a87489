package dev.plumbline.stage;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * Which steps may be wrong, and which signals may be what is wrong with them, where signals are
 * known that always are steps: of many bits, or of one and by name. A step is settled when all that
 * is made from it is right. Of a step that is right somewhere only what is made from that signal
 * may be a wrong copy. Any other number in such a place explains a wrong result by chance: one that
 * makes a condition hold never, or always.
 */
final class SettledSteps {
  /** Bits of a step from which on nobody has it by chance. */
  private static final int MANY_BITS = 12;

  private final Map<String, Set<String>> right = new HashMap<>(); // by step: the signals
  private final Map<String, Set<String>> rightDecisions = new HashMap<>(); // likewise, by name
  private final Set<String> outputs = new HashSet<>();
  private final Map<String, List<String>> takers = new HashMap<>(); // of steps
  private final Map<String, List<String>> readers = new HashMap<>(); // of signals
  private final Map<String, Boolean> known = new HashMap<>();
  private final Map<String, Set<String>> madeFrom = new HashMap<>(); // by step
  private final Map<String, List<String>> operands;
  private final Set<String> decisions = new HashSet<>(); // steps of one bit

  /**
   * Takes what was found.
   *
   * @param sources of each signal, by path
   */
  SettledSteps(
      Datapath datapath,
      List<Operand> steps,
      SignalSample sample,
      List<List<Station>> stations,
      Map<String, List<String>> sources) {
    for (int s = 0; s < stations.size(); s++) {
      for (Station station : stations.get(s)) {
        int bits = steps.get(s).format().width();
        boolean isSure = bits >= MANY_BITS;
        if (station.isExact() && (isSure || (bits == 1 && station.named()))) {
          (isSure ? right : rightDecisions)
              .computeIfAbsent(steps.get(s).name(), key -> new LinkedHashSet<>())
              .add(sample.name(station.signal()));
        }
      }
    }
    this.operands = datapath.operands();
    steps.stream()
        .filter(step -> step.format().width() == 1)
        .forEach(step -> decisions.add(step.name()));
    datapath.outputs().forEach(output -> outputs.add(output.name()));
    turnAround(datapath.operands(), takers);
    turnAround(sources, readers);
  }

  private static void turnAround(Map<String, List<String>> from, Map<String, List<String>> to) {
    from.forEach(
        (taker, taken) ->
            taken.forEach(one -> to.computeIfAbsent(one, key -> new ArrayList<>()).add(taker)));
  }

  /** Whether a step cannot be what is wrong. */
  boolean contains(String step) {
    Boolean before = known.get(step);
    if (before != null) {
      return before;
    }
    known.put(step, false); // a register leads back to itself
    List<String> by = takers.getOrDefault(step, List.of());
    boolean settled =
        !outputs.contains(step)
            && !by.isEmpty()
            && by.stream().allMatch(taker -> right.containsKey(taker) || contains(taker));
    known.put(step, settled);
    return settled;
  }

  /** Whether a signal that is never right may be a step that has become wrong. */
  boolean mayBe(String step, String signal) {
    Set<String> from = new HashSet<>(right.getOrDefault(step, Set.of()));
    from.addAll(rightDecisions.getOrDefault(step, Set.of()));
    if (from.isEmpty() && decisions.contains(step)) { // of what it is made from one at least
      rightBefore(step, from, new HashSet<>());
    }
    return from.isEmpty()
        || madeFrom.computeIfAbsent(step, key -> allMadeFrom(from)).contains(signal);
  }

  /** Signals that are steps from which one is made, operands of the whole apart. */
  private void rightBefore(String step, Set<String> into, Set<String> seen) {
    for (String operand : operands.getOrDefault(step, List.of())) {
      if (seen.add(operand) && !operands.getOrDefault(operand, List.of()).isEmpty()) {
        into.addAll(right.getOrDefault(operand, Set.of()));
        rightBefore(operand, into, seen);
      }
    }
  }

  private Set<String> allMadeFrom(Set<String> from) {
    Set<String> seen = new HashSet<>(from);
    Deque<String> open = new ArrayDeque<>(seen);
    while (!open.isEmpty()) {
      readers.getOrDefault(open.poll(), List.of()).stream().filter(seen::add).forEach(open::add);
    }
    return seen;
  }
}
