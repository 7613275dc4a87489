package dev.plumbline.contract;

/**
 * In how many cycles a result follows its case, where that depends on the operands.
 *
 * <pre>{@code
 * contract.latencyOf(27, in -> in[1] == 0 ? 1 : 27)   // a division by zero is found out at once
 * }</pre>
 */
@FunctionalInterface
public interface CaseLatency {
  /**
   * The latency of a case.
   *
   * @param inputs codes, operand after operand, each in its words; not to be kept
   * @return cycles, 0 or more and no more than the most that was promised
   */
  int cycles(long[] inputs);
}
