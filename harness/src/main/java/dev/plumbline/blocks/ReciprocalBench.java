package dev.plumbline.blocks;

import dev.plumbline.cases.Numbers;
import dev.plumbline.check.Bench;
import dev.plumbline.coverage.UnitCoverage;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.models.unit.Reciprocal;
import dev.plumbline.stimulus.Stimulus;
import java.util.Map;
import java.util.function.Supplier;

/**
 * Holds any reciprocal unit to 1/x.
 *
 * <pre>{@code
 * @DesignUnderTest(sources = "rtl/recip.v", top = "recip")
 * class RecipTest {
 *   @Test
 *   void meetsTheMathematics(Bench.Builder bench) {
 *     ReciprocalBench.of(bench).word(Format.signed(16, 16)).check();
 *   }
 * }
 * }</pre>
 *
 * <p>Operand {@code x}; results {@code y}, and where the DUT has them {@code zero} (a bit: x was
 * zero) and {@code overflow} (a bit: 1/x lies beyond the format of y, or x was zero). At the
 * bounded level y may be one LSB off the exact quotient either way; where that lies beyond the
 * format it has to saturate, unless {@link #overflow} sets something else. {@link #exact} holds y
 * to the quotient rounded as declared.
 */
public final class ReciprocalBench extends BlockBench<ReciprocalBench> {
  private Format input;
  private Format output;
  private Rounding rounding = Rounding.TOWARD_ZERO;
  private Overflow overflow = Overflow.SATURATE;
  private Reciprocal.AtZero atZero = Reciprocal.AtZero.LARGEST;

  private ReciprocalBench(Bench.Builder bench) {
    super(bench);
  }

  /**
   * Starts a bench.
   *
   * @param bench a bench of the DUT, without a contract
   * @return a bench that still needs its format
   */
  public static ReciprocalBench of(Bench.Builder bench) {
    return new ReciprocalBench(bench);
  }

  /**
   * Sets the format of operand and reciprocal.
   *
   * @param format up to 63 bits
   * @return this bench
   */
  public ReciprocalBench word(Format format) {
    return formats(format, format);
  }

  /**
   * Sets the formats of operand and reciprocal.
   *
   * @param ofOperand up to 63 bits
   * @param ofReciprocal up to 63 bits
   * @return this bench
   */
  public ReciprocalBench formats(Format ofOperand, Format ofReciprocal) {
    input = ofOperand;
    output = ofReciprocal;
    return this;
  }

  /**
   * Sets the rounding of the exact level.
   *
   * @param mode TOWARD_ZERO unless set
   * @return this bench
   */
  public ReciprocalBench rounding(Rounding mode) {
    rounding = mode;
    return this;
  }

  /**
   * Sets the value of y where 1/x lies beyond its format.
   *
   * @param choice SATURATE unless set
   * @return this bench
   */
  public ReciprocalBench overflow(Overflow choice) {
    overflow = choice;
    return this;
  }

  /**
   * Sets the value of y where x is zero.
   *
   * @param choice LARGEST unless set
   * @return this bench
   */
  public ReciprocalBench atZero(Reciprocal.AtZero choice) {
    atZero = choice;
    return this;
  }

  @Override
  ReciprocalBench self() {
    return this;
  }

  @Override
  Datapath datapath(boolean exactBits) {
    return declared().datapath();
  }

  private Reciprocal declared() {
    return Reciprocal.between(required(input, "word"), output)
        .withRounding(rounding)
        .withOverflow(overflow)
        .withAtZero(atZero);
  }

  @Override
  Map<String, Supplier<Datapath>> alternatives(boolean exactBits) {
    Choices<Reciprocal> choices =
        Choices.of(declared())
            .or("atZero", atZero, Reciprocal::withAtZero)
            .or("overflow", overflow, Reciprocal::withOverflow);
    return (exactBits ? choices.or("rounding", rounding, Reciprocal::withRounding) : choices)
        .suppliers(Reciprocal::datapath);
  }

  @Override
  Datapath coverage() {
    return UnitCoverage.reciprocal(input, output);
  }

  @Override
  Stimulus ownStimulus() {
    return Numbers.everywhere();
  }
}
