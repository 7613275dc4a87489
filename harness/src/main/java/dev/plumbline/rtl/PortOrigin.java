package dev.plumbline.rtl;

import dev.plumbline.rtl.Drivers.Driver;
import dev.plumbline.rtl.Hierarchy.Signal;
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
 * Follows a one-bit signal back to the input ports of the top module it comes from.
 *
 * <p>Goes through instance and interface ports, continuous assignments, combinational blocks, and
 * selections and concatenations whose place is constant. Stops at registers and latches: what they
 * hold is no longer the port.
 */
final class PortOrigin {
  /**
   * A port that a signal comes from.
   *
   * @param port its name
   * @param inverted whether the signal is low while the port is high
   * @param gated whether other signals have a say
   */
  record Source(String port, boolean inverted, boolean gated) {}

  /** A driver and the instance in whose terms its value is written. */
  private record Placed(Scope place, Driver driver) {}

  private static final int ANY = -1;

  private final Hierarchy hierarchy;
  private final Types types;
  private final Map<Node, Drivers> drivers = new HashMap<>();
  private final Map<Signal, List<Placed>> remote = new HashMap<>();

  PortOrigin(Hierarchy hierarchy, Types types) {
    this.hierarchy = hierarchy;
    this.types = types;
    for (Scope place : hierarchy.places()) {
      drivers(place.module)
          .remote()
          .forEach(
              (reference, driver) ->
                  hierarchy
                      .resolve(place, reference)
                      .ifPresent(
                          signal ->
                              remote
                                  .computeIfAbsent(signal, it -> new ArrayList<>())
                                  .add(new Placed(place, driver))));
    }
  }

  Set<Source> sources(Scope place, Node expression) {
    Walk walk = new Walk();
    walk.expression(place, expression, 0, false, false);
    while (!walk.open.isEmpty()) {
      walk.step(walk.open.pop());
    }
    return walk.found;
  }

  private Drivers drivers(Node module) {
    return drivers.computeIfAbsent(module, Drivers::new);
  }

  /** One trace; the set of steps taken keeps it from going in circles. */
  private final class Walk {
    private record Step(Signal signal, int bit, boolean inverted, boolean gated) {}

    /** An expression still to be looked into, in the terms of an instance. */
    private record Open(Scope place, Node node, int bit, boolean inverted, boolean gated) {}

    private final Set<Step> taken = new HashSet<>();
    private final Set<Source> found = new LinkedHashSet<>();
    private final Deque<Open> open = new ArrayDeque<>();

    /** Notes an expression down; they nest as deep as generated source likes. */
    void expression(Scope place, Node node, int bit, boolean inverted, boolean gated) {
      open.push(new Open(place, node, bit, inverted, gated));
    }

    void step(Open next) {
      Scope place = next.place();
      Node node = next.node();
      int bit = next.bit();
      boolean inverted = next.inverted();
      boolean gated = next.gated();
      switch (node.kind) {
        case "varref", "varxref" ->
            hierarchy.resolve(place, node).ifPresent(it -> signal(it, bit, inverted, gated));
        case "not", "lognot" -> expression(place, node.child(0), bit, !inverted, gated);
        case "extend" -> {
          // What an unsigned number is extended by is constant.
          if (bit < types.of(node.child(0).type).width()) {
            expression(place, node.child(0), bit, inverted, gated);
          }
        }
        case "extends" -> {
          int last = types.of(node.child(0).type).width() - 1;
          expression(place, node.child(0), Math.min(bit, last), inverted, gated);
        }
        case "sel" -> {
          int low = Constants.place(node.child(1));
          int from = low < 0 || bit == ANY ? ANY : low + bit;
          expression(place, node.child(0), from, inverted, gated || low < 0);
        }
        case "concat" -> {
          int lower = types.of(node.child(1).type).width();
          if (bit == ANY || bit < lower) {
            expression(place, node.child(1), bit, inverted, gated);
          }
          if (bit == ANY || bit >= lower) {
            expression(place, node.child(0), bit == ANY ? ANY : bit - lower, inverted, gated);
          }
        }
        // A switch: what it selects among counts, not what it is selected by.
        case "cond" -> {
          expression(place, node.child(1), bit, inverted, true);
          expression(place, node.child(2), bit, inverted, true);
        }
        case "and", "or", "xor", "logand", "logor" ->
            node.children.forEach(it -> expression(place, it, bit, inverted, true));
        case "const" -> {}
        default -> node.children.forEach(it -> expression(place, it, ANY, inverted, true));
      }
    }

    private void signal(Signal signal, int bit, boolean inverted, boolean gated) {
      if (!taken.add(new Step(signal, bit, inverted, gated))) {
        return;
      }
      Scope place = signal.place();
      Node variable = signal.variable();
      if (variable.attribute("dir").equals("input") && variable.parent == place.module) {
        input(place, variable, bit, inverted, gated);
        return;
      }
      drivers(place.module)
          .of(variable)
          .forEach(driver -> driver(place, driver, bit, inverted, gated));
      remote
          .getOrDefault(signal, List.of())
          .forEach(it -> driver(it.place(), it.driver(), bit, inverted, gated));
      for (Scope child : place.children()) {
        for (Node port : outputs(child, variable)) {
          signal(new Signal(child, port), bit, inverted, gated);
        }
      }
    }

    private void input(Scope place, Node port, int bit, boolean inverted, boolean gated) {
      Node connection = place.connections.get(port.name);
      if (place == hierarchy.top()) {
        found.add(new Source(port.name, inverted, gated));
      } else if (connection != null) {
        // An array of instances takes a vector apart, or shares a signal of the port's own width.
        int width = types.of(port.type).width();
        boolean shared =
            connection.type == null || types.of(connection.type).width() <= width || bit == ANY;
        int own = shared ? bit : place.element * width + bit;
        expression(place.parent, connection, own, inverted, gated);
      }
    }

    private void driver(Scope place, Driver driver, int bit, boolean inverted, boolean gated) {
      driver
          .bit(bit)
          .ifPresent(
              own -> expression(place, driver.value(), own, inverted, gated || driver.chosen()));
    }

    private static List<Node> outputs(Scope child, Node variable) {
      return child
          .module
          .children("var")
          .filter(port -> port.attribute("dir").equals("output"))
          .filter(port -> child.connections.containsKey(port.name))
          .filter(port -> child.connections.get(port.name).is("varref"))
          .filter(port -> child.connections.get(port.name).referred().orElse(null) == variable)
          .toList();
    }
  }
}
