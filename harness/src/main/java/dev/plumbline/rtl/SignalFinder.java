package dev.plumbline.rtl;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;

/** Lists every signal of the hierarchy; constants and variables inside blocks are none. */
final class SignalFinder {
  private SignalFinder() {}

  static List<Signal> of(Hierarchy hierarchy, Types types) {
    Set<String> registers =
        new StateFinder(types)
            .of(hierarchy).stream().map(StateElement::path).collect(Collectors.toSet());
    List<Signal> signals = new ArrayList<>();
    Set<String> seen = new HashSet<>();
    for (Scope place : hierarchy.places()) {
      for (Node scope : scopes(place.module)) {
        scope
            .children("var")
            .filter(variable -> !variable.flag("param") && !variable.flag("localparam"))
            .filter(variable -> variable.type != null && !isGenvar(place.module, variable))
            .map(variable -> signal(place, variable, types, registers))
            .filter(signal -> signal.width() > 0 && seen.add(signal.path()))
            .forEach(signals::add);
      }
    }
    return signals;
  }

  /**
   * The XML calls it an integer, but nothing refers to it any more; loops within blocks may have a
   * variable of the same name.
   */
  private static boolean isGenvar(Node module, Node variable) {
    return variable.type.name.equals("integer")
        && module
            .all()
            .filter(it -> it.is("varref") && it.name.equals(variable.name))
            .noneMatch(it -> it.referred().filter(found -> found == variable).isPresent());
  }

  /** Of no width where it has no bits, such as a string. */
  private static Signal signal(Scope place, Node variable, Types types, Set<String> registers) {
    Shape shape = types.ofVariable(variable);
    String path = place.path + "." + Scope.scope(variable) + variable.name;
    return new Signal(
        path,
        Hierarchy.sourceName(place.module),
        shape.trouble().isEmpty() ? shape.width() : 0,
        shape.signed(),
        shape.unpacked(),
        registers.contains(path),
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
}
