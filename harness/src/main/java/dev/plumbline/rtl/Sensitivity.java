package dev.plumbline.rtl;

import dev.plumbline.rtl.Clock.Edge;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Predicate;
import java.util.stream.Stream;

/**
 * The edges a block waits for, each classified as clock or asynchronous reset.
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

  /** Reads an {@code always} block, or anything else that waits for edges. */
  static Sensitivity of(Node block) {
    List<Item> items = new ArrayList<>();
    block
        .all()
        .filter(node -> node.is("senitem") && !node.children.isEmpty())
        .forEach(
            wait -> edge(wait).ifPresent(edge -> items.add(new Item(wait.child(0), edge, false))));
    for (Node test : tests(block)) {
      mark(items, item -> reads(test, item.signal()));
    }
    // Verilator turns "if (reset) q <= 0; else q <= d;" on one bit into "q <= d & ~reset"; a clock,
    // at any rate, is never read.
    mark(items, item -> body(block).anyMatch(statement -> reads(statement, item.signal())));
    return new Sensitivity(List.copyOf(items));
  }

  /** Marks edges as resets, the first ones first, as long as one is left to be the clock. */
  private static void mark(List<Item> items, Predicate<Item> isReset) {
    for (int i = 0; i < items.size(); i++) {
      Item item = items.get(i);
      boolean another = items.stream().filter(it -> !it.reset()).count() > 1;
      if (!item.reset() && another && isReset.test(item)) {
        items.set(i, new Item(item.signal(), item.edge(), true));
      }
    }
  }

  private static Optional<Edge> edge(Node item) {
    return switch (item.attribute("edgeType")) {
      case "POS" -> Optional.of(Edge.RISING);
      case "NEG" -> Optional.of(Edge.FALLING);
      case "BOTH" -> Optional.of(Edge.BOTH);
      default -> Optional.empty();
    };
  }

  private static Stream<Node> body(Node block) {
    return block.children.stream().filter(child -> !child.is("sentree"));
  }

  /**
   * The conditions of a block's first {@code if ... else if ...}, in order. Verilator may have made
   * a choice within an assignment of it, and may have exchanged the branches.
   */
  private static List<Node> tests(Node block) {
    List<Node> tests = new ArrayList<>();
    Optional<Node> step = first(body(block));
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

  private static boolean reads(Node node, Node signal) {
    List<Node> wanted = signal.all().filter(it -> it.is("varref", "varxref")).toList();
    return node.all().anyMatch(it -> wanted.stream().anyMatch(named -> same(it, named)));
  }

  private static boolean same(Node one, Node other) {
    return one.kind.equals(other.kind)
        && one.name.equals(other.name)
        && one.attribute("dotted").equals(other.attribute("dotted"));
  }
}
