package dev.plumbline.contract;

/**
 * When results come, and who may make whom wait.
 *
 * @param inValid valid port of the cases; null where there is none
 * @param inReady ready port of the cases; null where there is none
 * @param outValid valid port of the results; null where there is none
 * @param outReady ready port of the results; null where there is none
 * @param leastLatency the shortest latency, in cycles
 * @param mostLatency the longest latency, in cycles
 * @param interval cycles between inputs, 1 or more
 */
public record Flow(
    String inValid,
    String inReady,
    String outValid,
    String outReady,
    int leastLatency,
    int mostLatency,
    int interval) {
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
    return inReady == null && outReady == null && leastLatency == mostLatency;
  }

  /**
   * How long the next result of several may take after the one before it was taken.
   *
   * @return cycles, 1 or more
   */
  public long mostGap() {
    return 1L + mostLatency - leastLatency;
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
    return new Flow(inValid, inReady, outValid, outReady, least, most, cyclesBetweenInputs);
  }
}
