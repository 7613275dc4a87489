package dev.plumbline.models.scene;

import dev.plumbline.models.program.OperationKind;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;

/**
 * A carousel of the orrery that carries carousels, to see how an executor's work grows with a
 * scene. A hub of radius <i>r</i> has four arms at right angles about its axis; each bears a ball
 * of radius <i>qr</i>, q = 3/8, that touches the hub, so that its centre is (1 + q) <i>r</i> away;
 * and each ball is the hub of a smaller carousel that turns about the arm.
 *
 * <pre>{@code
 * Program program = Carousel.of(3).program(formats, limits);   // 85 spheres, 256 operations
 * }</pre>
 *
 * <p><b>Count.</b> Generation k has 4<sup>k</sup> spheres of radius q<sup>k</sup>, and g
 * generations around the first hub make (4<sup>g+1</sup> - 1) / 3 spheres.
 *
 * <p><b>Reach.</b> Nothing of a carousel whose hub has radius r is farther from the hub's centre
 * than all arms in line: r (1 + q) (1 + q + q<sup>2</sup> + ...) = Rr, R = (1 + q) / (1 - q) =
 * 11/5; the radius of the last ball is less than the rest of the series, since R is above 1.
 *
 * <p><b>No two spheres overlap</b>, and only a ball and its own hub touch. Two spheres that are not
 * ball and hub have one of these places, up to scale:
 *
 * <ul>
 *   <li>They belong to carousels on two arms of one hub, whose centres are at least the square root
 *       of 2 times 1 + q apart and which reach Rq each: 2 (11/8)<sup>2</sup> = 3.78 is more than (2
 *       * 11/5 * 3/8)<sup>2</sup> = 2.72.
 *   <li>One is a hub, the other belongs to the carousel of a ball's ball. That ball's arm is at a
 *       right angle to the first, which puts its centre at a distance whose square is (1 +
 *       q)<sup>2</sup> (1 + q<sup>2</sup>) = 8833/4096 = 2.16, and its carousel reaches
 *       Rq<sup>2</sup>: (1 + 11/5 * 9/64)<sup>2</sup> = (419/320)<sup>2</sup> = 1.71 is less.
 * </ul>
 *
 * <p>Arms lie along the axes, so every centre and radius is a whole number of 8<sup>-g</sup>: words
 * with 3g fraction bits hold the scene exactly.
 */
public final class Carousel {
  /** 1365 spheres: the most whose numbers 16 fraction bits hold exactly. */
  private static final int MOST = 5;

  /** A ball's radius, of its hub's. */
  private static final double RATIO = 3 / 8.0;

  private static final int Z = 2;

  private final List<Scene.Item> pieces = new ArrayList<>();

  private Carousel() {}

  /**
   * A carousel about the origin that turns about z, within a distance of 2.2; its hub has radius 1.
   *
   * @param generations of smaller carousels on the first hub: 0 to 5, for 1, 5, 21, 85, 341 or 1365
   *     spheres
   * @return the scene, without culling boxes, each hub before what it carries; lengths are in
   *     words, a sphere's material is how many generations it carries
   * @throws IllegalArgumentException for other generations
   */
  public static Scene of(int generations) {
    if (generations < 0 || generations > MOST) {
      throw new IllegalArgumentException(
          "Carousel of " + generations + " generations: 0 to " + MOST + " are allowed.");
    }
    Carousel carousel = new Carousel();
    carousel.hub(new double[3], Z, 1, generations);
    return Scene.of(null, Map.of(), carousel.pieces);
  }

  private void hub(double[] centre, int axis, double radius, int generations) {
    List<BigDecimal> numbers = new ArrayList<>();
    for (double number : new double[] {centre[0], centre[1], centre[2], radius}) {
      numbers.add(new BigDecimal(number)); // exact, as the double is
    }
    Scene.Solid solid = new Scene.Primitive(OperationKind.SPHERE, numbers, generations);
    pieces.add(new Scene.Piece("s" + pieces.size(), solid));
    for (int arm = 0; arm < 3 && generations > 0; arm++) {
      for (int side = -1; side <= 1 && arm != axis; side += 2) {
        double[] next = centre.clone();
        next[arm] += side * (1 + RATIO) * radius;
        hub(next, arm, RATIO * radius, generations - 1);
      }
    }
  }
}
