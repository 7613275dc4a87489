package dev.plumbline.rtl;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** What drives each variable of a module by logic alone: no registers, no latches. */
final class Drivers {
  /**
   * One value a variable takes.
   *
   * @param value the expression
   * @param low the lowest bit it drives; -1 when the place is not constant
   * @param width the bits it drives; -1 for all
   * @param chosen whether it is one of several
   */
  record Driver(Node value, int low, int width, boolean chosen) {
    /** The bit of the value that drives a bit of the variable, -1 standing for any. */
    Optional<Integer> bit(int ofVariable) {
      if (ofVariable < 0 || low < 0) {
        return Optional.of(-1);
      }
      int own = ofVariable - low;
      return own >= 0 && (width < 0 || own < width) ? Optional.of(own) : Optional.empty();
    }
  }

  private final Map<Node, List<Driver>> drivers = new HashMap<>();
  private final Map<Node, Driver> remote = new LinkedHashMap<>();

  Drivers(Node module) {
    scan(module);
  }

  List<Driver> of(Node variable) {
    return drivers.getOrDefault(variable, List.of());
  }

  /** Drivers of variables in other instances, by the reference to each. */
  Map<Node, Driver> remote() {
    return remote;
  }

  private void scan(Node scope) {
    for (Node node : scope.children) {
      if (node.is("contassign", "assignalias", "alias")) {
        add(node, false);
      } else if (node.is("begin")) {
        scan(node);
      } else if (node.is("always") && !Sensitivity.of(node).clocked()) {
        node.all()
            .filter(it -> it.is("assign", "assigndly"))
            .filter(it -> settled(node, it.child(1)))
            .forEach(it -> add(it, !unconditional(it)));
      }
    }
  }

  private void add(Node assignment, boolean chosen) {
    Node value = assignment.child(0);
    Node target = assignment.child(1);
    if (target.is("sel")) {
      int low = Constants.place(target.child(1));
      int width = Constants.place(target.child(2));
      put(target.child(0), new Driver(value, low, width, chosen || low < 0));
    } else {
      put(target, new Driver(value, 0, -1, chosen));
    }
  }

  private void put(Node reference, Driver driver) {
    if (reference.is("varxref")) {
      remote.put(reference, driver);
    } else if (reference.is("varref")) {
      reference
          .referred()
          .ifPresent(
              variable -> drivers.computeIfAbsent(variable, it -> new ArrayList<>()).add(driver));
    }
  }

  /** An assignment that is done whenever its block runs. */
  private static boolean unconditional(Node assignment) {
    Node around = assignment.parent;
    while (around.is("begin") && !around.parent.is("if")) {
      around = around.parent;
    }
    return around.is("always");
  }

  /** Whether a block assigns a target whatever way it takes; if not, the target is a latch. */
  private static boolean settled(Node node, Node target) {
    return switch (node.kind) {
      case "assign", "assigndly" ->
          node.child(1).all().anyMatch(it -> it.is("varref") && target.all().anyMatch(named(it)));
      case "always", "begin", "caseitem" ->
          node.children.stream().anyMatch(child -> settled(child, target));
      case "if" ->
          node.children.size() == 3 && branches(node).stream().allMatch(it -> settled(it, target));
      // Most cases that list no default list every value.
      case "case" -> node.children("caseitem").allMatch(item -> settled(item, target));
      default -> false;
    };
  }

  private static List<Node> branches(Node choice) {
    return choice.children.subList(1, choice.children.size());
  }

  private static java.util.function.Predicate<Node> named(Node reference) {
    return node -> node.is("varref") && node.name.equals(reference.name);
  }
}
