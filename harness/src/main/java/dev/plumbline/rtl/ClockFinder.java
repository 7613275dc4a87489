package dev.plumbline.rtl;

import dev.plumbline.rtl.Clock.Edge;
import dev.plumbline.rtl.Trace.Source;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * Finds the clock and asynchronous reset ports of the top module.
 *
 * <p>A port that reaches a sensitivity list unchanged or inverted is certain. Where a gate lies
 * between, each of its inputs is a candidate: those known as clocks from elsewhere are taken, and
 * all of them when none is.
 */
final class ClockFinder {
  /** One use of a port in a sensitivity list somewhere in the design. */
  private record Use(String port, Edge edge, SourceLocation location) {}

  private final Trace trace;
  private final Map<Node, Sensitivity> blocks = new HashMap<>();
  private final List<Use> clocks = new ArrayList<>();
  private final List<Use> resets = new ArrayList<>();
  private final List<List<Use>> gatedClocks = new ArrayList<>();
  private final List<List<Use>> gatedResets = new ArrayList<>();

  ClockFinder(Hierarchy hierarchy, Types types, List<Port> ports) {
    trace = new Trace(hierarchy, types);
    Set<String> oneBit =
        ports.stream()
            .filter(port -> port.width() == 1 && port.unpacked().isEmpty())
            .map(Port::name)
            .collect(Collectors.toSet());
    for (Place place : hierarchy.places()) {
      scan(place, place.module, oneBit);
    }
    Set<String> known = names(clocks);
    for (List<Use> candidates : gatedClocks) {
      List<Use> sure = candidates.stream().filter(use -> known.contains(use.port())).toList();
      List<Use> open =
          candidates.stream().filter(use -> !names(resets).contains(use.port())).toList();
      clocks.addAll(!sure.isEmpty() ? sure : !open.isEmpty() ? open : candidates);
    }
    Set<String> ticking = names(clocks);
    gatedResets.forEach(
        candidates ->
            candidates.stream().filter(use -> !ticking.contains(use.port())).forEach(resets::add));
  }

  /** The clocks in the order of the module's port list. */
  List<Clock> clocks(List<Port> ports) {
    return byPort(clocks, ports).entrySet().stream()
        .map(
            entry ->
                new Clock(
                    entry.getKey(), edge(entry.getValue()), entry.getValue().get(0).location()))
        .toList();
  }

  /** The asynchronous resets in the order of the module's port list. */
  List<AsyncReset> resets(List<Port> ports) {
    return byPort(resets, ports).entrySet().stream()
        .map(
            entry -> {
              Use use = entry.getValue().get(0);
              return new AsyncReset(entry.getKey(), use.edge() == Edge.FALLING, use.location());
            })
        .toList();
  }

  private void scan(Place place, Node scope, Set<String> oneBit) {
    for (Node node : scope.children) {
      if (node.is("begin")) {
        scan(place, node, oneBit);
      } else if (!node.is("var", "instance", "contassign")) {
        for (Sensitivity.Item item : blocks.computeIfAbsent(node, Sensitivity::of).items()) {
          add(place, item, oneBit);
        }
      }
    }
  }

  private void add(Place place, Sensitivity.Item item, Set<String> oneBit) {
    List<Use> gated = new ArrayList<>();
    for (Source source : trace.sources(place, item.signal())) {
      Edge edge = source.inverted() ? flip(item.edge()) : item.edge();
      Use use = new Use(source.port(), edge, item.signal().location);
      if (!oneBit.contains(source.port())) {
        continue;
      }
      if (source.gated()) {
        gated.add(use);
      } else {
        (item.reset() ? resets : clocks).add(use);
      }
    }
    if (!gated.isEmpty()) {
      (item.reset() ? gatedResets : gatedClocks).add(gated);
    }
  }

  private static Set<String> names(List<Use> uses) {
    return uses.stream().map(Use::port).collect(Collectors.toSet());
  }

  private static Edge flip(Edge edge) {
    return switch (edge) {
      case RISING -> Edge.FALLING;
      case FALLING -> Edge.RISING;
      case BOTH -> Edge.BOTH;
    };
  }

  private static Edge edge(List<Use> uses) {
    Set<Edge> edges = uses.stream().map(Use::edge).collect(Collectors.toSet());
    return edges.size() == 1 ? edges.iterator().next() : Edge.BOTH;
  }

  private static Map<String, List<Use>> byPort(List<Use> uses, List<Port> ports) {
    Map<String, List<Use>> found = new LinkedHashMap<>();
    for (Port port : ports) {
      List<Use> own = uses.stream().filter(use -> use.port().equals(port.name())).toList();
      if (!own.isEmpty()) {
        found.put(port.name(), own);
      }
    }
    return found;
  }
}
