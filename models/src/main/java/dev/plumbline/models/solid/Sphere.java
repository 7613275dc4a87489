package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.unit.Reciprocal;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Objects;

/**
 * Where a ray enters and leaves a sphere, in fixed point.
 *
 * <pre>{@code
 * Sphere sphere = Sphere.of(Format.signed(16, 16), Format.signed(2, 16));
 * Datapath ours = sphere.datapath();                        // one micro-architecture, every bit
 * Datapath anybodys = sphere.budgeted();                    // hardware of unknown insides
 * Datapath better =                                         // the same, known to be more precise
 *     sphere.budgeted(sphere.budget(Format.signed(20, 20)).with("projection", 1));
 * }</pre>
 *
 * <p>Operands {@code origin_x, origin_y, origin_z}, {@code centre_x, centre_y, centre_z} and {@code
 * radius} in words, {@code direction_x, direction_y, direction_z} in a format of their own. Results
 * {@code hit} and {@code inside} (bits), {@code entry} and {@code exit} (words): distances along
 * the direction, negative behind the origin, in units of the direction's length. With normals, also
 * {@code entry_normal_x} and so on, outwards and of unit length.
 *
 * <p><b>Declared at the edges.</b> A tangent is a hit, with both distances equal. The origin on the
 * surface hits at distance 0; inside, {@code entry} is negative and {@code inside} is 1. A sphere
 * wholly behind is no hit. A sphere of radius 0 is a point, hit only dead on; one of negative
 * radius is never hit. Distances beyond the word saturate, and still decide: beyond the highest
 * code is ahead, beyond the lowest behind. Distances mean something only where {@code hit} is 1
 * ({@code Contract.validWhen}). A direction of zero meets a sphere when its origin lies inside.
 *
 * <p><b>Directions</b> are meant to be of unit length and off by their own LSB only. For a squared
 * length of 1 + e the exact datapath takes it to be 1, and its distances are off by a relative e or
 * so; the nearest code of a unit vector with F fraction bits has |e| of at most 2&#8730;3 *
 * 2<sup>-(F+1)</sup>. What hardware makes of e depends on its {@link Formula}. Bounds under a
 * budget take in all of them unless one is declared; {@link Formula#LENGTH}, whose squared length
 * is exact, is then the ideal.
 *
 * <p>Sources: E. Haines, "Essential Ray Tracing Algorithms", in A. Glassner (ed.), An Introduction
 * to Ray Tracing, 1989, ch. 2; the perpendicular form is common practice.
 */
public final class Sphere {
  static final String BLOCK = "sphere";

  private final Format word;
  private final Format direction;
  private final Reciprocal inverse;
  private final Choices choices;

  /** What is declared beyond the formats. */
  private record Choices(Formula formula, NegativeRadius radius, Entry entry, Roots roots) {
    static final Choices USUAL =
        new Choices(Formula.ANY, NegativeRadius.MISSED, Entry.CROSSING, Roots.ANY);

    Choices {
      Objects.requireNonNull(formula, "formula");
      Objects.requireNonNull(radius, "radius");
      Objects.requireNonNull(entry, "entry");
      Objects.requireNonNull(roots, "roots");
    }
  }

  /**
   * What hardware computes, with d the direction, b = d.(centre - origin) and c = |centre -
   * origin|<sup>2</sup> - radius<sup>2</sup>. All are one where d is of unit length.
   */
  public enum Formula {
    /** Any of the others. */
    ANY,
    /**
     * (b &#177; &#8730;(b<sup>2</sup> - a c)) / a, with a = |d|<sup>2</sup>, divided by at the end
     * or at first: right at any length.
     */
    LENGTH,
    /** b &#177; &#8730;(b<sup>2</sup> - c). */
    SQUARES,
    /** b &#177; &#8730;(radius<sup>2</sup> - |centre - origin - b d|<sup>2</sup>). */
    PERPENDICULAR
  }

  /** What a negative radius means. */
  public enum NegativeRadius {
    /** No ray hits. */
    MISSED,
    /** As much as the positive one: hardware that only squares its radius. */
    SQUARED
  }

  /** What {@code entry} is where a ray hits. */
  public enum Entry {
    /** Where the ray's line enters the sphere, in front of the origin or behind it. */
    CROSSING,
    /** The nearer crossing that is not behind the origin: the exit where the entry is below 0. */
    NOT_NEGATIVE,
    /** The nearer crossing ahead of the origin: the exit where the entry is 0 or below. */
    POSITIVE
  }

  /** How good square roots are where the square is a perfect one. */
  public enum Roots {
    /** Within the budget: one LSB below as well, as a root times its rounded inverse may be. */
    ANY,
    /** Exact, as any root is that is rounded to a neighbour. */
    EXACT_AT_SQUARES
  }

  private Sphere(Format word, Format direction, Reciprocal inverse, Choices choices) {
    this.word = Objects.requireNonNull(word, "word");
    this.direction = Objects.requireNonNull(direction, "direction");
    this.inverse = inverse;
    this.choices = choices;
    if (!word.signed() || !direction.signed()) {
      throw new IllegalArgumentException(
          "Sphere with words "
              + word
              + " and directions "
              + direction
              + ": both have to be signed; give signed formats.");
    }
  }

  /**
   * A sphere in given formats, without normals.
   *
   * @param word signed format of points, radius and distances
   * @param direction signed format of the direction's components; it should hold 1
   * @return a description to make datapaths of
   * @throws IllegalArgumentException when a format is not signed
   */
  public static Sphere of(Format word, Format direction) {
    return new Sphere(word, direction, null, Choices.USUAL);
  }

  /**
   * The same sphere with its outward normal at either crossing, in the direction's format.
   *
   * <p>A normal is (origin + distance * direction - centre) / radius. A component of 1 saturates
   * where the format does not hold it; at a radius of 0 normals mean nothing.
   *
   * @param inverse how the radius becomes its inverse; it takes words
   * @return a description
   * @throws IllegalArgumentException when it does not take the sphere's words
   */
  public Sphere withNormals(Reciprocal inverse) {
    if (!inverse.input().equals(word)) {
      throw new IllegalArgumentException(
          "Sphere with words "
              + word
              + " and a reciprocal that takes "
              + inverse.input()
              + ": it has to take the sphere's words; give Reciprocal.between("
              + word
              + ", ...).");
    }
    return new Sphere(word, direction, inverse, choices);
  }

  /**
   * The same sphere, its hardware known to use one formula: bounds under a budget are then those of
   * that formula alone, and so is the ideal.
   *
   * <p>This narrows bounds a lot where the sphere is far away beside its size, since formulas
   * differ in what they make of a direction's length. That difference is then no longer seen: take
   * {@link Formula#ANY} to hold hardware to the true distance.
   *
   * @param formula as declared; {@link Formula#ANY} unless set
   * @return a description
   */
  public Sphere withFormula(Formula formula) {
    return with(new Choices(formula, choices.radius(), choices.entry(), choices.roots()));
  }

  /**
   * The same sphere with another meaning of a negative radius, in bits, bounds and ideal.
   *
   * @param radius as declared; {@link NegativeRadius#MISSED} unless set
   * @return a description
   */
  public Sphere withNegativeRadius(NegativeRadius radius) {
    return with(new Choices(choices.formula(), radius, choices.entry(), choices.roots()));
  }

  /**
   * The same sphere with another meaning of {@code entry}, in bits, bounds and ideal; {@code
   * inside} still tells whether the crossing that it stands for in {@link Entry#CROSSING} lies
   * behind.
   *
   * @param entry as declared; {@link Entry#CROSSING} unless set
   * @return a description
   */
  public Sphere withEntry(Entry entry) {
    return with(new Choices(choices.formula(), choices.radius(), entry, choices.roots()));
  }

  /**
   * The same sphere with roots as good as declared; this is for bounds alone.
   *
   * @param roots as declared; {@link Roots#ANY} unless set
   * @return a description
   */
  public Sphere withRoots(Roots roots) {
    return with(new Choices(choices.formula(), choices.radius(), choices.entry(), roots));
  }

  private Sphere with(Choices other) {
    return new Sphere(word, direction, inverse, other);
  }

  /**
   * One micro-architecture, step by step: the perpendicular from the centre to the ray's line, with
   * four guard bits.
   *
   * @return steps {@code offset_x, dot, projection, along_x, across_x, squared_distance,
   *     squared_radius, discriminant, meets, radicand, root, entry, exit, hit, inside} among others
   * @throws dev.plumbline.models.datapath.DatapathException when a step needs more than 128 bits
   */
  public Datapath datapath() {
    return new SphereSteps(this).describe();
  }

  /**
   * The default budget, its intermediates rounded to the LSB of a word.
   *
   * @return as {@link #budget(Format)} of the word format
   */
  public Budget budget() {
    return budget(word);
  }

  /**
   * The default budget: one rounding an operation to the LSB of a working format, in any order and
   * either way.
   *
   * <p>Quantities: {@code offset}, each component of an offset that is a rounded product or
   * difference (from the foot of the perpendicular, and from the crossing; from origin to centre
   * only where the working format is coarser than a word), 1; {@code projection}, three rounded
   * products, 3; {@code length}, the direction's squared length, three rounded squares, 3; {@code
   * inverse}, one over it, 2 since it may be that of twice the length; {@code squared_distance},
   * three rounded squares, 3; {@code discriminant}, what other products add: the squared radius,
   * the squared projection and what is multiplied by the length, 1 for {@link
   * Formula#PERPENDICULAR}, 2 for {@link Formula#SQUARES}, else 3; {@code root}, 1; {@code
   * distance}, before it is brought into a word, 1 where the working format is finer than a word,
   * or coarser and a quotient is rounded; {@code normal}, two rounded operations, 2. The inverse
   * that normals use is not counted.
   *
   * <p>Up to its default an allowance stands for roundings, each to a neighbour: it is withheld
   * where the working format holds every product exactly, so that a sphere in simple numbers is
   * decided to the last bit. What is allowed beyond the default is hardware's own error, and always
   * there.
   *
   * <p>The projection may be rounded once more by each of its two uses, under the root and beside
   * it, within its allowance; beyond the default both are off by themselves. The like holds for
   * {@code length}.
   *
   * <p>{@code length} and {@code inverse} matter to {@link Formula#LENGTH} and {@link Formula#ANY}
   * alone, and grow with the square of the distance: set both to 0 for hardware that keeps the
   * squared length exact and divides. With an allowance for the inverse, hardware may also multiply
   * the projection by it before the root, which rounds once more; without, it divides at the end.
   *
   * @param working its LSB is the unit
   * @return a budget to change with {@link Budget#with}
   */
  public Budget budget(Format working) {
    int finer = working.fractionBits() - word.fractionBits();
    boolean quotient = formula() == Formula.ANY || formula() == Formula.LENGTH;
    int own =
        switch (formula()) {
          case PERPENDICULAR -> 1;
          case SQUARES -> 2;
          case LENGTH, ANY -> 3;
        };
    return Budget.of(BLOCK, working)
        .and("offset", 1)
        .and("projection", 3)
        .and("length", 3)
        .and("inverse", 2)
        .and("squared_distance", 3)
        .and("discriminant", own)
        .and("root", 1)
        .and("distance", finer > 0 || (finer < 0 && quotient) ? 1 : 0)
        .and("normal", 2);
  }

  /**
   * Bounds for hardware of unknown insides within the default budget.
   *
   * @return as {@link #budgeted(Budget)}
   */
  public Datapath budgeted() {
    return budgeted(budget());
  }

  /**
   * Bounds for hardware of unknown insides within a budget; evaluated in bounds or as an ideal. Its
   * bits are some micro-architecture within the budget, and nobody's in particular.
   *
   * @param budget one of this block's, from {@link #budget(Format)}
   * @return a datapath of the same operands and results as {@link #datapath()}
   * @throws IllegalArgumentException when the budget is another block's
   * @throws dev.plumbline.models.datapath.DatapathException when a step needs more than 128 bits
   */
  public Datapath budgeted(Budget budget) {
    budget.requireBlock(BLOCK);
    return new BudgetedSphere(this, budget).describe();
  }

  /**
   * The same sphere under each formula, within a budget: candidates for a {@link
   * dev.plumbline.models.datapath.BoundsFit} of somebody's results.
   *
   * @param budget one of this block's
   * @return {@link #budgeted(Budget)} by formula, {@link Formula#ANY} last
   */
  public Map<Formula, Datapath> byFormula(Budget budget) {
    Map<Formula, Datapath> candidates = new LinkedHashMap<>();
    for (Formula one : Formula.values()) {
      if (one != Formula.ANY) {
        candidates.put(one, withFormula(one).budgeted(budget));
      }
    }
    candidates.put(Formula.ANY, withFormula(Formula.ANY).budgeted(budget));
    return candidates;
  }

  /**
   * The same sphere under each meaning of a negative radius and of {@code entry}, within a budget:
   * candidates that tell a failing check which declaration its results would fit.
   *
   * @param budget one of this block's
   * @return {@link #budgeted(Budget)} by the two choices, as {@code "SQUARED, CROSSING"}; this
   *     sphere's own first
   */
  public Map<String, Datapath> byConvention(Budget budget) {
    Map<String, Datapath> candidates = new LinkedHashMap<>();
    candidates.put(negativeRadius() + ", " + entry(), budgeted(budget));
    for (NegativeRadius radius : NegativeRadius.values()) {
      for (Entry entry : Entry.values()) {
        candidates.computeIfAbsent(
            radius + ", " + entry,
            name -> withNegativeRadius(radius).withEntry(entry).budgeted(budget));
      }
    }
    return candidates;
  }

  Format word() {
    return word;
  }

  Format direction() {
    return direction;
  }

  Formula formula() {
    return choices.formula();
  }

  NegativeRadius negativeRadius() {
    return choices.radius();
  }

  Entry entry() {
    return choices.entry();
  }

  Roots roots() {
    return choices.roots();
  }

  /** How the radius becomes its inverse; null without normals. */
  Reciprocal inverse() {
    return inverse;
  }
}
