package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.datapath.Vectors;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.models.unit.Reciprocal;
import java.util.Objects;

/**
 * Where a ray enters and leaves an axis-parallel box: the slab rule in fixed point.
 *
 * <pre>{@code
 * Format word = Format.signed(16, 16);
 * Datapath box = BoxSlab.of(word).withMargin(2).fromInverse(Format.signed(16, 16));
 * }</pre>
 *
 * <p>On each axis the distances to both faces are {@code t = (face - origin) * inverse}, rounded
 * down to the word's LSB and saturated to the word. {@code entry} is the largest of the nearer ones
 * and {@code exit} the smallest of the farther ones, in units of the direction's length; the ray
 * hits when {@code entry <= exit + margin} and {@code exit + margin >= 0} (T. Kay and J. Kajiya,
 * "Ray Tracing Complex Scenes", SIGGRAPH 1986). Faces may be given crossed (minimum above maximum):
 * they are put in order, unless the ray is parallel to them, when nothing is inside.
 *
 * <p>A ray parallel to an axis is inside that axis's slab or it is not. Inside, the nearer distance
 * is the word's lowest code and the farther one its highest; outside, the other way round.
 *
 * <p>Rounding keeps the order of distances: for the inverse as given, no box that is hit is ever
 * missed, whatever the margin. Against the <em>direction</em>, an inverse of i fraction bits that
 * is rounded towards zero shortens a distance by up to {@code |face - origin| * 2^-i}. No box that
 * is hit is missed where the margin, in LSB of the word, is at least one more than that, and the
 * inverse does not saturate. This is the fixed-point analogue of the two units in the last place
 * that T. Ize adds to the far distance ("Robust BVH Ray Traversal", JCGT 2(2), 2013).
 *
 * <p>Operands of either form: {@code origin_x, origin_y, origin_z}, then the form's own, then
 * {@code min_x, min_y, min_z, max_x, max_y, max_z}; results {@code hit} (a bit), {@code entry} and
 * {@code exit} (words).
 */
public final class BoxSlab {
  private static final int MAX_MARGIN = 255;

  private final Format word;
  private final Rounding rounding;
  private final int margin;
  private final OnFace onFace;
  private final boolean saturatedIsParallel;
  private final boolean hasFaces;

  /** Where a parallel ray lies that runs exactly in a face of its slab. */
  public enum OnFace {
    /** Inside: faces belong to the box. */
    INSIDE,
    /** Outside. */
    OUTSIDE
  }

  private BoxSlab(
      Format word,
      Rounding rounding,
      int margin,
      OnFace onFace,
      boolean saturatedIsParallel,
      boolean hasFaces) {
    this.saturatedIsParallel = saturatedIsParallel;
    this.hasFaces = hasFaces;
    this.word = Objects.requireNonNull(word, "word");
    this.rounding = Objects.requireNonNull(rounding, "rounding");
    this.onFace = Objects.requireNonNull(onFace, "onFace");
    if (margin < 0 || margin > MAX_MARGIN) {
      throw new IllegalArgumentException(
          "Box slab with a margin of " + margin + " LSB: it has to be 0 to " + MAX_MARGIN + ".");
    }
    this.margin = margin;
  }

  /**
   * A box test in a word format: distances rounded down, a margin of two LSB, faces inside.
   *
   * @param word format of origins, faces and distances
   * @return a description to make a datapath of
   */
  public static BoxSlab of(Format word) {
    return new BoxSlab(word, Rounding.FLOOR, 2, OnFace.INSIDE, false, false);
  }

  /**
   * The same test with another margin.
   *
   * @param margin LSB of the word, 0 to 255, that the far distance is taken to be farther
   * @return a description
   */
  public BoxSlab withMargin(int margin) {
    return new BoxSlab(word, rounding, margin, onFace, saturatedIsParallel, hasFaces);
  }

  /**
   * The same test with another rounding of the distances.
   *
   * @param rounding from the exact product to the word
   * @return a description
   */
  public BoxSlab withRounding(Rounding rounding) {
    return new BoxSlab(word, rounding, margin, onFace, saturatedIsParallel, hasFaces);
  }

  /**
   * The same test with another result for a parallel ray in a face.
   *
   * @param onFace where it lies
   * @return a description
   */
  public BoxSlab withOnFace(OnFace onFace) {
    return new BoxSlab(word, rounding, margin, onFace, saturatedIsParallel, hasFaces);
  }

  /**
   * The same test with saturated inverses taken for parallel.
   *
   * <p>The inverse of a component that is too small for its format saturates, and distances by it
   * are wrong by any factor. Where that is of one or two codes of the direction, to take the ray
   * for parallel moves it by no more than these times the distance.
   *
   * @param parallel whether an axis whose inverse is the highest or the lowest code is taken as
   *     parallel, as if its bit were 1; of {@link #fromInverse} alone
   * @return a description
   */
  public BoxSlab withSaturatedAsParallel(boolean parallel) {
    return new BoxSlab(word, rounding, margin, onFace, parallel, hasFaces);
  }

  /**
   * The same test that also says which faces are met.
   *
   * <p>Further results {@code entry_face} and {@code exit_face}, of 3 bits, are named as {@link
   * Box}'s, but for none: of axes at one distance it is the first, always. On an axis the nearer
   * distance is the minimum's where it does not exceed the maximum's, both saturated, and where the
   * ray is parallel. They mean something where entry and exit do.
   *
   * @return a description; its bounds have no faces, those of {@link Box} do
   */
  public BoxSlab withFaces() {
    return new BoxSlab(word, rounding, margin, onFace, saturatedIsParallel, true);
  }

  /**
   * The test of a ray given by the reciprocals of its direction.
   *
   * <p>Own operands: {@code inverse_x, inverse_y, inverse_z}, then the bits {@code parallel_x,
   * parallel_y, parallel_z}, each 1 where that component of the direction is zero; the inverse is
   * then ignored.
   *
   * @param inverse format of the reciprocals
   * @return steps {@code to_min_x, to_max_x, t_min_x, t_max_x, inside_x, near_x, far_x}, the same
   *     for y and z, and {@code entry, exit, hit} among others
   */
  public Datapath fromInverse(Format inverse) {
    return fromInverse(steps(Datapath.named("box_slab")), inverse, saturatedIsParallel, hasFaces);
  }

  /**
   * The test of a ray given by its direction.
   *
   * <p>Own operands: {@code direction_x, direction_y, direction_z}, any length but all zero; a
   * component of zero is a parallel axis.
   *
   * @param reciprocal how a component becomes its inverse
   * @return the steps of the other form, after {@code inverse_x, parallel_x} and so on
   */
  public Datapath fromDirection(Reciprocal reciprocal) {
    return fromDirection(steps(Datapath.named("box_slab")), reciprocal, hasFaces);
  }

  /**
   * The least that any hardware of these formats may be off: that of {@link Box#budget}.
   *
   * @param working the format whose LSB are counted; of its bits only those behind the point matter
   * @return {@code inverse} with none, {@code distance} with one
   */
  public Budget budget(Format working) {
    return BudgetedSlabSteps.budget(working);
  }

  /**
   * Bounds for anybody's hardware that is given the reciprocals, within a budget.
   *
   * <p>They enclose what {@link Box#budgetedFromInverse} does, whichever way a distance is rounded:
   * the rounding of this description is not asked. Where faces are crossed, hardware may put them
   * in order or take the box for empty: a ray that a box with its faces in order would hit may be a
   * hit or a miss.
   *
   * @param inverse format of the reciprocals
   * @param budget of this block; see {@link #budget}
   * @return a datapath whose bounds are meant
   * @throws IllegalArgumentException when the budget is another block's
   */
  public Datapath budgetedFromInverse(Format inverse, Budget budget) {
    return fromInverse(budgeted(Datapath.named("box_slab"), budget, true), inverse, false, false);
  }

  /**
   * Bounds for anybody's hardware that is given the direction, within a budget: as {@link
   * #budgetedFromInverse}, with a division or a reciprocal within one LSB, which may saturate or
   * not.
   *
   * @param reciprocal for its formats, of a component and of an inverse that saturates
   * @param budget of this block; see {@link #budget}
   * @return a datapath whose bounds are meant
   * @throws IllegalArgumentException when the budget is another block's, or there is no {@link
   *     Reciprocal#between} for the working format
   */
  public Datapath budgetedFromDirection(Reciprocal reciprocal, Budget budget) {
    return fromDirection(budgeted(Datapath.named("box_slab"), budget, false), reciprocal, false);
  }

  private SlabSteps steps(Datapath.Builder b) {
    return new SlabSteps(b, word, rounding, onFace, margin);
  }

  private SlabSteps budgeted(Datapath.Builder b, Budget budget, boolean givenInverses) {
    return new CrossedSlabSteps(b, word, onFace, margin, budget, givenInverses);
  }

  private Datapath fromInverse(
      SlabSteps steps, Format inverse, boolean saturatedParallel, boolean faces) {
    Datapath.Builder b = steps.b;
    Value[] origins = new Vectors(b).inputs("origin", word);
    Value[] inverses = new Vectors(b).inputs("inverse", inverse);
    Value[] parallels = new Vectors(b).inputs("parallel", Format.bit());
    for (int i = 0; saturatedParallel && i < Vectors.COUNT; i++) {
      parallels[i] = steps.parallelOrSaturated(Vectors.suffix(i), inverses[i], parallels[i]);
    }
    return describe(steps, origins, inverses, parallels, faces);
  }

  private Datapath fromDirection(SlabSteps steps, Reciprocal reciprocal, boolean faces) {
    Value[] origins = new Vectors(steps.b).inputs("origin", word);
    Value[] directions = new Vectors(steps.b).inputs("direction", reciprocal.input());
    Value[] inverses = steps.reciprocals(directions, reciprocal);
    return describe(steps, origins, inverses, steps.zeros(directions), faces);
  }

  private Datapath describe(
      SlabSteps steps, Value[] origins, Value[] inverses, Value[] parallels, boolean faces) {
    Datapath.Builder b = steps.b;
    SlabSteps.Slab[] slabs = steps.slabs(origins, inverses, parallels);
    SlabSteps.Span[] spans = new SlabSteps.Span[Vectors.COUNT];
    for (int i = 0; i < Vectors.COUNT; i++) {
      SlabSteps.Slab slab = slabs[i];
      spans[i] =
          steps.span(
              slab,
              b.minimum("nearer" + slab.suffix(), slab.toMin(), slab.toMax()),
              b.maximum("farther" + slab.suffix(), slab.toMin(), slab.toMax()));
    }
    Value entryXy = b.maximum("entry_xy", spans[0].near(), spans[1].near());
    Value exitXy = b.minimum("exit_xy", spans[0].far(), spans[1].far());
    Value entry = b.maximum("entry", entryXy, spans[2].near());
    Value exit = b.minimum("exit", exitXy, spans[2].far());
    b.output("hit", steps.hit(spans, entry, exit));
    b.output(entry).output(exit);
    if (faces) {
      new SlabFaces(b, spans).describe(entryXy, exitXy);
    }
    return b.build();
  }
}
