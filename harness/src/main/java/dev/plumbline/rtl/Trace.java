package dev.plumbline.rtl;

import dev.plumbline.rtl.Hierarchy.Place;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * Follows a one-bit signal back to the input ports of the top module it comes from.
 *
 * <p>Goes through instance ports, continuous assignments, combinational blocks, selections and
 * concatenations of constant place. Stops at registers and latches: what they hold is no longer the
 * port.
 */
final class Trace {
  /** A port that a signal comes from. */
  record Source(String port, boolean inverted, boolean gated) {}

  private static final int ANY = -1;

  private final Hierarchy hierarchy;
  private final Types types;
  private final Map<Node, Drivers> drivers = new HashMap<>();

  Trace(Hierarchy hierarchy, Types types) {
    this.hierarchy = hierarchy;
    this.types = types;
  }

  Set<Source> sources(Place place, Node expression) {
    Set<Source> found = new LinkedHashSet<>();
    new Walk(found).expression(place, expression, 0, false, false);
    return found;
  }

  private Drivers drivers(Node module) {
    return drivers.computeIfAbsent(module, Drivers::new);
  }

  /** One trace; the set of steps taken keeps it from going in circles. */
  private final class Walk {
    private record Step(Place place, Node variable, int bit, boolean inverted, boolean gated) {}

    private final Set<Step> taken = new HashSet<>();
    private final Set<Source> found;

    Walk(Set<Source> found) {
      this.found = found;
    }

    void expression(Place place, Node node, int bit, boolean inverted, boolean gated) {
      switch (node.kind) {
        case "varref" ->
            Hierarchy.resolve(node)
                .ifPresent(variable -> variable(place, variable, bit, inverted, gated));
        case "not", "lognot" -> expression(place, node.child(0), bit, !inverted, gated);
        case "extend", "extends" -> expression(place, node.child(0), bit, inverted, gated);
        case "sel" -> {
          Optional<BigInteger> low = Constants.number(node.child(1));
          int from = low.isEmpty() || bit == ANY ? ANY : low.get().intValueExact() + bit;
          expression(place, node.child(0), from, inverted, gated || low.isEmpty());
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
        // A clock switch: what it selects among counts, not what it is selected by.
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

    private void variable(Place place, Node variable, int bit, boolean inverted, boolean gated) {
      if (!taken.add(new Step(place, variable, bit, inverted, gated))) {
        return;
      }
      if (variable.attribute("dir").equals("input")) {
        if (place == hierarchy.top()) {
          found.add(new Source(variable.name, inverted, gated));
        } else if (place.connections.containsKey(variable.name)) {
          Node connection = place.connections.get(variable.name);
          expression(place.parent, connection, bit, inverted, gated);
        }
        return;
      }
      for (Drivers.Driver driver : drivers(place.module).of(variable)) {
        if (driver.bit(bit).isPresent()) {
          int own = driver.bit(bit).get();
          expression(place, driver.value(), own, inverted, gated || driver.chosen());
        }
      }
      for (Place child : place.children) {
        outputs(child, variable).forEach(port -> variable(child, port, bit, inverted, gated));
      }
    }

    private List<Node> outputs(Place child, Node variable) {
      List<Node> ports = new ArrayList<>();
      child
          .module
          .children("var")
          .filter(port -> port.attribute("dir").equals("output"))
          .filter(port -> child.connections.containsKey(port.name))
          .filter(port -> child.connections.get(port.name).is("varref"))
          .filter(
              port -> Hierarchy.resolve(child.connections.get(port.name)).orElse(null) == variable)
          .forEach(ports::add);
      return ports;
    }
  }
}
