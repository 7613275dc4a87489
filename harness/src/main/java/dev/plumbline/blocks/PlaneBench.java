package dev.plumbline.blocks;

import dev.plumbline.cases.RayCases;
import dev.plumbline.check.Bench;
import dev.plumbline.contract.CoveragePoints;
import dev.plumbline.coverage.PlaneCoverage;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.solid.Budget;
import dev.plumbline.models.solid.HalfSpace;
import dev.plumbline.stimulus.Stimulus;
import java.util.Map;

/**
 * Holds any intersection of a ray with the half-space behind a plane, whatever formula it uses.
 *
 * <pre>{@code
 * @DesignUnderTest(sources = "rtl/plane.v", top = "plane")
 * class PlaneTest {
 *   @Test
 *   void meetsTheMathematics(Bench.Builder bench) {
 *     PlaneBench.of(bench).word(Format.signed(16, 16)).direction(Format.signed(2, 16)).check();
 *   }
 * }
 * }</pre>
 *
 * <p>Operands {@code origin_x, origin_y, origin_z}, {@code level} (words), {@code direction_x} and
 * so on, {@code normal_x} and so on (in the direction's format). Results {@code hit}, {@code
 * inside}, {@code leaving}, {@code parallel} (bits), {@code entry} and {@code exit} (words, which
 * count while hit is 1); those that the DUT does not have are left unchecked. {@link HalfSpace}
 * defines what is right for parallel rays, in the plane and behind. At the bounded level hardware
 * may be off by its {@link #budget}; {@link #exact} holds it to the sample's own steps. Coverage
 * points count cases whose hit is decided, or whose inside or parallel is where they are about
 * that.
 */
public final class PlaneBench extends BlockBench<PlaneBench> {
  private Format word;
  private Format direction;
  private Budget budget;

  private PlaneBench(Bench.Builder bench) {
    super(bench);
  }

  /**
   * Starts a bench.
   *
   * @param bench a bench of the DUT, without a contract
   * @return a bench that still needs its formats
   */
  public static PlaneBench of(Bench.Builder bench) {
    return new PlaneBench(bench);
  }

  /**
   * Sets the format of origin, level and distances.
   *
   * @param format signed
   * @return this bench
   */
  public PlaneBench word(Format format) {
    word = format;
    return this;
  }

  /**
   * Sets the format of direction and normal.
   *
   * @param format signed
   * @return this bench
   */
  public PlaneBench direction(Format format) {
    direction = format;
    return this;
  }

  /**
   * Sets the budget: how many LSB each quantity may be off.
   *
   * @param allowed one of {@link HalfSpace#budget}; its default unless set
   * @return this bench
   */
  public PlaneBench budget(Budget allowed) {
    budget = allowed;
    return this;
  }

  @Override
  PlaneBench self() {
    return this;
  }

  @Override
  Datapath datapath(boolean exactBits) {
    HalfSpace plane = HalfSpace.of(required(word, "word"), required(direction, "direction"));
    if (exactBits) {
      return plane.datapath();
    }
    return budget == null ? plane.budgeted() : plane.budgeted(budget);
  }

  @Override
  Datapath coverage() {
    boolean open =
        !isExact()
            && budget != null
            && (budget.working().fractionBits() < word.fractionBits()
                || budget.isWiderThan(HalfSpace.of(word, direction).budget(budget.working())));
    return PlaneCoverage.of(word, direction, !open);
  }

  @Override
  CoveragePoints whereDecided(CoveragePoints points) {
    CoveragePoints decided = points.whereDecided("hit");
    for (String point : PlaneCoverage.OF_INSIDE) {
      decided = points.has(point) ? decided.whereDecided("inside", point) : decided;
    }
    for (String point : PlaneCoverage.OF_PARALLEL) {
      decided = points.has(point) ? decided.whereDecided("parallel", point) : decided;
    }
    return decided;
  }

  @Override
  Map<String, String> flags() {
    return Map.of("entry", "hit", "exit", "hit");
  }

  @Override
  Stimulus ownStimulus() {
    return RayCases.atPlanes(word, direction).stimulus();
  }
}
