package dev.plumbline.verdict;

import java.math.BigInteger;
import java.util.List;

/**
 * One recorded cycle of a DUT, with what was due in it. The order of every list is that of {@link
 * Layout}.
 *
 * @param cycle cycles of this segment before it, reset included
 * @param caseIn number of the case offered in this cycle; -1 when none was
 * @param caseOut number of the case whose result is due in this cycle; -1 when none is
 * @param controls codes of the reset, valid and ready ports; -1 where one was not sampled, because
 *     the DUT ended by itself before
 * @param inputs codes of the inputs
 * @param outputs codes of the checked outputs; empty where they were not sampled
 * @param low lowest codes allowed; empty when nothing is due
 * @param high highest codes allowed; empty when nothing is due
 * @param wrong for each output, whether it lies outside while it counts; empty when nothing is due
 * @param verdict the verdict on this row in a few words
 */
public record Row(
    long cycle,
    long caseIn,
    long caseOut,
    List<BigInteger> controls,
    List<BigInteger> inputs,
    List<BigInteger> outputs,
    List<BigInteger> low,
    List<BigInteger> high,
    List<Boolean> wrong,
    String verdict) {
  public Row {
    controls = List.copyOf(controls);
    inputs = List.copyOf(inputs);
    outputs = List.copyOf(outputs);
    low = List.copyOf(low);
    high = List.copyOf(high);
    wrong = List.copyOf(wrong);
  }

  /**
   * Whether a result is due in this cycle.
   *
   * @return true when the allowed range is known
   */
  public boolean isDue() {
    return !low.isEmpty();
  }

  /**
   * The same row with another verdict.
   *
   * @param newVerdict in words
   * @return a copy
   */
  public Row withVerdict(String newVerdict) {
    return new Row(cycle, caseIn, caseOut, controls, inputs, outputs, low, high, wrong, newVerdict);
  }
}
