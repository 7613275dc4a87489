package dev.plumbline.rtl;

import dev.plumbline.rtl.Port.Range;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** The instance tree: every module where it stands, with what its ports are connected to. */
final class Hierarchy {
  /** A variable of one instance. */
  record Signal(Scope place, Node variable) {}

  private static final Pattern BY_POSITION = Pattern.compile("__pinNumber(\\d+)");

  private static final int MOST_INSTANCES = 1 << 20;

  private final Scope top;
  private final List<Scope> places = new ArrayList<>();

  Hierarchy(Tree tree) {
    Node module = tree.top();
    top = new Scope(sourceName(module), module, null, null, 0);
    places.add(top);
    grow(top, module);
  }

  Scope top() {
    return top;
  }

  /** Every instance, parents before children, the top first. */
  List<Scope> places() {
    return places;
  }

  /** The instances below the top as users see them. */
  List<Instance> instances() {
    return places.stream()
        .skip(1)
        .map(place -> new Instance(place.path, sourceName(place.module), place.instance.location))
        .toList();
  }

  private void grow(Scope place, Node scope) {
    for (Node node : scope.children) {
      if (node.is("instance") && node.target != null) {
        String name = Scope.scope(node) + node.name;
        Optional<Range> range = node.children("range").findFirst().map(Types::range);
        if (range.isPresent()) {
          growArray(place, node, name, range.get());
        } else {
          grow(place, node, name, 0);
        }
      } else if (node.is("begin")) {
        grow(place, node);
      }
    }
  }

  private void growArray(Scope place, Node instance, String name, Range range) {
    if (places.size() + (long) range.size() > MOST_INSTANCES) {
      throw new RtlException(
          "The design has more than " + MOST_INSTANCES + " instances; make its arrays smaller",
          List.of(new RtlException.Message(instance.location, "instances " + name + range)));
    }
    List<Scope> elements = new ArrayList<>();
    for (int index : range.indices()) {
      int fromRight = range.size() - 1 - elements.size();
      elements.add(grow(place, instance, name + "[" + index + "]", fromRight));
    }
    if (range.left() > range.right()) {
      Collections.reverse(elements);
    }
    place.addArray(name, elements);
  }

  private Scope grow(Scope place, Node instance, String name, int element) {
    Scope child = new Scope(place.path + "." + name, instance.target, place, instance, element);
    instance
        .children("port")
        .filter(pin -> !pin.children.isEmpty())
        .forEach(pin -> child.connections.put(portOf(instance.target, pin), pin.child(0)));
    place.add(name, child);
    places.add(child);
    grow(child, instance.target);
    return child;
  }

  /**
   * The name of the port that a pin connects. A pin connected by position has no name of its own:
   * the JSON form points at the port, the XML form counts.
   */
  private static String portOf(Node module, Node pin) {
    if (pin.target != null) {
      return pin.target.name;
    }
    Matcher byPosition = BY_POSITION.matcher(pin.name);
    return byPosition.matches()
        ? module
            .children("var")
            .filter(port -> port.attribute("pinIndex").equals(byPosition.group(1)))
            .map(port -> port.name)
            .findFirst()
            .orElse(pin.name)
        : pin.name;
  }

  /** A module's name in the source, without what Verilator adds for parameters. */
  static String sourceName(Node module) {
    return module.attribute("origName").isEmpty() ? module.name : module.attribute("origName");
  }

  /** What a reference within an instance means, be it to its own, another's or an interface's. */
  Optional<Signal> resolve(Scope place, Node reference) {
    if (reference.is("varref")) {
      return reference.referred().map(variable -> new Signal(place, variable));
    }
    if (!reference.is("varxref")) {
      return Optional.empty();
    }
    Node seenFrom = reference;
    for (Scope from = place; from != null; from = from.parent) {
      Optional<Scope> found = from.walk(seenFrom, reference.attribute("dotted"));
      if (found.isPresent()) {
        return find(found.get().module, reference.name)
            .map(variable -> new Signal(found.get(), variable));
      }
      seenFrom = from.instance;
    }
    return Optional.empty();
  }

  private static Optional<Node> find(Node module, String name) {
    Optional<Node> direct = module.variable(name);
    return direct.isPresent()
        ? direct
        : module.all().filter(it -> it.is("var") && it.name.equals(name)).findFirst();
  }
}
