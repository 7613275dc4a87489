package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.datapath.Vectors;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.unit.Reciprocal;
import java.util.Objects;

/**
 * Where a ray enters and leaves a convex hull, the intersection of half-spaces.
 *
 * <pre>{@code
 * Datapath octahedron = Hull.of(8, Format.signed(16, 16), Format.signed(2, 16)).datapath();
 * }</pre>
 *
 * <p>Operands: {@code origin_x, origin_y, origin_z} (words), {@code direction_x} and so on, then
 * for each face, counted from 0, {@code normal_0_x, normal_0_y, normal_0_z} (direction format,
 * pointing out) and {@code level_0} (a word). Results: the bits {@code hit}, {@code inside}, the
 * words {@code entry}, {@code exit}, and the integers {@code entry_face}, {@code exit_face}.
 *
 * <p>Each face is cut as {@link HalfSpace} says. {@code entry} is the largest of their entries and
 * {@code exit} the smallest of their exits; the ray hits when {@code entry <= exit} and {@code exit
 * >= 0}; the origin is inside when it is inside every half-space (T. Kay and J. Kajiya, "Ray
 * Tracing Complex Scenes", SIGGRAPH 1986, whose slabs are pairs of such faces). The face entered or
 * left is the first of those at that distance, or the number of faces where there is none: the ray
 * comes in from, or goes out to, beyond the word's range. Both mean something where the ray hits.
 *
 * <p>Half-spaces that have no point in common are an empty hull: a miss, up to one LSB of either
 * distance. A face with a normal of zero is all of space or nothing. A hull beyond the word's range
 * has both distances at the highest code and counts as hit.
 */
public final class Hull {
  private static final int MAX_FACES = 64;

  private final int faces;
  private final Format word;
  private final Format direction;
  private final Reciprocal reciprocal;

  private Hull(int faces, Format word, Format direction, Reciprocal reciprocal) {
    this.word = Objects.requireNonNull(word, "word");
    this.direction = Objects.requireNonNull(direction, "direction");
    this.reciprocal = Objects.requireNonNull(reciprocal, "reciprocal");
    if (faces < 1 || faces > MAX_FACES) {
      throw new IllegalArgumentException(
          "Hull of " + faces + " faces: it has to have 1 to " + MAX_FACES + ".");
    }
    this.faces = faces;
  }

  /**
   * A hull whose slopes and inverses are words.
   *
   * @param faces how many half-spaces, 1 to 64
   * @param word format of origins, levels and distances
   * @param direction format of directions and normals
   * @return a description to make a datapath of
   * @throws IllegalArgumentException when there is no {@link Reciprocal#between} for the word
   */
  public static Hull of(int faces, Format word, Format direction) {
    return new Hull(faces, word, direction, Reciprocal.between(word, word));
  }

  /**
   * The same hull with another reciprocal unit.
   *
   * @param reciprocal its operand is the slopes' format, its result the inverses'
   * @return a description
   */
  public Hull withReciprocal(Reciprocal reciprocal) {
    return new Hull(faces, word, direction, reciprocal);
  }

  /**
   * The declared micro-architecture: that of {@link HalfSpace#datapath} for each face.
   *
   * @return steps by the half-space's names with the face behind ({@code slope_0}), among others
   */
  public Datapath datapath() {
    Datapath.Builder b = Datapath.named("hull");
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
   * Bounds for anybody's hardware in these formats, within a budget: {@link HalfSpace#budgeted} for
   * each face.
   *
   * @param budget of this block; see {@link #budget}
   * @return a datapath whose bounds are meant; its bits are one such hardware
   * @throws IllegalArgumentException when the budget is another block's, or there is no {@link
   *     Reciprocal#between} for the working format
   */
  public Datapath budgeted(Budget budget) {
    Datapath.Builder b = Datapath.named("hull");
    return describe(new BudgetedPlaneSteps(b, word, reciprocal, budget));
  }

  private Datapath describe(PlaneSteps steps) {
    Datapath.Builder b = steps.b;
    Value[] origins = new Vectors(b).inputs("origin", word);
    Value[] directions = new Vectors(b).inputs("direction", direction);
    Value[] entries = new Value[faces];
    Value[] exits = new Value[faces];
    Value inside = null;
    for (int face = 0; face < faces; face++) {
      Value[] normals = new Vectors(b).inputs("normal_" + face, direction);
      Value level = b.input("level_" + face, word);
      PlaneSteps.Cut cut = steps.cut("_" + face, origins, directions, normals, level);
      entries[face] = cut.entry();
      exits[face] = cut.exit();
      inside = inside == null ? cut.inside() : b.and(inside(face), inside, cut.inside());
    }
    Value[] codes = new Value[faces];
    Format index = new Format(false, 32 - Integer.numberOfLeadingZeros(faces), 0);
    for (int face = 0; face < faces; face++) {
      codes[face] = b.constant("face_" + face, index, face);
    }
    Value none = b.constant("no_face", index, faces);
    Foremost foremost = new Foremost(b, none, codes, steps.tiesEitherWay());
    Foremost.Crossing entry = foremost.largest("entry", steps.lowest(), entries);
    Foremost.Crossing exit = foremost.smallest("exit", steps.highest(), exits);
    b.output("hit", steps.hitAll(entry.distance(), exit.distance())).output("inside", inside);
    b.output("entry", entry.distance()).output("exit", exit.distance());
    return b.output("entry_face", entry.face()).output("exit_face", exit.face()).build();
  }

  private static String inside(int face) {
    return "inside_0_to_" + face;
  }
}
