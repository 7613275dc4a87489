package dev.plumbline.contract;

/**
 * When results come, and who may make whom wait.
 *
 * @param inValid valid port of the cases; null where there is none
 * @param inReady ready port of the cases, or the port that says busy; null where there is none
 * @param outValid valid port of the results; null where there is none
 * @param outReady ready port of the results; null where there is none
 * @param leastLatency the shortest latency, in cycles
 * @param mostLatency the longest latency, in cycles
 * @param interval cycles between inputs, 1 or more
 * @param taking when the block takes a case
 * @param validStays whether the valid of a result stays high until the next case is taken
 * @param afterReady whether a result stands on its ports a cycle after valid and ready were high
 * @param tag the output by which results in any order are told apart; null where they come in order
 * @param latencyOf the latency of each case; null where it depends on none
 */
public record Flow(
    String inValid,
    String inReady,
    String outValid,
    String outReady,
    int leastLatency,
    int mostLatency,
    int interval,
    Taking taking,
    boolean validStays,
    boolean afterReady,
    String tag,
    CaseLatency latencyOf) {
  /**
   * Whether cases and results are marked by valid ports.
   *
   * @return true with valid ports
   */
  public boolean hasValid() {
    return inValid != null;
  }

  /**
   * Whether every result comes after the same number of cycles, without any waiting.
   *
   * @return true for a fixed latency
   */
  public boolean isFixed() {
    return taking == Taking.ALWAYS
        && outReady == null
        && leastLatency == mostLatency
        && !validStays
        && !afterReady
        && tag == null
        && latencyOf == null;
  }

  /**
   * Whether cases may have to wait until the block takes them.
   *
   * @return false where it takes whatever is valid
   */
  public boolean waits() {
    return taking != Taking.ALWAYS;
  }

  /**
   * Whether valid is high for a cycle alone, in which the case is taken.
   *
   * @return true where the block has to be seen free before
   */
  public boolean startsOnce() {
    return taking == Taking.WHEN_NOT_BUSY || taking == Taking.WHEN_DONE;
  }

  /**
   * Cycles from a case to the next, at most, where the block is not given cases sooner.
   *
   * @return 1 for a block that may take one in every cycle
   */
  public int cyclesOfCase() {
    return taking == Taking.ALWAYS && !validStays ? interval : Math.max(interval, mostLatency);
  }

  /**
   * The output that says when the next case may come.
   *
   * @return the port; null where the block takes whatever is valid
   */
  public String gate() {
    return taking == Taking.WHEN_DONE ? outValid : inReady;
  }

  /**
   * How long the next result of several may take after the one before it was taken.
   *
   * @return cycles, 1 or more
   */
  public long mostGap() {
    return latencyOf != null ? 1 : 1L + mostLatency - leastLatency;
  }

  /**
   * The same ports, other times.
   *
   * @param least the shortest latency, in cycles
   * @param most the longest latency, in cycles
   * @param cyclesBetweenInputs 1 or more
   * @return a copy
   */
  public Flow within(int least, int most, int cyclesBetweenInputs) {
    return new Flow(
        inValid,
        inReady,
        outValid,
        outReady,
        least,
        most,
        cyclesBetweenInputs,
        taking,
        validStays,
        afterReady,
        tag,
        null);
  }
}
