package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.datapath.Vectors;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.models.unit.Reciprocal;
import java.util.Objects;

/**
 * Where a ray enters and leaves an axis-parallel box as a solid, and through which faces; {@link
 * BoxSlab} is the same box as a cull volume, with a margin.
 *
 * <pre>{@code
 * Format word = Format.signed(16, 16);
 * Datapath box = Box.of(word).fromDirection(Reciprocal.between(Format.signed(2, 16), word));
 * }</pre>
 *
 * <p>Distances as in {@link BoxSlab}, rounded to the word's LSB and saturated; {@code entry} is the
 * largest of the entries and {@code exit} the smallest of the exits; the ray hits when {@code entry
 * <= exit} and {@code exit >= 0} (T. Kay and J. Kajiya, "Ray Tracing Complex Scenes", SIGGRAPH
 * 1986). The origin is inside when it lies between all faces or on one, exactly.
 *
 * <p>{@code entry_face} and {@code exit_face} name a face by twice the axis, plus one for the upper
 * face: 0 is the lower x face with the normal -x, 5 the upper z face with the normal +z; 6 is none.
 * Where several faces are at one distance, it is the first. They mean something where the ray hits.
 *
 * <p>Edge and corner are the box's, and so is a face that a parallel ray lies in. A box behind the
 * origin is a miss. A crossed box (minimum above maximum) is empty: a miss, up to one LSB of a
 * distance. A box beyond the word's range has both distances at the highest code and counts as hit.
 * Directions need not be of unit length; distances are in units of theirs.
 *
 * <p>Operands of either form: {@code origin_x, origin_y, origin_z}, then the form's own, then
 * {@code min_x, min_y, min_z, max_x, max_y, max_z}; results the bits {@code hit}, {@code inside},
 * the words {@code entry}, {@code exit}, the integers {@code entry_face}, {@code exit_face}.
 */
public final class Box {
  private final Format word;
  private final Rounding rounding;

  private Box(Format word, Rounding rounding) {
    this.word = Objects.requireNonNull(word, "word");
    this.rounding = Objects.requireNonNull(rounding, "rounding");
  }

  /**
   * A box in a word format, its distances rounded down.
   *
   * @param word format of origins, faces and distances
   * @return a description to make a datapath of
   */
  public static Box of(Format word) {
    return new Box(word, Rounding.FLOOR);
  }

  /**
   * The same box with another rounding of the distances.
   *
   * @param rounding from the exact product to the word
   * @return a description
   */
  public Box withRounding(Rounding rounding) {
    return new Box(word, rounding);
  }

  /**
   * The box and a ray given by the reciprocals of its direction.
   *
   * <p>Own operands: {@code inverse_x, inverse_y, inverse_z}, then the bits {@code parallel_x,
   * parallel_y, parallel_z}, each 1 where that component of the direction is zero; the inverse is
   * then ignored.
   *
   * @param inverse format of the reciprocals
   * @return steps as in {@link BoxSlab#fromInverse} as far as {@code t_min_x} and the like
   */
  public Datapath fromInverse(Format inverse) {
    Datapath.Builder b = Datapath.named("box");
    return fromInverse(new SlabSteps(b, word, rounding, BoxSlab.OnFace.INSIDE, 0), inverse);
  }

  /**
   * The box and a ray given by its direction.
   *
   * <p>Own operands: {@code direction_x, direction_y, direction_z}, any length; a component of zero
   * is a parallel axis.
   *
   * @param reciprocal how a component becomes its inverse
   * @return the steps of the other form, after {@code inverse_x, parallel_x} and so on
   */
  public Datapath fromDirection(Reciprocal reciprocal) {
    Datapath.Builder b = Datapath.named("box");
    return fromDirection(new SlabSteps(b, word, rounding, BoxSlab.OnFace.INSIDE, 0), reciprocal);
  }

  /**
   * The least that any hardware of these formats may be off.
   *
   * @param working the format whose LSB are counted; of its bits only those behind the point matter
   * @return {@code inverse} with none, {@code distance} with one; they count what comes on top of
   *     one rounding an operation. The one is for {@code face * inverse - origin * inverse}, both
   *     rounded, and is not given where inverses are operands and neither product loses a bit
   */
  public Budget budget(Format working) {
    return BudgetedSlabSteps.budget(working);
  }

  /**
   * Bounds for anybody's hardware that is given the reciprocals, within a budget.
   *
   * <p>They enclose {@code (face - origin) * inverse} and {@code face * inverse - origin * inverse}
   * with one rounding an operation to the working format or a finer one, whichever way, the same
   * for both faces of an axis, or outwards: a flat box is then decided by the other axes. Distances
   * saturate before or after they are compared; either of two faces at one distance may be named; a
   * crossed box whose distances round to one code may be a hit or a miss.
   *
   * @param inverse format of the reciprocals
   * @param budget of this block; see {@link #budget}
   * @return a datapath whose bounds are meant
   * @throws IllegalArgumentException when the budget is another block's
   */
  public Datapath budgetedFromInverse(Format inverse, Budget budget) {
    return fromInverse(steps(Datapath.named("box"), budget, true), inverse);
  }

  /**
   * The same bounds, where hardware may also take an axis for parallel whose inverse is the highest
   * or the lowest code, as {@link BoxSlab#withSaturatedAsParallel} does.
   *
   * @param inverse format of the reciprocals
   * @param budget of this block; see {@link #budget}
   * @return a datapath whose bounds are meant
   * @throws IllegalArgumentException when the budget is another block's
   */
  public Datapath budgetedFromSaturatedInverse(Format inverse, Budget budget) {
    SlabSteps steps = steps(Datapath.named("box"), budget, true);
    Value[] origins = new Vectors(steps.b).inputs("origin", word);
    Value[] inverses = new Vectors(steps.b).inputs("inverse", inverse);
    Value[] parallels = new Vectors(steps.b).inputs("parallel", Format.bit());
    Value[] either = new Value[Vectors.COUNT];
    for (int i = 0; i < Vectors.COUNT; i++) {
      String axis = Vectors.suffix(i);
      Value taken = steps.parallelOrSaturated(axis, inverses[i], parallels[i]);
      either[i] = steps.b.either("either_parallel" + axis, parallels[i], taken);
    }
    return describe(steps, origins, inverses, inverses, either);
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
    return fromDirection(steps(Datapath.named("box"), budget, false), reciprocal);
  }

  private SlabSteps steps(Datapath.Builder b, Budget budget, boolean givenInverses) {
    return new BudgetedSlabSteps(b, word, BoxSlab.OnFace.INSIDE, 0, budget, givenInverses);
  }

  private Datapath fromInverse(SlabSteps steps, Format inverse) {
    Value[] origins = new Vectors(steps.b).inputs("origin", word);
    Value[] inverses = new Vectors(steps.b).inputs("inverse", inverse);
    Value[] parallels = new Vectors(steps.b).inputs("parallel", Format.bit());
    return describe(steps, origins, inverses, inverses, parallels);
  }

  private Datapath fromDirection(SlabSteps steps, Reciprocal reciprocal) {
    Value[] origins = new Vectors(steps.b).inputs("origin", word);
    Value[] directions = new Vectors(steps.b).inputs("direction", reciprocal.input());
    Value[] inverses = steps.reciprocals(directions, reciprocal);
    return describe(steps, origins, directions, inverses, steps.zeros(directions));
  }

  private Datapath describe(
      SlabSteps steps, Value[] origins, Value[] signs, Value[] inverses, Value[] parallels) {
    Datapath.Builder b = steps.b;
    SlabSteps.Slab[] slabs = steps.slabs(origins, inverses, parallels);
    Format code = new Format(false, 3, 0);
    Value none = b.constant("no_face", code, 2L * Vectors.COUNT);
    Value nought = b.constant("no_sign", signs[0].format(), 0);
    SlabSteps.Span[] spans = new SlabSteps.Span[Vectors.COUNT];
    Value[] nears = new Value[Vectors.COUNT];
    Value[] fars = new Value[Vectors.COUNT];
    Value[] entered = new Value[Vectors.COUNT];
    Value[] left = new Value[Vectors.COUNT];
    Value inside = null;
    for (int i = 0; i < Vectors.COUNT; i++) {
      SlabSteps.Slab slab = slabs[i];
      String axis = slab.suffix();
      Value lower = b.constant("lower" + axis, code, 2L * i);
      Value upper = b.constant("upper" + axis, code, 2L * i + 1);
      Value back = b.lessThan("backwards" + axis, signs[i], nought);
      spans[i] =
          steps.span(
              slab,
              b.select("nearer" + axis, back, slab.toMax(), slab.toMin()),
              b.select("farther" + axis, back, slab.toMin(), slab.toMax()));
      nears[i] = spans[i].near();
      fars[i] = spans[i].far();
      steps.planes(slab);
      entered[i] = b.select("entered" + axis, back, upper, lower);
      left[i] = b.select("left" + axis, back, lower, upper);
      inside = inside == null ? slab.inside() : b.and("all_to" + axis, inside, slab.inside());
    }
    boolean ties = steps.tiesEitherWay();
    Foremost.Crossing entry =
        new Foremost(b, none, entered, ties).largest("entry", steps.lowest(), nears);
    Foremost.Crossing exit =
        new Foremost(b, none, left, ties).smallest("exit", steps.highest(), fars);
    b.output("hit", steps.hit(spans, entry.distance(), exit.distance())).output("inside", inside);
    b.output("entry", entry.distance()).output("exit", exit.distance());
    return b.output("entry_face", entry.face()).output("exit_face", exit.face()).build();
  }
}
