package dev.plumbline.rtl;

import dev.plumbline.rtl.Clock.Edge;
import dev.plumbline.rtl.PortOrigin.Source;
import dev.plumbline.rtl.Sensitivity.Item;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;

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

  private final PortOrigin trace;
  private final Map<Node, List<Item>> modules = new HashMap<>();
  private final Set<Use> clocks = new LinkedHashSet<>();
  private final Set<Use> resets = new LinkedHashSet<>();
  private final Set<List<Use>> gatedClocks = new LinkedHashSet<>();
  private final Set<List<Use>> gatedResets = new LinkedHashSet<>();

  ClockFinder(Hierarchy hierarchy, Types types, List<Port> ports) {
    trace = new PortOrigin(hierarchy, types);
    Set<String> oneBit =
        ports.stream()
            .filter(port -> port.width() == 1 && port.unpacked().isEmpty())
            .map(Port::name)
            .collect(Collectors.toSet());
    for (Scope place : hierarchy.places()) {
      for (Item item : modules.computeIfAbsent(place.module, ClockFinder::waits)) {
        add(place, item, oneBit);
      }
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

  /** What the blocks of a module wait for, each variable once for each use it is put to. */
  private static List<Item> waits(Node module) {
    Map<List<Object>, Item> found = new LinkedHashMap<>();
    collect(module)
        .forEach(
            item -> {
              Node signal = item.signal();
              Object what = signal.is("varref") ? signal.referred().orElse(signal) : signal;
              found.putIfAbsent(List.of(what, item.edge(), item.reset()), item);
            });
    return List.copyOf(found.values());
  }

  private static Stream<Item> collect(Node scope) {
    return scope.children.stream()
        .filter(node -> !node.is("var", "instance", "contassign"))
        .flatMap(node -> node.is("begin") ? collect(node) : Sensitivity.of(node).items().stream());
  }

  private void add(Scope place, Item item, Set<String> oneBit) {
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

  private static Set<String> names(Set<Use> uses) {
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

  private static Map<String, List<Use>> byPort(Set<Use> uses, List<Port> ports) {
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
