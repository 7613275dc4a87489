package dev.plumbline.rtl;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * Finds the enum behind a variable whose type the XML form has already reduced to bits.
 *
 * <p>What is left there is the name of the type on the variable, and the enums with their full
 * names and base types. Where that leaves a choice, no enum is taken.
 */
final class EnumNames {
  private final SourceText source;
  private final List<Node> enums;
  private final List<Node> typedefs;
  private final List<Node> references;

  EnumNames(Tree tree, SourceText source) {
    this.source = source;
    enums = tree.netlist().all().filter(node -> node.is("enumdtype")).toList();
    typedefs = tree.netlist().all().filter(node -> node.is("typedef")).toList();
    references = tree.netlist().all().filter(node -> node.is("refdtype")).toList();
  }

  /** The enum as a list of one, or an empty list. */
  List<Node> find(Node variable) {
    Node base = variable.type;
    while (base != null && base.is("unpackarraydtype")) {
      base = base.type;
    }
    String name = variable.attribute("vartype");
    if (variable.type != base) {
      // An array hides the name of its element type; before the variable's name it still stands.
      name = source.wordBefore(variable);
    }
    for (int step = 0; step < 8 && base != null && base.is("basicdtype"); step++) {
      List<Node> found = named(name, base);
      if (!found.isEmpty()) {
        return found.size() == 1 ? found : List.of();
      }
      Optional<String> behind = behind(name, base);
      if (behind.isEmpty()) {
        return List.of();
      }
      name = behind.get();
    }
    return List.of();
  }

  private List<Node> named(String name, Node base) {
    return enums.stream()
        .filter(type -> type.type == base)
        .filter(
            type ->
                type.name.equals(name)
                    || type.name.endsWith("::" + name)
                    || type.name.endsWith("." + name))
        .toList();
  }

  /** The type that a typedef of one type as another names: the reference right before its name. */
  private Optional<String> behind(String name, Node base) {
    List<Node> own =
        typedefs.stream().filter(type -> type.name.equals(name) && type.type == base).toList();
    if (own.size() != 1) {
      return Optional.empty();
    }
    Node typedef = own.get(0);
    return references.stream()
        .filter(reference -> reference.location.equals(typedef.location))
        .filter(reference -> reference.column < typedef.column && reference.type == base)
        .max(Comparator.comparingInt(reference -> reference.column))
        .map(reference -> reference.name);
  }
}
