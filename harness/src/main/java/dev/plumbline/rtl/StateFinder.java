package dev.plumbline.rtl;

import dev.plumbline.rtl.Hierarchy.Place;
import dev.plumbline.rtl.StateElement.Kind;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * Finds the registers and memories of a design.
 *
 * <p>A register is a variable of a module that is assigned under a clock edge. A memory is an
 * unpacked array that is, or one that only an initial block fills. Variables inside blocks, tasks
 * and functions are scratch paper and not listed.
 */
final class StateFinder {
  private record Local(String path, StateElement element) {}

  private final Types types;
  private final Map<Node, List<Local>> modules = new HashMap<>();

  StateFinder(Types types) {
    this.types = types;
  }

  List<StateElement> of(Hierarchy hierarchy) {
    List<StateElement> state = new ArrayList<>();
    for (Place place : hierarchy.places()) {
      for (Local local : modules.computeIfAbsent(place.module, this::scan)) {
        StateElement it = local.element();
        String path = place.path + "." + local.path();
        state.add(
            new StateElement(path, it.kind(), it.width(), it.depth(), it.signed(), it.location()));
      }
    }
    return state;
  }

  private List<Local> scan(Node module) {
    Set<Node> clocked = new LinkedHashSet<>();
    Set<Node> initial = new LinkedHashSet<>();
    Set<Node> driven = new HashSet<>();
    scopes(module)
        .forEach(
            scope -> {
              for (Node node : scope.children) {
                if (node.is("always")) {
                  written(node, Sensitivity.of(node).clocked() ? clocked : driven);
                } else if (node.is("contassign", "assignalias")) {
                  written(node, driven);
                } else if (node.is("initial", "initialstatic")) {
                  written(node, initial);
                }
              }
            });
    List<Local> found = new ArrayList<>();
    for (Node scope : scopes(module)) {
      scope
          .children("var")
          .forEach(
              variable -> {
                Shape shape = types.of(variable.type);
                boolean array = !shape.unpacked().isEmpty();
                boolean filled = array && initial.contains(variable) && !driven.contains(variable);
                if (shape.trouble().isEmpty() && (clocked.contains(variable) || filled)) {
                  found.add(new Local(path(variable), element(variable, shape, array)));
                }
              });
    }
    return found;
  }

  private static StateElement element(Node variable, Shape shape, boolean array) {
    return new StateElement(
        "",
        array ? Kind.MEMORY : Kind.REGISTER,
        shape.width(),
        shape.depth(),
        shape.signed(),
        variable.location);
  }

  /** A module and its generate scopes, in the order of the source. */
  private static List<Node> scopes(Node module) {
    List<Node> scopes = new ArrayList<>(List.of(module));
    for (int i = 0; i < scopes.size(); i++) {
      scopes.get(i).children("begin").forEach(scopes::add);
    }
    return scopes;
  }

  private static String path(Node variable) {
    StringBuilder path = new StringBuilder(variable.name);
    for (Node scope = variable.parent; scope.is("begin"); scope = scope.parent) {
      if (!scope.name.isEmpty()) {
        path.insert(0, scope.name + ".");
      }
    }
    return path.toString();
  }

  /** Collects the variables of the module that a block assigns, tasks it calls included. */
  private static void written(Node block, Set<Node> into) {
    written(block, into, new HashSet<>());
  }

  private static void written(Node block, Set<Node> into, Set<Node> called) {
    block
        .all()
        .forEach(
            node -> {
              if (node.is("assign", "assigndly", "contassign", "assignalias")) {
                target(node.child(1), into);
              } else if (node.is("readmem")) {
                target(node.child(1), into);
              } else if (node.is("taskref", "funcref")) {
                call(node, into, called);
              }
            });
  }

  private static void call(Node call, Set<Node> into, Set<Node> called) {
    Node routine = call.referred().orElse(null);
    if (routine == null) {
      return;
    }
    if (called.add(routine)) {
      written(routine, into, called);
    }
    List<Node> arguments = call.children("arg").toList();
    List<Node> ports = routine.children("var").filter(port -> isPort(routine, port)).toList();
    for (int i = 0; i < Math.min(arguments.size(), ports.size()); i++) {
      if (!ports.get(i).attribute("dir").equals("input") && !arguments.get(i).children.isEmpty()) {
        target(arguments.get(i).child(0), into);
      }
    }
  }

  /** A function's result stands among its variables as an output of the function's own name. */
  private static boolean isPort(Node routine, Node variable) {
    return !variable.attribute("dir").isEmpty() && !variable.name.equals(routine.name);
  }

  /** The variables a target writes; what only selects a place in them is read, not written. */
  private static void target(Node target, Set<Node> into) {
    switch (target.kind) {
      case "varref" -> target.referred().filter(Node::standing).ifPresent(into::add);
      case "sel", "arraysel", "structsel", "membersel" -> target(target.child(0), into);
      case "concat", "streaml", "streamr" -> target.children.forEach(it -> target(it, into));
      default -> {}
    }
  }
}
