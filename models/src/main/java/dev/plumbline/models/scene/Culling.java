package dev.plumbline.models.scene;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.SceneFormats;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/**
 * Puts a hierarchy of culling boxes around the pieces of a scene.
 *
 * <pre>{@code
 * Culling culling = Culling.of(formats, 40);
 * Program fast = culling.culled(culling.sorted(scene)).program(formats, limits);
 * }</pre>
 *
 * <p>For rays of unit length that start within {@code reach} of all they may hit, with a start
 * distance of 0 or more, the culled program finds the very hits of the flat one, to the last bit. A
 * box is padded for that: its test takes inverses short by one LSB, which moves a face at distance
 * {@code reach} by {@code reach * 2^-i}, and saturates them for the smallest components of a
 * direction; and half-spaces are off by as much on their own account. The padding is {@code reach *
 * max(2 * 2^-i, 2 * 2^-F, 1 / largest inverse if one saturates) + 4 * 2^-F}, which for words and
 * inverses of 16.16 is {@code 2 * reach * 2^-16} and four LSB. Pieces that go on for ever get no
 * box.
 *
 * <p>Where a box pays is judged by surfaces: a ray that meets a convex body meets another inside it
 * with the probability of the quotient of their surfaces (Cauchy, 1841; used for hierarchies since
 * J. Goldsmith and J. Salmon, "Automatic Creation of Object Hierarchies for Ray Tracing", IEEE
 * CG&amp;A 7(5), 1987), and a box is put where the operations that it saves outweigh its own and
 * its mispredictions, {@code pq / (1 - 2pq)} of them for a two-bit counter.
 *
 * @param formats of the program
 * @param reach the farthest that a ray's origin may be from anything it may hit, in words; above 0
 * @param misprediction cycles lost by a skip that is predicted wrongly, 0 or more
 */
public record Culling(SceneFormats formats, double reach, double misprediction) {
  /** Checks the ranges. */
  public Culling {
    if (!(reach > 0) || !(misprediction >= 0)) {
      throw new IllegalArgumentException(
          "Culling for a reach of "
              + reach
              + " and mispredictions of "
              + misprediction
              + " cycles: the reach has to be above 0 and the cycles 0 or more.");
    }
  }

  /**
   * Culling for the fewest operations, mispredictions not counted.
   *
   * @param formats of the program
   * @param reach in words, above 0
   * @return culling
   */
  public static Culling of(SceneFormats formats, double reach) {
    return new Culling(formats, reach, 0);
  }

  /** How far a box is padded, in words. */
  double padding() {
    Format inverse = formats.inverse();
    double largest = inverse.toReal(inverse.maxCode());
    boolean saturates = 1 / formats.direction().lsbs() > largest;
    double last = 2 * Math.max(inverse.lsbs(), formats.word().lsbs());
    return reach * Math.max(last, saturates ? 1 / largest : 0) + 4 * formats.word().lsbs();
  }

  /**
   * The scene with pieces that lie near each other next to each other, which makes for better
   * boxes; where two pieces are hit at one distance to the last bit, the earlier is seen, and that
   * may be another than before.
   *
   * @param scene any; its culling boxes are left out
   * @return the same pieces in another order
   */
  public Scene sorted(Scene scene) {
    List<BoxTree.Leaf> unbounded = new ArrayList<>();
    List<BoxTree.Leaf> bounded = new ArrayList<>();
    leaves(scene).forEach(leaf -> (leaf.box == null ? unbounded : bounded).add(leaf));
    List<Scene.Item> items = new ArrayList<>();
    unbounded.forEach(leaf -> items.add(leaf.piece));
    sort(bounded, items);
    return scene.with(items);
  }

  private static void sort(List<BoxTree.Leaf> leaves, List<Scene.Item> into) {
    if (leaves.size() < 3) {
      leaves.forEach(leaf -> into.add(leaf.piece));
      return;
    }
    List<BoxTree.Leaf> best = leaves;
    BoxTree.Split split = null;
    for (int axis = 0; axis < 3; axis++) {
      int a = axis;
      List<BoxTree.Leaf> along = new ArrayList<>(leaves);
      along.sort(Comparator.comparingDouble(leaf -> leaf.box[a] + leaf.box[a + 3]));
      BoxTree.Split here = BoxTree.split(along);
      if (split == null || here.cost() < split.cost()) {
        best = along;
        split = here;
      }
    }
    sort(best.subList(0, split.at()), into);
    sort(best.subList(split.at(), best.size()), into);
  }

  /**
   * The scene with culling boxes around its pieces, which stay in their order.
   *
   * @param scene any; its own culling boxes are left out
   * @return a scene of which every ray sees the same
   */
  public Scene culled(Scene scene) {
    List<BoxTree.Leaf> leaves = leaves(scene);
    return leaves.isEmpty()
        ? scene
        : scene.with(new BoxTree(scene, formats, misprediction).items(leaves));
  }

  private List<BoxTree.Leaf> leaves(Scene scene) {
    List<BoxTree.Leaf> leaves = new ArrayList<>();
    collect(scene.items(), new Bounds(scene, formats, padding()), leaves);
    return leaves;
  }

  private static void collect(List<Scene.Item> items, Bounds bounds, List<BoxTree.Leaf> leaves) {
    for (Scene.Item item : items) {
      if (item instanceof Scene.Piece piece) {
        int operations = 1 + 2 * solids(piece.solid());
        leaves.add(new BoxTree.Leaf(piece, bounds.of(piece.solid()), operations));
      } else if (item instanceof Scene.Within within) {
        collect(within.items(), bounds, leaves);
      }
    }
  }

  private static int solids(Scene.Solid solid) {
    if (solid instanceof Scene.Part part) {
      return solids(part.first())
          + part.steps().stream().mapToInt(step -> solids(step.solid())).sum();
    }
    return 1;
  }
}
