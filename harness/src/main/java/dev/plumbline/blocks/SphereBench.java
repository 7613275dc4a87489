package dev.plumbline.blocks;

import dev.plumbline.cases.RayCases;
import dev.plumbline.check.Bench;
import dev.plumbline.contract.CoveragePoints;
import dev.plumbline.coverage.SphereCoverage;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.solid.Budget;
import dev.plumbline.models.solid.Sphere;
import dev.plumbline.stimulus.Stimulus;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * Holds any intersection of a ray with a sphere, whatever formula it uses.
 *
 * <pre>{@code
 * @DesignUnderTest(sources = "rtl/sphere.v", top = "sphere")
 * class SphereTest {
 *   @Test
 *   void meetsTheMathematics(Bench.Builder bench) {
 *     SphereBench.of(bench).word(Format.signed(16, 16)).direction(Format.signed(2, 16)).check();
 *   }
 * }
 * }</pre>
 *
 * <p>Operands {@code origin_x, origin_y, origin_z}, {@code centre_x} and so on, {@code radius}
 * (words) and {@code direction_x} and so on (of unit length). Results {@code hit} and {@code
 * inside} (bits), {@code entry} and {@code exit} (words), which but for hit count while hit is 1;
 * those that the DUT does not have are left unchecked. {@link Sphere} defines what is right at a
 * tangent, inside, behind, and at radii of zero and less. At the bounded level hardware may be off
 * by its {@link #budget}; {@link #exact} holds it to the sample's own steps. Coverage points count
 * cases whose hit is decided, or whose inside is where they are about that.
 */
public final class SphereBench extends BlockBench<SphereBench> {
  private static final long TRIAL = 10_000;

  private Format word;
  private Format direction;
  private Budget budget;
  private Sphere.Formula formula = Sphere.Formula.ANY;
  private Sphere.NegativeRadius negativeRadius = Sphere.NegativeRadius.MISSED;
  private Sphere.Entry entry = Sphere.Entry.CROSSING;
  private Sphere.Roots roots = Sphere.Roots.ANY;

  private SphereBench(Bench.Builder bench) {
    super(bench);
  }

  /**
   * Starts a bench.
   *
   * @param bench a bench of the DUT, without a contract
   * @return a bench that still needs its formats
   */
  public static SphereBench of(Bench.Builder bench) {
    return new SphereBench(bench);
  }

  /**
   * Sets the format of points, radius and distances.
   *
   * @param format signed
   * @return this bench
   */
  public SphereBench word(Format format) {
    word = format;
    return this;
  }

  /**
   * Sets the format of the direction.
   *
   * @param format signed; it should hold 1
   * @return this bench
   */
  public SphereBench direction(Format format) {
    direction = format;
    return this;
  }

  /**
   * Sets the budget: how many LSB each quantity may be off.
   *
   * @param allowed one of {@link Sphere#budget}; its default unless set
   * @return this bench
   */
  public SphereBench budget(Budget allowed) {
    budget = allowed;
    return this;
  }

  /**
   * Sets the formula that the hardware uses, which narrows its bounds: see {@link
   * Sphere#withFormula}.
   *
   * @param used {@link Sphere.Formula#ANY} unless set
   * @return this bench
   */
  public SphereBench formula(Sphere.Formula used) {
    formula = used;
    return this;
  }

  /**
   * Sets what a negative radius means to the hardware.
   *
   * @param meaning {@link Sphere.NegativeRadius#MISSED} unless set
   * @return this bench
   */
  public SphereBench negativeRadius(Sphere.NegativeRadius meaning) {
    negativeRadius = meaning;
    return this;
  }

  /**
   * Sets what the hardware's {@code entry} is.
   *
   * @param meaning {@link Sphere.Entry#CROSSING} unless set
   * @return this bench
   */
  public SphereBench entry(Sphere.Entry meaning) {
    entry = meaning;
    return this;
  }

  /**
   * Sets how good the hardware's square roots are at perfect squares.
   *
   * @param quality {@link Sphere.Roots#ANY} unless set
   * @return this bench
   */
  public SphereBench roots(Sphere.Roots quality) {
    roots = quality;
    return this;
  }

  @Override
  SphereBench self() {
    return this;
  }

  @Override
  Datapath datapath(boolean exactBits) {
    return datapath(sphere().withFormula(formula), exactBits);
  }

  private Sphere sphere() {
    return Sphere.of(required(word, "word"), required(direction, "direction"))
        .withNegativeRadius(negativeRadius)
        .withEntry(entry)
        .withRoots(roots);
  }

  private Datapath datapath(Sphere declared, boolean exactBits) {
    return exactBits
        ? declared.datapath()
        : declared.budgeted(budget == null ? declared.budget() : budget);
  }

  @Override
  Map<String, Supplier<Datapath>> alternatives(boolean exactBits) {
    Sphere declared = sphere().withFormula(formula);
    Map<String, Supplier<Datapath>> others =
        Choices.of(declared)
            .or("negativeRadius", negativeRadius, Sphere::withNegativeRadius)
            .or("entry", entry, Sphere::withEntry)
            .or("roots", roots, Sphere::withRoots)
            .suppliers(other -> datapath(other, exactBits));
    if (!exactBits && formula != Sphere.Formula.ANY) {
      others.putAll(
          Choices.of(declared)
              .or("formula", formula, Sphere::withFormula)
              .suppliers(other -> datapath(other, false)));
    }
    return others;
  }

  /**
   * Measures which formula the DUT's results fit, over all that is set but the formula. Nothing is
   * recorded or printed.
   *
   * @param cases how many cases are tried, 1 or more; 10,000 tell formulas apart
   * @return the narrowest formula that all of them fit; empty where no bounds narrower than those
   *     of {@link Sphere.Formula#ANY} hold them all
   * @throws dev.plumbline.contract.ContractException as {@link #run}
   */
  public Optional<MeasuredFormula> measureFormula(long cases) {
    joinForTrials();
    return formulaTrial(cases);
  }

  private Optional<MeasuredFormula> formulaTrial(long cases) {
    return new FormulaTrial(one -> datapath(sphere().withFormula(one), false), this::trial)
        .of(cases);
  }

  /** Where any formula is allowed, the one to declare. */
  @Override
  List<String> findings() {
    if (isExact() || formula != Sphere.Formula.ANY || budget != null) {
      return List.of();
    }
    return formulaTrial(TRIAL).stream()
        .map(found -> found.words() + "; declare it with .formula(" + found.formula() + ")")
        .toList();
  }

  @Override
  Datapath coverage() {
    return SphereCoverage.of(word, direction, edges());
  }

  private SphereCoverage.Edges edges() {
    if (isExact()) {
      return SphereCoverage.Edges.EXACT;
    }
    if (budget != null
        && (budget.working().fractionBits() < word.fractionBits()
            || budget.isWiderThan(sphere().budget(budget.working())))) {
      return SphereCoverage.Edges.NONE;
    }
    return roots == Sphere.Roots.EXACT_AT_SQUARES
        ? SphereCoverage.Edges.EXACT_ROOTS
        : SphereCoverage.Edges.ROUNDED;
  }

  @Override
  CoveragePoints whereDecided(CoveragePoints points) {
    CoveragePoints decided = points.whereDecided("hit");
    for (String point : SphereCoverage.OF_INSIDE) {
      decided = points.has(point) ? decided.whereDecided("inside", point) : decided;
    }
    return decided;
  }

  @Override
  Map<String, String> flags() {
    return Map.of("inside", "hit", "entry", "hit", "exit", "hit");
  }

  @Override
  Stimulus ownStimulus() {
    return RayCases.atSpheres(word, direction).stimulus();
  }
}
