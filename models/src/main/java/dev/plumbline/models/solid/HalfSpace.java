package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.datapath.Vectors;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.unit.Reciprocal;
import java.util.Objects;

/**
 * Where a ray enters or leaves the half-space {@code normal . x <= level}, the solid behind a
 * plane.
 *
 * <pre>{@code
 * HalfSpace half = HalfSpace.of(Format.signed(16, 16), Format.signed(2, 16));
 * Datapath plane = half.datapath();
 * }</pre>
 *
 * <p>Operands: {@code origin_x, origin_y, origin_z} (words), {@code direction_x} and so on, {@code
 * normal_x} and so on (direction format; the normal points out of the solid), {@code level} (a
 * word, in units of the normal's length). Results: the bits {@code hit}, {@code inside}, {@code
 * leaving}, {@code parallel}, the words {@code entry}, {@code exit}.
 *
 * <p>The ray meets the plane at {@code height / slope}, with {@code height = level - normal .
 * origin} and {@code slope = normal . direction} (E. Haines, "Essential Ray Tracing Algorithms", in
 * A. Glassner (ed.), An Introduction to Ray Tracing, 1989, chapter 2). Where it leaves, {@code
 * entry} is the word's lowest code and {@code exit} that distance; where it comes in, {@code entry}
 * is the distance and {@code exit} the highest code. It hits when {@code entry <= exit} and {@code
 * exit >= 0}.
 *
 * <ul>
 *   <li>Parallel ({@code slope} rounds to zero): {@code entry} and {@code exit} are the lowest and
 *       the highest code inside, and the other way round outside, which is a miss.
 *   <li>The plane belongs to the solid: an origin on it is inside and a ray that lies in it is
 *       parallel and inside, a hit.
 *   <li>A plane behind the origin gives a negative distance: leaving, that is a miss, unless it
 *       rounds to zero; coming in, the origin is inside already.
 *   <li>Neither normal nor direction need be of unit length: distances are in units of the
 *       direction's length. A normal of zero is parallel to everything: all of space where the
 *       level is 0 or more, else nothing.
 *   <li>A distance beyond the word saturates and still decides rightly. A slope beyond the
 *       reciprocal's operand, an inverse beyond its result (at slopes of a few LSB) and a height
 *       beyond eight times the word saturate too: the distance is then wrong, its sign is not.
 * </ul>
 */
public final class HalfSpace {
  private final Format word;
  private final Format direction;
  private final Reciprocal reciprocal;

  private HalfSpace(Format word, Format direction, Reciprocal reciprocal) {
    this.word = Objects.requireNonNull(word, "word");
    this.direction = Objects.requireNonNull(direction, "direction");
    this.reciprocal = Objects.requireNonNull(reciprocal, "reciprocal");
  }

  /**
   * A half-space whose slope and inverse are words.
   *
   * @param word format of origins, level and distances
   * @param direction format of directions and normals
   * @return a description to make a datapath of
   * @throws IllegalArgumentException when there is no {@link Reciprocal#between} for the word
   */
  public static HalfSpace of(Format word, Format direction) {
    return new HalfSpace(word, direction, Reciprocal.between(word, word));
  }

  /**
   * The same half-space with another reciprocal unit.
   *
   * @param reciprocal its operand is the slope's format, its result the inverse's
   * @return a description
   */
  public HalfSpace withReciprocal(Reciprocal reciprocal) {
    return new HalfSpace(word, direction, reciprocal);
  }

  /**
   * The declared micro-architecture.
   *
   * <p>{@code height} exact; {@code slope_full} exact, {@code slope} rounded to the nearest code of
   * the reciprocal's operand; {@code inverse}; {@code depth}, the height rounded to four more
   * fraction bits and three more integer bits than the word; {@code distance}, depth times inverse
   * rounded to the nearest word; nearest is half up, and what does not fit saturates. {@code
   * inside} is the exact height's sign, {@code parallel} and {@code leaving} the rounded slope's.
   *
   * @return steps by those names among others
   */
  public Datapath datapath() {
    Datapath.Builder b = Datapath.named("half_space");
    return describe(new PlaneSteps(b, word, reciprocal));
  }

  /**
   * The least that any hardware of these formats may be off: one rounding an operation and nothing
   * beyond.
   *
   * @param working the format whose LSB are counted; of its bits only those behind the point
   *     matter, at most 30
   * @return {@code height}, {@code slope}, {@code inverse} and {@code distance}, each with none;
   *     they count what comes on top of one rounding an operation
   */
  public Budget budget(Format working) {
    return BudgetedPlaneSteps.budget(working);
  }

  /**
   * Bounds for anybody's hardware in these formats whose working format is the word.
   *
   * @return as {@link #budgeted(Budget)} with the default budget
   */
  public Datapath budgeted() {
    return budgeted(budget(word));
  }

  /**
   * Bounds for anybody's hardware in these formats, within a budget.
   *
   * <p>They enclose every order of evaluation that rounds an operation once to the working format
   * or a finer one, whichever way: products before or after they are summed, a division, or a
   * reciprocal within one LSB and a product. A product that the working format holds is exact, so
   * that a plane in simple numbers stays sharp. Intermediate results may saturate as in {@link
   * #datapath}, or not at all; the final distances saturate. Ideally, nothing but those saturates.
   * The origin is inside and the ray is parallel by the hardware's own height and slope.
   *
   * @param budget of this block; see {@link #budget}
   * @return a datapath whose bounds are meant; its bits are one such hardware
   * @throws IllegalArgumentException when the budget is another block's, or there is no {@link
   *     Reciprocal#between} for the working format
   */
  public Datapath budgeted(Budget budget) {
    Datapath.Builder b = Datapath.named("half_space");
    return describe(new BudgetedPlaneSteps(b, word, reciprocal, budget));
  }

  private Datapath describe(PlaneSteps steps) {
    Datapath.Builder b = steps.b;
    Value[] origins = new Vectors(b).inputs("origin", word);
    Value[] directions = new Vectors(b).inputs("direction", direction);
    Value[] normals = new Vectors(b).inputs("normal", direction);
    Value level = b.input("level", word);
    PlaneSteps.Cut cut = steps.cut("", origins, directions, normals, level);
    b.output(steps.hit(cut.entry(), cut.exit()));
    b.output(cut.inside()).output(cut.leaving()).output(cut.parallel());
    return b.output(cut.entry()).output(cut.exit()).build();
  }
}
