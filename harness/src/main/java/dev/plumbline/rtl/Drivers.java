package dev.plumbline.rtl;

import java.util.ArrayList;
import java.util.HashMap;
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
   * @param chosen whether it is one of several, or depends on conditions
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

  Drivers(Node module) {
    scan(module);
  }

  List<Driver> of(Node variable) {
    return drivers.getOrDefault(variable, List.of());
  }

  private void scan(Node scope) {
    for (Node node : scope.children) {
      if (node.is("contassign", "assignalias")) {
        add(node, false);
      } else if (node.is("begin")) {
        scan(node);
      } else if (node.is("always") && !Sensitivity.of(node).clocked()) {
        node.all().filter(it -> it.is("assign", "assigndly")).forEach(it -> add(it, true));
      }
    }
  }

  private void add(Node assignment, boolean procedural) {
    Node value = assignment.child(0);
    Node target = assignment.child(1);
    if (target.is("varref")) {
      put(target, new Driver(value, 0, -1, procedural && !plain(assignment)));
    } else if (target.is("sel") && target.child(0).is("varref")) {
      int low = Constants.number(target.child(1)).map(it -> it.intValueExact()).orElse(-1);
      int width = Constants.number(target.child(2)).map(it -> it.intValueExact()).orElse(-1);
      put(target.child(0), new Driver(value, low, width, procedural && !plain(assignment)));
    }
  }

  private void put(Node reference, Driver driver) {
    Hierarchy.resolve(reference)
        .ifPresent(
            variable -> drivers.computeIfAbsent(variable, it -> new ArrayList<>()).add(driver));
  }

  /** An assignment that is done whenever its block runs. */
  private static boolean plain(Node assignment) {
    Node around = assignment.parent;
    while (around.is("begin")) {
      around = around.parent;
    }
    return around.is("always");
  }
}
