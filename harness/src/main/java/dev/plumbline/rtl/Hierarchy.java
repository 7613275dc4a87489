package dev.plumbline.rtl;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** The instance tree: every module where it stands, with what its ports are connected to. */
final class Hierarchy {
  /** One module instance. */
  static final class Place {
    /** Hierarchical name, the top module's first. */
    final String path;

    final Node module;

    /** The instance around this one; null at the top. */
    final Place parent;

    /** The node that makes this instance; null at the top. */
    final Node instance;

    final Map<String, Node> connections = new LinkedHashMap<>();
    final List<Place> children = new ArrayList<>();

    Place(String path, Node module, Place parent, Node instance) {
      this.path = path;
      this.module = module;
      this.parent = parent;
      this.instance = instance;
    }
  }

  private final Place top;
  private final List<Place> places = new ArrayList<>();

  Hierarchy(Tree tree) {
    Node module = tree.top();
    top = new Place(originalName(module), module, null, null);
    places.add(top);
    grow(top, module, top.path);
  }

  Place top() {
    return top;
  }

  /** Every instance, parents before children, the top first. */
  List<Place> places() {
    return places;
  }

  private void grow(Place place, Node scope, String path) {
    for (Node node : scope.children) {
      if (node.is("instance") && node.target != null) {
        for (String name : names(node)) {
          Place child = new Place(path + "." + name, node.target, place, node);
          node.children("port")
              .forEach(
                  pin -> pin.children.stream().forEach(it -> child.connections.put(pin.name, it)));
          place.children.add(child);
          places.add(child);
          grow(child, node.target, child.path);
        }
      } else if (node.is("begin")) {
        grow(place, node, node.name.isEmpty() ? path : path + "." + node.name);
      }
    }
  }

  /** One name, or one for each element of an array of instances. */
  private static List<String> names(Node instance) {
    Optional<Node> range = instance.children("range").findFirst();
    if (range.isEmpty()) {
      return List.of(instance.name);
    }
    int left = Constants.number(range.get().child(0)).orElseThrow().intValueExact();
    int right = Constants.number(range.get().child(1)).orElseThrow().intValueExact();
    List<String> names = new ArrayList<>();
    for (int i = left; left < right ? i <= right : i >= right; i += left < right ? 1 : -1) {
      names.add(instance.name + "[" + i + "]");
    }
    return names;
  }

  /** A module's name in the source, without what Verilator adds for parameters. */
  static String originalName(Node module) {
    return module.attribute("origName").isEmpty() ? module.name : module.attribute("origName");
  }

  /** The variable that a reference names, found from where the reference stands outwards. */
  static Optional<Node> resolve(Node reference) {
    if (reference.target != null) {
      return Optional.of(reference.target);
    }
    for (Node scope = reference.parent; scope != null; scope = scope.parent) {
      Optional<Node> found =
          scope.children("var").filter(it -> it.name.equals(reference.name)).findFirst();
      if (found.isPresent()) {
        return found;
      }
    }
    return Optional.empty();
  }
}
