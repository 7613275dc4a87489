package dev.plumbline.rtl;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** The instance tree: every module where it stands, with what its ports are connected to. */
final class Hierarchy {
  /**
   * Verilator's name for the variable that stands for an interface instance is the instance's plus
   * this.
   */
  private static final String INTERFACE_SUFFIX = "__Viftop";

  /** A variable of one instance. */
  record Signal(Place place, Node variable) {}

  /** One instance of a module or interface. */
  static final class Place {
    /** Hierarchical name, the top module's first. */
    final String path;

    final Node module;

    /** The instance around this one; null at the top. */
    final Place parent;

    /** The node that makes this instance; null at the top. */
    final Node instance;

    /**
     * Position in an array of instances, counted from its rightmost element; 0 for a single one.
     */
    final int element;

    /** What each port is connected to, in terms of the instance around this one. */
    final Map<String, Node> connections = new HashMap<>();

    /** By name below this one, generate scopes included: {@code lane[0].cell}. */
    final Map<String, Place> children = new HashMap<>();

    Place(String path, Node module, Place parent, Node instance, int element) {
      this.path = path;
      this.module = module;
      this.parent = parent;
      this.instance = instance;
      this.element = element;
    }
  }

  private final Place top;
  private final List<Place> places = new ArrayList<>();

  Hierarchy(Tree tree) {
    Node module = tree.top();
    top = new Place(sourceName(module), module, null, null, 0);
    places.add(top);
    grow(top, module, "");
  }

  Place top() {
    return top;
  }

  /** Every instance, parents before children, the top first. */
  List<Place> places() {
    return places;
  }

  /** The instances below the top as users see them. */
  List<Instance> instances() {
    return places.stream()
        .skip(1)
        .map(place -> new Instance(place.path, sourceName(place.module), place.instance.location))
        .toList();
  }

  private void grow(Place place, Node scope, String prefix) {
    for (Node node : scope.children) {
      if (node.is("instance") && node.target != null) {
        List<String> names = names(node);
        for (int i = 0; i < names.size(); i++) {
          add(place, node, prefix + names.get(i), names.size() - 1 - i);
        }
      } else if (node.is("begin")) {
        grow(place, node, node.name.isEmpty() ? prefix : prefix + node.name + ".");
      }
    }
  }

  private void add(Place place, Node instance, String name, int element) {
    Place child = new Place(place.path + "." + name, instance.target, place, instance, element);
    instance
        .children("port")
        .filter(pin -> !pin.children.isEmpty())
        .forEach(pin -> child.connections.put(pin.name, pin.child(0)));
    place.children.put(name, child);
    places.add(child);
    grow(child, instance.target, "");
  }

  /** One name, or one for each element of an array of instances, the leftmost first. */
  private static List<String> names(Node instance) {
    Optional<Node> range = instance.children("range").findFirst();
    if (range.isEmpty()) {
      return List.of(instance.name);
    }
    return Types.range(range.get()).indices().stream()
        .map(index -> instance.name + "[" + index + "]")
        .toList();
  }

  /** A module's name in the source, without what Verilator adds for parameters. */
  static String sourceName(Node module) {
    return module.attribute("origName").isEmpty() ? module.name : module.attribute("origName");
  }

  /** What a reference within an instance means, be it to its own, another's or an interface's. */
  Optional<Signal> resolve(Place place, Node reference) {
    if (reference.is("varref")) {
      return reference.referred().map(variable -> new Signal(place, variable));
    }
    if (!reference.is("varxref")) {
      return Optional.empty();
    }
    for (Place from = place; from != null; from = from.parent) {
      Optional<Place> found = walk(from, reference.attribute("dotted"));
      if (found.isPresent()) {
        return find(found.get().module, reference.name)
            .map(variable -> new Signal(found.get(), variable));
      }
    }
    return Optional.empty();
  }

  private Optional<Place> walk(Place from, String dotted) {
    if (from.path.equals(dotted)) {
      return Optional.of(from);
    }
    if (from.children.containsKey(dotted)) {
      return Optional.of(from.children.get(dotted));
    }
    Optional<Place> behindPort = interfaceBehind(from, dotted);
    if (behindPort.isPresent()) {
      return behindPort;
    }
    // The first part may itself hold dots where it goes through generate scopes.
    for (int dot = dotted.indexOf('.'); dot > 0; dot = dotted.indexOf('.', dot + 1)) {
      String head = dotted.substring(0, dot);
      Place next = from.path.equals(head) ? from : from.children.get(head);
      if (next != null) {
        return walk(next, dotted.substring(dot + 1));
      }
    }
    return Optional.empty();
  }

  /**
   * The interface instance that an interface port is connected to, through any number of levels.
   */
  private static Optional<Place> interfaceBehind(Place from, String port) {
    Place place = from;
    String name = port;
    while (place != null) {
      if (place.children.containsKey(name)) {
        return Optional.of(place.children.get(name));
      }
      Node connection = place.connections.get(name);
      if (connection == null || !connection.is("varref")) {
        return Optional.empty();
      }
      name = connection.name;
      if (name.endsWith(INTERFACE_SUFFIX)) {
        name = name.substring(0, name.length() - INTERFACE_SUFFIX.length());
      }
      place = place.parent;
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
