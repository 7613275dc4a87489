package dev.plumbline.rtl;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** One instance of a module or interface, where it stands. */
final class Scope {
  /** Verilator's name for the variable that stands for an interface instance ends like this. */
  private static final String INTERFACE_SUFFIX = "__Viftop";

  /** Hierarchical name, the top module's first. */
  final String path;

  final Node module;

  /** The instance around this one; null at the top. */
  final Scope parent;

  /** The node that makes this instance; null at the top. */
  final Node instance;

  /** Position in an array of instances, counted from its rightmost element; 0 for a single one. */
  final int element;

  /** What each port is connected to, in terms of the instance around this one. */
  final Map<String, Node> connections = new HashMap<>();

  private final Map<String, Scope> children = new HashMap<>();
  private final Map<String, List<Scope>> arrays = new HashMap<>();

  Scope(String path, Node module, Scope parent, Node instance, int element) {
    this.path = path;
    this.module = module;
    this.parent = parent;
    this.instance = instance;
    this.element = element;
  }

  /** Adds an instance by its name below this one, generate scopes included. */
  void add(String name, Scope child) {
    children.put(name, child);
  }

  /** Adds the elements of an array of instances, that of the lowest index first. */
  void addArray(String name, List<Scope> elements) {
    arrays.put(name, elements);
  }

  Iterable<Scope> children() {
    return children.values();
  }

  /** The instance of that name as a node in this one sees it: nearest generate scope first. */
  Optional<Scope> childSeenFrom(Node node, String name) {
    return scopes(node).stream()
        .map(scope -> children.get(scope + name))
        .filter(it -> it != null)
        .findFirst();
  }

  /** The instance that a chain of names leads to from a node in this one. */
  Optional<Scope> walk(Node seenFrom, String dotted) {
    if (path.equals(dotted)) {
      return Optional.of(this);
    }
    Optional<Scope> child = childSeenFrom(seenFrom, dotted);
    Optional<Scope> direct = child.isPresent() ? child : interfaceBehind(dotted);
    if (direct.isPresent()) {
      return direct;
    }
    // The first part may itself hold dots where it goes through generate scopes.
    for (int dot = dotted.indexOf('.'); dot > 0; dot = dotted.indexOf('.', dot + 1)) {
      String head = dotted.substring(0, dot);
      Optional<Scope> next = path.equals(head) ? Optional.of(this) : childSeenFrom(seenFrom, head);
      if (next.isPresent()) {
        return next.get().walk(next.get().module, dotted.substring(dot + 1));
      }
    }
    return Optional.empty();
  }

  /**
   * The interface instance that an interface port is connected to, through any number of levels.
   */
  private Optional<Scope> interfaceBehind(String port) {
    Scope place = this;
    String name = port;
    while (place.connections.containsKey(name)) {
      Node connection = place.connections.get(name);
      boolean selected = connection.is("arraysel");
      name = (selected ? connection.child(0) : connection).name;
      if (name.endsWith(INTERFACE_SUFFIX)) {
        name = name.substring(0, name.length() - INTERFACE_SUFFIX.length());
      }
      Scope outer = place.parent;
      Optional<Scope> found = outer.childSeenFrom(connection, name);
      if (found.isEmpty()) {
        found = outer.elementSeenFrom(connection, name, place.element);
      }
      if (found.isPresent()) {
        return found;
      }
      place = outer;
    }
    return Optional.empty();
  }

  /**
   * The element of an array: that selected, or that at the same position as what it is given to.
   */
  private Optional<Scope> elementSeenFrom(Node connection, String name, int position) {
    for (String scope : scopes(connection)) {
      List<Scope> array = arrays.get(scope + name);
      if (array != null && connection.is("arraysel")) {
        int index = Constants.place(connection.child(1));
        return index < 0 ? Optional.empty() : array.stream().skip(index).findFirst();
      }
      if (array != null) {
        return array.stream().filter(it -> it.element == position).findFirst();
      }
    }
    return Optional.empty();
  }

  /** The names of the generate scopes around a node, each with a dot after it. */
  static String scope(Node node) {
    StringBuilder path = new StringBuilder();
    for (Node scope = node; scope != null && !scope.is("module", "iface"); scope = scope.parent) {
      if (scope.is("begin") && !scope.name.isEmpty()) {
        path.insert(0, scope.name + ".");
      }
    }
    return path.toString();
  }

  /** Every such path, from the innermost scope out to the module itself. */
  private static List<String> scopes(Node node) {
    List<String> scopes = new ArrayList<>();
    for (Node scope = node; scope != null; scope = scope.parent) {
      String path = scope(scope);
      if (!scopes.contains(path)) {
        scopes.add(path);
      }
    }
    scopes.sort(Comparator.comparingInt(String::length).reversed());
    return scopes;
  }
}
