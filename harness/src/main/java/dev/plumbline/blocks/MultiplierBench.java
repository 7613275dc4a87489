package dev.plumbline.blocks;

import dev.plumbline.cases.Numbers;
import dev.plumbline.check.Bench;
import dev.plumbline.coverage.UnitCoverage;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.models.unit.Multiplier;
import dev.plumbline.stimulus.Stimulus;
import java.util.Map;
import java.util.function.Supplier;

/**
 * Holds any multiplier to the product.
 *
 * <pre>{@code
 * @DesignUnderTest(sources = "rtl/fixmul.v", top = "fixmul")
 * class FixmulTest {
 *   @Test
 *   void meetsTheMathematics(Bench.Builder bench) {
 *     MultiplierBench.of(bench).word(Format.signed(16, 16)).overflow(Overflow.WRAP).check();
 *   }
 * }
 * }</pre>
 *
 * <p>Operands {@code a} and {@code b}, result {@code product}. At the bounded level the product may
 * be the code below or above the exact one, which where the exact one is a code leaves that code
 * alone; {@link #exact} holds it to {@link #rounding}. Without {@link #product} and {@link #word}
 * the product has all its bits.
 */
public final class MultiplierBench extends BlockBench<MultiplierBench> {
  private Format left;
  private Format right;
  private Format product;
  private Rounding rounding = Rounding.FLOOR;
  private Overflow overflow = Overflow.SATURATE;

  /** How a product comes into its format. */
  private record Narrowing(Rounding rounding, Overflow overflow) {
    Narrowing with(Rounding other) {
      return new Narrowing(other, overflow);
    }

    Narrowing with(Overflow other) {
      return new Narrowing(rounding, other);
    }
  }

  private MultiplierBench(Bench.Builder bench) {
    super(bench);
  }

  /**
   * Starts a bench.
   *
   * @param bench a bench of the DUT, without a contract
   * @return a bench that still needs its formats
   */
  public static MultiplierBench of(Bench.Builder bench) {
    return new MultiplierBench(bench);
  }

  /**
   * Sets the format of both operands and of the product.
   *
   * @param format up to 64 bits
   * @return this bench
   */
  public MultiplierBench word(Format format) {
    return operands(format, format).product(format);
  }

  /**
   * Sets the formats of the operands.
   *
   * @param ofA format of {@code a}
   * @param ofB format of {@code b}
   * @return this bench
   */
  public MultiplierBench operands(Format ofA, Format ofB) {
    left = ofA;
    right = ofB;
    return this;
  }

  /**
   * Sets the format of a product that is rounded.
   *
   * @param format its format
   * @return this bench
   */
  public MultiplierBench product(Format format) {
    product = format;
    return this;
  }

  /**
   * Sets the rounding of the exact level.
   *
   * @param mode FLOOR unless set
   * @return this bench
   */
  public MultiplierBench rounding(Rounding mode) {
    rounding = mode;
    return this;
  }

  /**
   * Sets the overflow rule: what a product beyond its format becomes.
   *
   * @param choice SATURATE unless set
   * @return this bench
   */
  public MultiplierBench overflow(Overflow choice) {
    overflow = choice;
    return this;
  }

  @Override
  MultiplierBench self() {
    return this;
  }

  @Override
  Datapath datapath(boolean exactBits) {
    return datapath(new Narrowing(rounding, overflow));
  }

  private Datapath datapath(Narrowing narrowing) {
    Multiplier multiplier = Multiplier.of(required(left, "word"), right);
    return product == null
        ? multiplier.exact()
        : multiplier.into(product, narrowing.rounding, narrowing.overflow);
  }

  @Override
  Map<String, Supplier<Datapath>> alternatives(boolean exactBits) {
    if (product == null) {
      return Map.of();
    }
    Choices<Narrowing> choices =
        Choices.of(new Narrowing(rounding, overflow))
            .or("overflow", overflow, (narrowing, other) -> narrowing.with(other));
    return (exactBits
            ? choices.or("rounding", rounding, (narrowing, other) -> narrowing.with(other))
            : choices)
        .suppliers(this::datapath);
  }

  @Override
  Datapath coverage() {
    return UnitCoverage.product(left, right, product);
  }

  @Override
  Stimulus ownStimulus() {
    return Numbers.everywhere();
  }
}
