package dev.plumbline.rtl;

import dev.plumbline.rtl.Clock.Edge;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * The edges a block waits for, each told as clock or asynchronous reset.
 *
 * @param items the edges in the order of the list; empty for combinational logic
 */
record Sensitivity(List<Item> items) {
  /**
   * One edge.
   *
   * @param signal what is waited for
   * @param edge which edge
   * @param reset whether the block tests the signal before anything else, as a reset is tested
   */
  record Item(Node signal, Edge edge, boolean reset) {}

  boolean clocked() {
    return !items.isEmpty();
  }

  static Sensitivity of(Node block) {
    List<Node> waits = block.children("sentree").flatMap(tree -> tree.children("senitem")).toList();
    List<Node> tests = tests(block);
    List<Item> items = new ArrayList<>();
    for (Node wait : waits) {
      edge(wait).ifPresent(edge -> items.add(new Item(wait.child(0), edge, false)));
    }
    // One edge must be left to be the clock, so the first tests win.
    int clocks = items.size();
    for (Node test : tests) {
      for (int i = 0; i < items.size() && clocks > 1; i++) {
        Item item = items.get(i);
        if (!item.reset() && reads(test, item.signal())) {
          items.set(i, new Item(item.signal(), item.edge(), true));
          clocks--;
        }
      }
    }
    return new Sensitivity(List.copyOf(items));
  }

  static Optional<Edge> edge(Node item) {
    return switch (item.attribute("edgeType")) {
      case "POS" -> Optional.of(Edge.RISING);
      case "NEG" -> Optional.of(Edge.FALLING);
      case "BOTH" -> Optional.of(Edge.BOTH);
      default -> Optional.empty();
    };
  }

  /**
   * The conditions of a block's first {@code if ... else if ...}, in order. Verilator may have made
   * a choice within an assignment of it.
   */
  private static List<Node> tests(Node block) {
    List<Node> tests = new ArrayList<>();
    Optional<Node> step = first(block.children.stream());
    while (step.isPresent()) {
      Node choice = step.get();
      tests.add(choice.child(0));
      step = first(choice.children.stream().skip(1));
    }
    return tests;
  }

  private static Optional<Node> first(Stream<Node> nodes) {
    return nodes.flatMap(Node::all).filter(node -> node.is("if", "cond")).findFirst();
  }

  private static boolean reads(Node expression, Node signal) {
    return expression
        .all()
        .anyMatch(
            node ->
                node.is("varref", "varxref")
                    && node.kind.equals(signal.kind)
                    && node.name.equals(signal.name)
                    && node.attribute("dotted").equals(signal.attribute("dotted")));
  }
}
