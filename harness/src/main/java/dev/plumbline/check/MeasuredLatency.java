package dev.plumbline.check;

/**
 * How long a DUT was seen to take.
 *
 * @param least fewest cycles from an accepted case to its result
 * @param most most cycles
 * @param interval cycles from one case to the next that it needs; 1 where it takes one a cycle, or
 *     says itself when it is ready
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
