package dev.plumbline.check;

/**
 * The latency of a DUT, as measured.
 *
 * @param least fewest cycles from an accepted case to its result
 * @param most most cycles
 * @param interval cycles from one case to the next that it needs; 1 where it takes one a cycle, or
 *     has a ready port
 * @param allAgree false where, without valid ports, only most of the cases agreed at this latency
 * @param basis on what this rests, for a report
 */
public record MeasuredLatency(int least, int most, int interval, boolean allAgree, String basis) {
  /**
   * Whether every result took the same time.
   *
   * @return whether least and most are equal
   */
  public boolean isConstant() {
    return least == most;
  }
}
