package dev.plumbline.rtl;

import dev.plumbline.rtl.Hierarchy.Signal;
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
  /** What the code of one module writes; references to other instances are kept as they stand. */
  private static final class Written {
    final Set<Node> clocked = new LinkedHashSet<>();
    final Set<Node> elsewhere = new LinkedHashSet<>();
    final Set<Node> initial = new HashSet<>();
    final Set<Node> driven = new HashSet<>();
  }

  private final Types types;
  private final Map<Node, Written> modules = new HashMap<>();

  StateFinder(Types types) {
    this.types = types;
  }

  List<StateElement> of(Hierarchy hierarchy) {
    Set<Signal> remote = new HashSet<>();
    for (Scope place : hierarchy.places()) {
      for (Node reference : written(place.module).elsewhere) {
        hierarchy.resolve(place, reference).ifPresent(remote::add);
      }
    }
    List<StateElement> state = new ArrayList<>();
    for (Scope place : hierarchy.places()) {
      Written written = written(place.module);
      for (Node scope : scopes(place.module)) {
        scope
            .children("var")
            .filter(
                variable ->
                    written.clocked.contains(variable)
                        || remote.contains(new Signal(place, variable))
                        || isFilled(written, variable))
            .map(variable -> element(place, variable))
            .filter(element -> element.width() > 0)
            .forEach(state::add);
      }
    }
    return state;
  }

  private boolean isFilled(Written written, Node variable) {
    return written.initial.contains(variable)
        && !written.driven.contains(variable)
        && !types.of(variable.type).unpacked().isEmpty();
  }

  /** Of no width where the variable is none that has bits. */
  private StateElement element(Scope place, Node variable) {
    Shape shape = types.of(variable.type);
    return new StateElement(
        place.path + "." + Scope.scope(variable) + variable.name,
        shape.unpacked().isEmpty() ? Kind.REGISTER : Kind.MEMORY,
        shape.trouble().isEmpty() ? shape.width() : 0,
        shape.depth(),
        shape.signed(),
        variable.location);
  }

  private Written written(Node module) {
    return modules.computeIfAbsent(module, StateFinder::scan);
  }

  private static Written scan(Node module) {
    Written written = new Written();
    for (Node scope : scopes(module)) {
      for (Node node : scope.children) {
        if (node.is("always") && Sensitivity.of(node).clocked()) {
          targets(node, written.clocked, new HashSet<>());
        } else if (node.is("always", "contassign", "assignalias")) {
          targets(node, written.driven, new HashSet<>());
        } else if (node.is("initial", "initialstatic")) {
          targets(node, written.initial, new HashSet<>());
        }
      }
    }
    written.clocked.stream().filter(it -> it.is("varxref")).forEach(written.elsewhere::add);
    return written;
  }

  /** A module and its generate scopes, in the order of the source. */
  private static List<Node> scopes(Node module) {
    List<Node> scopes = new ArrayList<>(List.of(module));
    for (int i = 0; i < scopes.size(); i++) {
      scopes.get(i).children("begin").forEach(scopes::add);
    }
    return scopes;
  }

  /** Collects the variables that a block assigns, by the tasks it calls as well. */
  private static void targets(Node block, Set<Node> into, Set<Node> called) {
    block
        .all()
        .forEach(
            node -> {
              if (node.is("assign", "assigndly", "contassign", "assignalias", "readmem")) {
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
      targets(routine, into, called);
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
      case "varxref" -> into.add(target);
      case "sel", "arraysel", "structsel", "membersel" -> target(target.child(0), into);
      case "concat", "streaml", "streamr" -> target.children.forEach(it -> target(it, into));
      default -> {}
    }
  }
}
