package dev.plumbline.verdict;

import dev.plumbline.models.datapath.Operand;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;

/**
 * How far the results of an output were from what they are held to, whether they passed or not:
 * known where more than one code is allowed, of outputs of 2 to 63 bits.
 *
 * @param output the output's name and format
 * @param exact whether it is measured from the one code that an exact reference gives; else from
 *     the middle of the range that a bounded one allows, rounded down
 * @param measured how many results were
 * @param largest the farthest from there, in LSB, negative where it was less; the first of several
 * @param segment the segment in which that was
 * @param caseNumber the case, counted over the whole run; -1 where none was off
 * @param inputs the operands, one or more
 * @param operands their codes in that case; empty where none was off
 * @param histogram how many results were 0 LSB off, 1, 2 to 3, 4 to 7, and so on: entry k counts
 *     those from 2^(k-1) up to, not including, 2^k
 */
public record Deviation(
    Operand output,
    boolean exact,
    long measured,
    long largest,
    long segment,
    long caseNumber,
    List<Operand> inputs,
    List<BigInteger> operands,
    List<Long> histogram) {
  public Deviation {
    inputs = List.copyOf(inputs);
    operands = List.copyOf(operands);
    histogram = List.copyOf(histogram);
  }

  /**
   * What is reported of it.
   *
   * @return one line or more: the largest, the operands that gave it, the histogram
   */
  public List<String> lines() {
    List<String> lines = new ArrayList<>();
    lines.add(
        output
            + ": "
            + (largest > 0 ? "+" : "")
            + largest
            + " LSB at most, from "
            + (exact ? "the expected code" : "the middle of what is allowed")
            + (caseNumber < 0 ? "" : ", in case " + caseNumber));
    for (int i = 0; i < operands.size(); i++) {
      lines.add("  " + CodeText.operand(inputs.get(i), operands.get(i)));
    }
    lines.add("  results by LSB off: " + histogramText());
    return lines;
  }

  private String histogramText() {
    List<String> parts = new ArrayList<>();
    for (int k = 0; k < histogram.size(); k++) {
      if (histogram.get(k) > 0) {
        parts.add(label(k) + ": " + histogram.get(k));
      }
    }
    return String.join(", ", parts);
  }

  /**
   * What an entry of the histogram counts.
   *
   * @param entry its index
   * @return such as {@code 0}, {@code 1} or {@code 4 to 7}
   */
  public static String label(int entry) {
    BigInteger above = BigInteger.ONE.shiftLeft(entry);
    return entry < 2
        ? Integer.toString(entry)
        : above.shiftRight(1) + " to " + above.subtract(BigInteger.ONE);
  }
}
