package dev.plumbline.samples;

/**
 * One planted fault: a piece of the sample RTL and what stands there instead.
 *
 * @param name short and unique, in lower case with hyphens, led by the unit
 * @param unit the top module whose results show it, at default parameters
 * @param shows the least that a stream must have for the fault to show
 * @param what what it does wrong, and how often
 * @param file the file of the RTL folder that is changed
 * @param original the exact text to replace; it stands in the file once
 * @param replacement the text that takes its place
 */
public record Fault(
    String name,
    String unit,
    Shows shows,
    String what,
    String file,
    String original,
    String replacement) {

  /** What a stream must have for a fault to show. */
  enum Shows {
    /** Nothing but the right operands, even one at a time. */
    ANY_STREAM,
    /** Different cases in consecutive cycles. */
    BACK_TO_BACK,
    /** A cycle without a case between two with one. */
    BUBBLES,
    /** A result that the consumer does not take at once. */
    STALLS,
    /** A reset of one cycle while cases are in flight and another arrives. */
    ONE_CYCLE_RESET
  }

  @Override
  public String toString() {
    return name;
  }
}
