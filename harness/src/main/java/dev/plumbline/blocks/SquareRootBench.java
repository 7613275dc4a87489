package dev.plumbline.blocks;

import dev.plumbline.cases.Numbers;
import dev.plumbline.check.Bench;
import dev.plumbline.coverage.UnitCoverage;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.models.unit.SquareRoot;
import dev.plumbline.stimulus.Stimulus;
import java.util.Map;
import java.util.function.Supplier;

/**
 * Holds any square-root unit to the root.
 *
 * <pre>{@code
 * @DesignUnderTest(sources = "rtl/isqrt.v", top = "isqrt")
 * class IsqrtTest {
 *   @Test
 *   void meetsTheMathematics(Bench.Builder bench) {
 *     SquareRootBench.of(bench).formats(Format.unsigned(32, 0), Format.unsigned(16, 0)).check();
 *   }
 * }
 * }</pre>
 *
 * <p>Operand {@code x}; results {@code root} and, for a signed operand, {@code negative} (a bit: x
 * was below zero), where the DUT has it. At the bounded level the root may be the code below or
 * above the true root, which where the root is a code leaves that code alone; {@link #exact} holds
 * it to the floor, or as {@link #rounding} sets. A root beyond its format has to saturate.
 */
public final class SquareRootBench extends BlockBench<SquareRootBench> {
  private Format input;
  private Format output;
  private Rounding rounding = Rounding.FLOOR;
  private SquareRoot.AtNegative atNegative = SquareRoot.AtNegative.ZERO;

  private SquareRootBench(Bench.Builder bench) {
    super(bench);
  }

  /**
   * Starts a bench.
   *
   * @param bench a bench of the DUT, without a contract
   * @return a bench that still needs its format
   */
  public static SquareRootBench of(Bench.Builder bench) {
    return new SquareRootBench(bench);
  }

  /**
   * Sets the format of operand and root.
   *
   * @param format any whose codes, shifted left by its fraction bits, fit 128 bits
   * @return this bench
   */
  public SquareRootBench word(Format format) {
    return formats(format, format);
  }

  /**
   * Sets the formats of operand and root.
   *
   * @param ofOperand its format
   * @param ofRoot its format
   * @return this bench
   */
  public SquareRootBench formats(Format ofOperand, Format ofRoot) {
    input = ofOperand;
    output = ofRoot;
    return this;
  }

  /**
   * Sets the rounding of the exact level.
   *
   * @param mode FLOOR unless set: the floor; HALF_CEILING and others for the nearest
   * @return this bench
   */
  public SquareRootBench rounding(Rounding mode) {
    rounding = mode;
    return this;
  }

  /**
   * Sets the root of a negative x.
   *
   * @param choice ZERO unless set
   * @return this bench
   */
  public SquareRootBench atNegative(SquareRoot.AtNegative choice) {
    atNegative = choice;
    return this;
  }

  @Override
  SquareRootBench self() {
    return this;
  }

  @Override
  Datapath datapath(boolean exactBits) {
    return declared().datapath();
  }

  private SquareRoot declared() {
    return SquareRoot.between(required(input, "word"), output)
        .withRounding(rounding)
        .withAtNegative(atNegative);
  }

  @Override
  Map<String, Supplier<Datapath>> alternatives(boolean exactBits) {
    Choices<SquareRoot> choices =
        Choices.of(declared()).or("atNegative", atNegative, SquareRoot::withAtNegative);
    return (exactBits ? choices.or("rounding", rounding, SquareRoot::withRounding) : choices)
        .suppliers(SquareRoot::datapath);
  }

  @Override
  Datapath coverage() {
    return UnitCoverage.root(input, output);
  }

  @Override
  Stimulus ownStimulus() {
    return Numbers.squares(input, output);
  }
}
