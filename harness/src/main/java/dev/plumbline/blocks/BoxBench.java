package dev.plumbline.blocks;

import dev.plumbline.cases.RayCases;
import dev.plumbline.check.Bench;
import dev.plumbline.contract.CoveragePoints;
import dev.plumbline.contract.Reference;
import dev.plumbline.coverage.Axes;
import dev.plumbline.coverage.BoxCoverage;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.solid.Box;
import dev.plumbline.models.solid.BoxSlab;
import dev.plumbline.models.solid.Budget;
import dev.plumbline.models.unit.Reciprocal;
import dev.plumbline.stimulus.Stimulus;
import dev.plumbline.wiring.HiddenInputs;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Supplier;
import java.util.stream.IntStream;

/**
 * Holds any test of a ray against a box with faces along the axes.
 *
 * <pre>{@code
 * @DesignUnderTest(sources = "rtl/box.v", top = "box")
 * class BoxTest {
 *   @Test
 *   void meetsTheMathematics(Bench.Builder bench) {
 *     BoxBench.of(bench).word(Format.signed(16, 16)).direction(Format.signed(2, 16)).check();
 *   }
 * }
 * }</pre>
 *
 * <p>Operands {@code origin_x, origin_y, origin_z}, {@code min_x} to {@code max_z}, and the ray's
 * direction as {@code direction_x} and so on or as reciprocals {@code inverse_x} and so on,
 * whichever the DUT has ports for; with reciprocals also the bits {@code parallel_x} and so on,
 * where it has them. Results {@code hit} (a bit), {@code entry} and {@code exit} (words, in units
 * of the direction's length), which count while hit is 1; those that the DUT does not have are left
 * unchecked. {@link BoxSlab} defines what is right, and what a ray in a face gives; where faces are
 * crossed, a box with its faces in order and no box at all are both right. Coverage points count
 * cases whose hit is decided.
 */
public final class BoxBench extends BlockBench<BoxBench> {
  /** The margins that a box may have. */
  private static final List<Integer> MARGINS =
      IntStream.rangeClosed(0, MeasuredMargin.MOST).boxed().toList();

  private static final long FEW = 1_000;

  private Format word;
  private Format direction;
  private Format inverse;
  private Format reciprocal;
  private int margin;
  private boolean solid;
  private Budget budget;
  private BoxSlab.OnFace onFace = BoxSlab.OnFace.INSIDE;

  private BoxBench(Bench.Builder bench) {
    super(bench);
  }

  /**
   * Starts a bench.
   *
   * @param bench a bench of the DUT, without a contract
   * @return a bench that still needs its word
   */
  public static BoxBench of(Bench.Builder bench) {
    return new BoxBench(bench);
  }

  /**
   * Sets the format of origins, faces and distances; of direction and inverse too, unless set.
   *
   * @param format up to 32 bits or so
   * @return this bench
   */
  public BoxBench word(Format format) {
    word = format;
    return this;
  }

  /**
   * Gives the ray by its direction.
   *
   * @param format the format of its components
   * @return this bench
   */
  public BoxBench direction(Format format) {
    direction = format;
    return this;
  }

  /**
   * Gives the ray by the reciprocals of its direction.
   *
   * @param format their format
   * @return this bench
   */
  public BoxBench inverse(Format format) {
    inverse = format;
    return this;
  }

  /**
   * Sets the format in which the DUT takes the reciprocals of a direction, each of which may be off
   * by one LSB.
   *
   * @param format their format; unless set, as many fraction bits as the word and whole bits enough
   *     for every direction
   * @return this bench
   */
  public BoxBench reciprocal(Format format) {
    reciprocal = format;
    return this;
  }

  /**
   * Sets the margin by which a hit may lie farther than the far faces.
   *
   * @param lsbs of the word, 0 (unless set) to 15
   * @return this bench
   */
  public BoxBench margin(int lsbs) {
    margin = lsbs;
    return this;
  }

  /**
   * Sets the side on which a ray counts that runs exactly in a face.
   *
   * @param choice INSIDE unless set
   * @return this bench
   */
  public BoxBench onFace(BoxSlab.OnFace choice) {
    onFace = choice;
    return this;
  }

  /**
   * Holds the DUT to a box as a solid instead of one that only culls: a crossed box is empty, and
   * {@code inside} (a bit), {@code entry_face} and {@code exit_face} are results as well, as {@link
   * Box} declares them. Margin and face are then not used.
   *
   * @return this bench
   */
  public BoxBench solid() {
    solid = true;
    return this;
  }

  /**
   * Sets the budget: how many LSB each quantity may be off.
   *
   * @param allowed one of {@link BoxSlab#budget}; that of the word unless set
   * @return this bench
   */
  public BoxBench budget(Budget allowed) {
    budget = allowed;
    return this;
  }

  @Override
  BoxBench self() {
    return this;
  }

  @Override
  Datapath datapath(boolean exactBits) {
    return solid ? solidBox(exactBits) : datapath(slab(), exactBits);
  }

  private BoxSlab slab() {
    return BoxSlab.of(required(word, "word")).withMargin(margin).withOnFace(onFace);
  }

  @Override
  Map<String, Supplier<Datapath>> alternatives(boolean exactBits) {
    if (solid) {
      return Map.of();
    }
    return Choices.of(slab())
        .or("margin", margin, MARGINS, BoxSlab::withMargin)
        .or("onFace", onFace, BoxSlab::withOnFace)
        .suppliers(other -> datapath(other, exactBits));
  }

  /**
   * Measures which margins the DUT's results fit, over all that is set but the margin. Nothing is
   * recorded or printed.
   *
   * @param cases how many cases are tried, 1 or more; the more, the fewer fit
   * @return the margins that all of them fit; empty where there is none, and of a solid
   * @throws dev.plumbline.contract.ContractException as {@link #run}
   */
  public Optional<MeasuredMargin> measureMargin(long cases) {
    if (solid) {
      return Optional.empty();
    }
    joinForTrials();
    List<Integer> fitting = new ArrayList<>();
    for (int lsbs : MARGINS) {
      BoxSlab other = slab().withMargin(lsbs);
      if (fits(other, Math.min(FEW, cases)) && fits(other, cases)) {
        fitting.add(lsbs);
      } else if (!fitting.isEmpty()) {
        break;
      }
    }
    return fitting.isEmpty()
        ? Optional.empty()
        : Optional.of(new MeasuredMargin(fitting.get(0), fitting.get(fitting.size() - 1), cases));
  }

  private boolean fits(BoxSlab other, long cases) {
    return trial(datapath(other, false), cases).isPass();
  }

  private Datapath datapath(BoxSlab slab, boolean exactBits) {
    Budget allowed = budget == null ? slab.budget(word) : budget;
    if (byDirection()) {
      Reciprocal unit = Reciprocal.between(directionFormat(), reciprocalFormat());
      return exactBits ? slab.fromDirection(unit) : slab.budgetedFromDirection(unit, allowed);
    }
    return exactBits
        ? slab.fromInverse(inverseFormat())
        : slab.budgetedFromInverse(inverseFormat(), allowed);
  }

  private Datapath solidBox(boolean exactBits) {
    Box box = Box.of(required(word, "word"));
    Budget allowed = budget == null ? box.budget(word) : budget;
    if (byDirection()) {
      Reciprocal unit = Reciprocal.between(directionFormat(), reciprocalFormat());
      return exactBits ? box.fromDirection(unit) : box.budgetedFromDirection(unit, allowed);
    }
    return exactBits
        ? box.fromInverse(inverseFormat())
        : box.budgetedFromInverse(inverseFormat(), allowed);
  }

  @Override
  Reference held(Datapath datapath, boolean exactBits) {
    Reference whole = super.held(datapath, exactBits);
    if (byDirection() || hasParallelBits()) {
      return whole;
    }
    return new HiddenInputs(whole, Set.of("parallel_x", "parallel_y", "parallel_z"));
  }

  private boolean hasParallelBits() {
    return knows(Axes.operands("parallel", Format.bit()));
  }

  private boolean byDirection() {
    if (direction != null || inverse != null) {
      return direction != null;
    }
    return !knows(Axes.operands("inverse", inverseFormat()));
  }

  private Format directionFormat() {
    return direction == null ? word : direction;
  }

  private Format inverseFormat() {
    return inverse == null ? word : inverse;
  }

  private Format reciprocalFormat() {
    return reciprocal == null
        ? Format.signed(directionFormat().fractionBits() + 2, word.fractionBits())
        : reciprocal;
  }

  @Override
  Map<String, String> flags() {
    return Map.of("entry", "hit", "exit", "hit", "entry_face", "hit", "exit_face", "hit");
  }

  @Override
  CoveragePoints whereDecided(CoveragePoints points) {
    return points.whereDecided("hit");
  }

  @Override
  Datapath coverage() {
    return byDirection()
        ? BoxCoverage.byDirection(
            word,
            directionFormat(),
            isExact(),
            isExact() || (budget != null && budget.lsbs("distance") == 0))
        : BoxCoverage.byInverse(word, inverseFormat(), hasParallelBits());
  }

  @Override
  Stimulus ownStimulus() {
    return byDirection()
        ? RayCases.atBoxes(word, directionFormat()).stimulus()
        : RayCases.atBoxesByInverse(word, inverseFormat()).stimulus();
  }
}
