package dev.plumbline.rtl;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * One node of Verilator's elaborated tree, in one vocabulary whichever form it was written in.
 *
 * <p>The kinds, attribute names and the order of children are those of the XML form; the JSON
 * reader translates. An assignment's children are value, then target; an {@code if} has condition,
 * then one {@code begin} for each branch.
 */
final class Node {
  final String kind;
  final String name;
  final SourceLocation location;

  /** Column of the first character, counted from 1; 0 when unknown. */
  final int column;

  final Map<String, String> attributes = new HashMap<>();
  final List<Node> children = new ArrayList<>();

  /** The node around this one; null at the root. */
  Node parent;

  /** The data type, or what a derived type is made from; null when there is none. */
  Node type;

  /** What a reference, call or instance points at; null when the form gives only a name. */
  Node target;

  private Map<String, Node> variables;

  Node(String kind, String name, SourceLocation location, int column) {
    this.kind = kind;
    this.name = name;
    this.location = location;
    this.column = column;
  }

  void add(Node child) {
    child.parent = this;
    children.add(child);
  }

  boolean is(String... kinds) {
    for (String candidate : kinds) {
      if (kind.equals(candidate)) {
        return true;
      }
    }
    return false;
  }

  String attribute(String key) {
    return attributes.getOrDefault(key, "");
  }

  boolean flag(String key) {
    return attribute(key).equals("true");
  }

  Node child(int index) {
    return children.get(index);
  }

  Stream<Node> children(String... kinds) {
    return children.stream().filter(child -> child.is(kinds));
  }

  /**
   * This node and everything below it, parents first. Expressions nest as deep as generated source
   * likes, so this keeps its own stack.
   */
  Stream<Node> all() {
    List<Node> found = new ArrayList<>();
    Deque<Node> open = new ArrayDeque<>();
    open.push(this);
    while (!open.isEmpty()) {
      Node node = open.pop();
      found.add(node);
      for (int i = node.children.size() - 1; i >= 0; i--) {
        open.push(node.children.get(i));
      }
    }
    return found.stream();
  }

  /** The variable of that name declared right here. */
  Optional<Node> variable(String wanted) {
    if (variables == null) {
      variables = new HashMap<>();
      children("var").forEach(variable -> variables.putIfAbsent(variable.name, variable));
    }
    return Optional.ofNullable(variables.get(wanted));
  }

  /** The variable or subroutine that a reference names, looked for from here outwards. */
  Optional<Node> referred() {
    if (target != null) {
      return Optional.of(target);
    }
    boolean call = is("taskref", "funcref");
    for (Node scope = parent; scope != null; scope = scope.parent) {
      Optional<Node> found =
          call
              ? scope.children("task", "func").filter(it -> it.name.equals(name)).findFirst()
              : scope.variable(name);
      if (found.isPresent()) {
        return found;
      }
    }
    return Optional.empty();
  }

  boolean samePlaceAs(Node other) {
    return location.equals(other.location) && column == other.column;
  }

  /** Whether this variable belongs to a module or a generate scope, not to a block of code. */
  boolean standing() {
    Node scope = parent;
    while (scope != null && scope.is("begin")) {
      scope = scope.parent;
    }
    return scope != null && scope.is("module", "iface");
  }

  @Override
  public String toString() {
    return kind + " \"" + name + "\" at " + location;
  }
}
