package dev.plumbline.rtl;

import dev.plumbline.rtl.RtlException.Message;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.HashMap;
import java.util.HashSet;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Stream;

/**
 * Refuses types and modules that contain themselves or nest deeper than can be followed, before
 * anybody follows them. No design is like that, but a description that was cut or spoilt may be.
 */
final class Nesting {
  /** Levels of types, at most; each takes several calls of the reader. */
  private static final int DEEPEST_TYPE = 256;

  /** Levels of instances, at most. */
  private static final int DEEPEST_MODULE = 1000;

  private final String what;
  private final int deepest;
  private final Function<Node, List<Node>> inner;
  private final Map<Node, Integer> heights = new HashMap<>();

  private Nesting(String what, int deepest, Function<Node, List<Node>> inner) {
    this.what = what;
    this.deepest = deepest;
    this.inner = inner;
  }

  static void check(Tree tree) {
    Nesting types = new Nesting("type", DEEPEST_TYPE, Nesting::partsOfType);
    tree.netlist().all().filter(node -> node.kind.endsWith("dtype")).forEach(types::follow);
    Nesting modules = new Nesting("module", DEEPEST_MODULE, Nesting::modulesIn);
    modules.follow(tree.top());
  }

  private static List<Node> partsOfType(Node type) {
    Stream<Node> parts = type.children("memberdtype");
    return (type.type == null ? parts : Stream.concat(parts, Stream.of(type.type))).toList();
  }

  private static List<Node> modulesIn(Node module) {
    return module
        .all()
        .filter(node -> node.is("instance") && node.target != null)
        .map(node -> node.target)
        .distinct()
        .toList();
  }

  /** One level of the way from the start to where the walk is. */
  private static final class Level {
    private final Node node;
    private final Iterator<Node> rest;
    private int height;

    Level(Node node, Iterator<Node> rest) {
      this.node = node;
      this.rest = rest;
    }
  }

  private void follow(Node start) {
    Deque<Level> way = new ArrayDeque<>();
    Set<Node> on = new HashSet<>();
    enter(start, way, on);
    while (!way.isEmpty()) {
      Level level = way.peek();
      if (level.rest.hasNext()) {
        Node next = level.rest.next();
        if (on.contains(next)) {
          throw refused(next, "contains itself");
        }
        enter(next, way, on);
        continue;
      }
      way.pop();
      on.remove(level.node);
      heights.put(level.node, level.height + 1);
      if (!way.isEmpty()) {
        way.peek().height = Math.max(way.peek().height, level.height + 1);
      }
    }
  }

  private void enter(Node node, Deque<Level> way, Set<Node> on) {
    Integer known = heights.get(node);
    if (way.size() + (known == null ? 1 : known) > deepest) {
      throw refused(node, "is nested more than " + deepest + " deep");
    }
    if (known == null) {
      way.push(new Level(node, inner.apply(node).iterator()));
      on.add(node);
    } else if (!way.isEmpty()) {
      way.peek().height = Math.max(way.peek().height, known);
    }
  }

  private RtlException refused(Node node, String why) {
    String name = node.name.isEmpty() ? what : what + " \"" + node.name + "\"";
    return new RtlException(
        "A " + name + " " + why + "; have Verilator write its description anew, or flatten it",
        List.of(new Message(node.location, name)));
  }
}
