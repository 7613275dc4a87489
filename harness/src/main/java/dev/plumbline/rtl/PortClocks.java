package dev.plumbline.rtl;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * Which clock each port of a design with several follows: an output that of the registers it is
 * made from, an input that of the registers that are made from it. A memory that is read without a
 * clock does not count: what it is read at does.
 */
final class PortClocks {
  private final Map<String, List<String>> sources;
  private final Map<String, Set<String>> clocksOf = new HashMap<>(); // by register
  private final Set<String> memories;
  private final Map<String, Set<String>> madeFrom = new HashMap<>();

  private PortClocks(
      Hierarchy hierarchy, Types types, List<Clock> clocks, List<StateElement> state) {
    this.sources = DataFlow.of(hierarchy);
    this.memories =
        state.stream()
            .filter(element -> element.kind() == StateElement.Kind.MEMORY)
            .map(StateElement::path)
            .collect(Collectors.toSet());
    Set<String> known = clocks.stream().map(Clock::port).collect(Collectors.toSet());
    PortOrigin trace = new PortOrigin(hierarchy, types);
    for (Scope place : hierarchy.places()) {
      blocks(trace, place, place.module, known);
    }
  }

  /** The clock by port; ports that follow none, or several, are not there. */
  static Map<String, String> of(
      Hierarchy hierarchy,
      Types types,
      List<Port> ports,
      List<Clock> clocks,
      List<StateElement> state) {
    Map<String, String> found = new LinkedHashMap<>();
    if (clocks.size() < 2) {
      return found;
    }
    PortClocks finder = new PortClocks(hierarchy, types, clocks, state);
    String top = hierarchy.top().path + ".";
    Map<String, Set<String>> inputs = finder.inputs();
    for (Port port : ports) {
      Set<String> followed =
          port.direction() == Port.Direction.INPUT
              ? inputs.getOrDefault(top + port.name(), Set.of())
              : finder.output(top + port.name());
      if (followed.size() == 1) {
        found.put(port.name(), followed.iterator().next());
      }
    }
    return found;
  }

  private void blocks(PortOrigin trace, Scope place, Node scope, Set<String> known) {
    for (Node node : scope.children) {
      if (node.is("begin")) {
        blocks(trace, place, node, known);
      } else if (node.is("always")) {
        Set<String> ticking = new LinkedHashSet<>();
        for (Sensitivity.Item item : Sensitivity.of(node).items()) {
          if (!item.reset()) {
            trace.sources(place, item.signal()).stream()
                .map(PortOrigin.Source::port)
                .filter(known::contains)
                .forEach(ticking::add);
          }
        }
        if (!ticking.isEmpty()) {
          for (String register : DataFlow.targets(place, node)) {
            clocksOf.computeIfAbsent(register, key -> new LinkedHashSet<>()).addAll(ticking);
          }
        }
      }
    }
  }

  /** What a signal is made from, through logic, up to registers and ports. */
  private Set<String> ends(String signal) {
    Set<String> ends = new LinkedHashSet<>();
    Set<String> seen = new HashSet<>();
    Deque<String> open = new ArrayDeque<>(sources.getOrDefault(signal, List.of()));
    while (!open.isEmpty()) {
      String next = open.pop();
      if (seen.add(next)) {
        List<String> further = sources.getOrDefault(next, List.of());
        if (clocksOf.containsKey(next) || further.isEmpty()) {
          ends.add(next);
        } else {
          open.addAll(further);
        }
      }
    }
    return ends;
  }

  private Set<String> output(String path) {
    if (clocksOf.containsKey(path)) {
      return clocksOf.get(path);
    }
    Set<String> followed = new LinkedHashSet<>();
    for (String end : ends(path)) {
      if (!memories.contains(end)) {
        followed.addAll(clocksOf.getOrDefault(end, Set.of()));
      }
    }
    return followed;
  }

  private Map<String, Set<String>> inputs() {
    clocksOf.forEach(
        (register, clocks) -> {
          for (String end : ends(register)) {
            madeFrom.computeIfAbsent(end, key -> new LinkedHashSet<>()).addAll(clocks);
          }
        });
    return madeFrom;
  }
}
