package dev.plumbline.models.scene;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.SceneFormats;
import java.math.BigDecimal;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.IdentityHashMap;
import java.util.List;

/** A tree over pieces in their order, and which of its nodes are worth a box. */
final class BoxTree {
  /** A piece, the box around it (null for none) and how many operations it takes. */
  static final class Leaf {
    final Scene.Piece piece;
    final double[] box;
    final int operations;

    Leaf(Scene.Piece piece, double[] box, int operations) {
      this.piece = piece;
      this.box = box;
      this.operations = operations;
    }
  }

  /** Where a row of pieces is best cut in two, and the cost of that. */
  record Split(int at, double cost) {}

  /** The depth from which a row is halved instead of cut by surface. */
  private static final int DEEP = 60;

  /** One piece, or a row of them cut in two. */
  private final class Node {
    final Leaf leaf;
    final double[] box;
    final Node left;
    final Node right;

    /** Its cost by the innermost box around it. */
    final IdentityHashMap<Node, Double> costs = new IdentityHashMap<>();

    Node(List<Leaf> leaves, int depth) {
      if (leaves.size() == 1) {
        leaf = leaves.get(0);
        left = null;
        right = null;
        box = leaf.box;
      } else {
        int at = depth < DEEP ? split(leaves).at() : leaves.size() / 2;
        leaf = null;
        left = new Node(leaves.subList(0, at), depth + 1);
        right = new Node(leaves.subList(at, leaves.size()), depth + 1);
        box = union(left.box, right.box);
      }
    }

    /** Expected, for rays that meet the innermost box around it. */
    double cost(Node outer) {
      return costs.computeIfAbsent(outer, o -> Math.min(bare(o), boxed(o)));
    }

    double bare(Node outer) {
      return leaf != null ? leaf.operations : left.cost(outer) + right.cost(outer);
    }

    double boxed(Node outer) {
      if (box == null) {
        return Double.POSITIVE_INFINITY;
      }
      double p = Math.min(1, Bounds.area(box) / Bounds.area(outer.box));
      double missed = p * (1 - p) / (1 - 2 * p * (1 - p));
      return 1 + misprediction * missed + p * bare(this);
    }

    void emit(Node outer, List<Scene.Item> into) {
      if (boxed(outer) < bare(outer)) {
        List<Scene.Item> inside = new ArrayList<>();
        emitBare(this, inside);
        into.add(new Scene.Within(numbers(box), inside));
      } else {
        emitBare(outer, into);
      }
    }

    private void emitBare(Node outer, List<Scene.Item> into) {
      if (leaf != null) {
        into.add(leaf.piece);
      } else {
        left.emit(outer, into);
        right.emit(outer, into);
      }
    }
  }

  private final Scene scene;
  private final SceneFormats formats;
  private final double misprediction;

  BoxTree(Scene scene, SceneFormats formats, double misprediction) {
    this.scene = scene;
    this.formats = formats;
    this.misprediction = misprediction;
  }

  /** The pieces with boxes around them, for rays that meet the box of all. */
  List<Scene.Item> items(List<Leaf> leaves) {
    List<Scene.Item> items = new ArrayList<>();
    Node root = new Node(leaves, 0);
    root.emit(root, items);
    return items;
  }

  private static double[] union(double[] a, double[] b) {
    return a == null || b == null ? null : Bounds.union(a, b);
  }

  /** The cut at which surfaces times operations are least; of equal ones the middlemost. */
  static Split split(List<Leaf> leaves) {
    int n = leaves.size();
    double[] right = new double[n];
    double[] box = leaves.get(n - 1).box;
    int operations = 0;
    for (int i = n - 1; i > 0; i--) {
      box = union(box, leaves.get(i).box);
      operations += leaves.get(i).operations;
      right[i] = Bounds.area(box) * operations;
    }
    Split best = new Split(n / 2, Double.POSITIVE_INFINITY);
    box = leaves.get(0).box;
    operations = 0;
    for (int i = 1; i < n; i++) {
      box = union(box, leaves.get(i - 1).box);
      operations += leaves.get(i - 1).operations;
      double cost = Bounds.area(box) * operations + right[i];
      boolean nearer = Math.abs(2 * i - n) < Math.abs(2 * best.at() - n);
      if (cost < best.cost() || (cost == best.cost() && nearer)) {
        best = new Split(i, cost);
      }
    }
    return best;
  }

  /** Outwards to codes, and exactly these as lengths of the scene. */
  private List<BigDecimal> numbers(double[] box) {
    Format word = formats.word();
    List<BigDecimal> numbers = new ArrayList<>();
    for (int i = 0; i < box.length; i++) {
      double places = box[i] / word.lsbs();
      long code = (long) (i < 3 ? Math.floor(places) : Math.ceil(places));
      numbers.add(SceneNumbers.number(BigInteger.valueOf(code), scene.unit(), word));
    }
    return numbers;
  }
}
