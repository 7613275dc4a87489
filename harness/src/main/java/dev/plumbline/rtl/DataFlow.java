package dev.plumbline.rtl;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * Which signals each signal is made from: those in the values it is assigned, and in the conditions
 * under which it is. Clocks are none of them.
 */
final class DataFlow {
  private final Hierarchy hierarchy;
  private final Map<String, Set<String>> sources = new LinkedHashMap<>();
  private final Set<String> known = new HashSet<>();

  private DataFlow(Hierarchy hierarchy) {
    this.hierarchy = hierarchy;
    for (Scope place : hierarchy.places()) {
      place
          .module
          .all()
          .filter(node -> node.is("var") && node.standing())
          .forEach(variable -> known.add(path(place, variable)));
    }
  }

  static Map<String, List<String>> of(Hierarchy hierarchy) {
    DataFlow flow = new DataFlow(hierarchy);
    for (Scope place : hierarchy.places()) {
      flow.statements(place, place.module);
      flow.connections(place);
    }
    return flow.sources.entrySet().stream()
        .collect(Collectors.toMap(Map.Entry::getKey, entry -> List.copyOf(entry.getValue())));
  }

  /** What a block assigns. */
  static Set<String> targets(Scope place, Node block) {
    Set<String> written = new LinkedHashSet<>();
    block
        .all()
        .filter(it -> it.is("assign", "assigndly"))
        .forEach(it -> target(place, it.child(1), written));
    return written;
  }

  private static void target(Scope place, Node target, Set<String> into) {
    if (target.is("sel", "arraysel", "structsel", "membersel")) {
      target(place, target.child(0), into);
    } else if (target.is("concat", "streaml", "streamr")) {
      target.children.forEach(part -> target(place, part, into));
    } else if (target.is("varref")) {
      target
          .referred()
          .filter(Node::standing)
          .ifPresent(variable -> into.add(path(place, variable)));
    }
  }

  private void statements(Scope place, Node scope) {
    for (Node node : scope.children) {
      if (node.is("begin")) {
        statements(place, node);
      } else if (node.is("contassign", "assignalias", "always")) {
        Set<String> scratch = scratch(place, node);
        node.all()
            .filter(it -> it.is("assign", "assigndly", "contassign", "assignalias"))
            .forEach(assignment -> assignment(place, assignment, node, scratch));
      }
    }
  }

  /** What blocks with variables of their own read: whatever they assign may be made from it. */
  private Set<String> scratch(Scope place, Node block) {
    Set<String> read = new LinkedHashSet<>();
    boolean own =
        block
            .all()
            .anyMatch(it -> it.is("varref") && it.referred().stream().anyMatch(v -> !v.standing()));
    if (own) {
      block
          .all()
          .filter(it -> it.is("assign", "assigndly"))
          .forEach(it -> references(place, it.child(0), read));
    }
    return read;
  }

  private void assignment(Scope place, Node assignment, Node block, Set<String> scratch) {
    Set<String> read = new LinkedHashSet<>(scratch);
    references(place, assignment.child(0), read);
    Node inner = assignment;
    for (Node around = assignment.parent; around != block.parent; around = around.parent) {
      if (around.is("if", "case") && around.child(0) != inner) {
        references(place, around.child(0), read);
      }
      inner = around;
    }
    Set<String> written = new LinkedHashSet<>();
    targets(place, assignment.child(1), written, read);
    written.forEach(
        target -> sources.computeIfAbsent(target, key -> new LinkedHashSet<>()).addAll(read));
  }

  /** A place that is selected by a signal is read from it. */
  private void targets(Scope place, Node target, Set<String> written, Set<String> read) {
    if (target.is("sel", "arraysel", "structsel", "membersel")) {
      targets(place, target.child(0), written, read);
      target.children.stream().skip(1).forEach(index -> references(place, index, read));
    } else if (target.is("concat", "streaml", "streamr")) {
      target.children.forEach(part -> targets(place, part, written, read));
    } else {
      references(place, target, written);
    }
  }

  private void connections(Scope place) {
    if (place.parent == null) {
      return;
    }
    place.connections.forEach(
        (port, expression) -> {
          Node variable = place.module.variable(port).orElse(null);
          if (variable == null) {
            return;
          }
          String inner = place.path + "." + port;
          Set<String> outer = new LinkedHashSet<>();
          references(place.parent, expression, outer);
          if (variable.attribute("dir").equals("input")) {
            sources.computeIfAbsent(inner, key -> new LinkedHashSet<>()).addAll(outer);
          } else {
            outer.forEach(
                path -> sources.computeIfAbsent(path, key -> new LinkedHashSet<>()).add(inner));
          }
        });
  }

  private void references(Scope place, Node expression, Set<String> into) {
    List<Node> found = new ArrayList<>();
    expression.all().filter(it -> it.is("varref", "varxref")).forEach(found::add);
    for (Node reference : found) {
      Optional<String> generated =
          reference.is("varxref") ? seen(place, reference) : Optional.empty();
      if (generated.isPresent()) {
        into.add(generated.get());
        continue;
      }
      hierarchy
          .resolve(place, reference)
          .filter(signal -> signal.variable().standing())
          .map(signal -> path(signal.place(), signal.variable()))
          .ifPresent(into::add);
    }
  }

  /**
   * What a reference through generate scopes or instances means: the nearest signal of that name,
   * looked for from its own scope outwards.
   */
  private Optional<String> seen(Scope place, Node reference) {
    String name =
        reference
                .attribute("dotted")
                .replace("__BRA__", "[")
                .replace("__KET__", "]")
                .replace("__DOT__", ".")
            + "."
            + reference.name;
    String scope = place.path + "." + Scope.scope(reference);
    for (int dot = scope.length(); dot > 0; dot = scope.lastIndexOf('.', dot - 1)) {
      String candidate = scope.substring(0, dot).replaceFirst("\\.$", "") + "." + name;
      if (known.contains(candidate)) {
        return Optional.of(candidate);
      }
    }
    return Optional.empty();
  }

  private static String path(Scope place, Node variable) {
    return place.path + "." + Scope.scope(variable) + variable.name;
  }
}
