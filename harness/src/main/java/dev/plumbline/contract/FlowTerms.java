package dev.plumbline.contract;

import java.util.ArrayList;
import java.util.List;

/**
 * The part of a contract's builder that says when cases and results come.
 *
 * @param <B> the builder itself
 */
abstract class FlowTerms<B extends FlowTerms<B>> {
  private String inValid;
  private String inReady;
  private String outValid;
  private String outReady;
  private int leastLatency;
  private int mostLatency;
  private int interval = 1;
  private Taking taking = Taking.ALWAYS;
  private boolean validStays;
  private boolean afterReady;
  private String tag;
  private CaseLatency latencyOf;
  private String resetPort;
  private boolean resetLow;
  private int resetCycles = 1;
  private final List<Reset.Line> furtherResets = new ArrayList<>();
  private PortTimes times = PortTimes.OF_THE_RTL;

  abstract B self();

  /**
   * Names the valid ports: cases are what is valid on the way in, results on the way out.
   *
   * @param inPort the input that marks a case
   * @param outPort the output that marks a result
   * @return this builder
   */
  public B valid(String inPort, String outPort) {
    inValid = inPort;
    outValid = outPort;
    return self();
  }

  /**
   * Names the ready ports; a transfer happens where valid and ready are both high. Valid ports are
   * needed as well. Give null for a side that never waits.
   *
   * @param inPort the output by which the block accepts a case, or null
   * @param outPort the input by which the consumer takes a result, or null
   * @return this builder
   */
  public B ready(String inPort, String outPort) {
    outReady = outPort;
    if (inPort != null) {
      inReady = inPort;
      taking = Taking.WHEN_READY;
    } else if (taking == Taking.WHEN_READY) {
      inReady = null;
      taking = Taking.ALWAYS;
    }
    return self();
  }

  /**
   * Promises a result after exactly so many cycles; 0 unless a latency is set.
   *
   * @param cycles 0 or more
   * @return this builder
   */
  public B latency(int cycles) {
    return latencyBetween(cycles, cycles);
  }

  /**
   * Promises each result, in order, within a range of cycles. Cycles in which the consumer is not
   * ready for a result do not count against the most.
   *
   * <p>Where a case may have several results ({@link Reference#statefulStream}) they leave one
   * after the other: a result may come as many cycles as the most after its case, and also most -
   * least + 1 cycles after the result before it was taken. With a fixed latency they follow each
   * other without a gap.
   *
   * @param least 0 or more, inclusive
   * @param most inclusive
   * @return this builder
   */
  public B latencyBetween(int least, int most) {
    leastLatency = least;
    mostLatency = most;
    latencyOf = null;
    return self();
  }

  /**
   * Promises to the block that cases come at least so many cycles apart; from the last beat of one
   * to the first of the next, where they have several.
   *
   * @param cycles 1 (the default) or more; more than 1 needs a valid port
   * @return this builder
   */
  public B cyclesBetweenInputs(int cycles) {
    interval = cycles;
    return self();
  }

  /**
   * Names a reset that is asserted high.
   *
   * @param port the port
   * @return this builder
   */
  public B reset(String port) {
    resetPort = port;
    resetLow = false;
    return self();
  }

  /**
   * Names a reset that is asserted low.
   *
   * @param port the port
   * @return this builder
   */
  public B resetLow(String port) {
    resetPort = port;
    resetLow = true;
    return self();
  }

  /**
   * Sets the length of a reset. Where it lasts longer, valid has to be low until it ends, unless
   * the least latency is 0.
   *
   * @param cycles 1 (the default) or more
   * @return this builder
   */
  public B resetCycles(int cycles) {
    resetCycles = cycles;
    return self();
  }

  /**
   * Names a further reset, asserted high. It is asserted with the first and, where the reset lasts
   * longer than it has to, released on its own; cases come when all are released.
   *
   * @param port the port
   * @return this builder
   */
  public B alsoReset(String port) {
    furtherResets.add(new Reset.Line(port, false));
    return self();
  }

  /**
   * Names a further reset, asserted low; otherwise as {@link #alsoReset}.
   *
   * @param port the port
   * @return this builder
   */
  public B alsoResetLow(String port) {
    furtherResets.add(new Reset.Line(port, true));
    return self();
  }

  /**
   * Names start and done: start is high for the cycle that has a case, and again only in a cycle
   * after its result was seen, which done marks for a cycle. Latency 1 unless set.
   *
   * @param startPort the input that starts a case
   * @param donePort the output that marks its result
   * @return this builder
   */
  public B startAndDone(String startPort, String donePort) {
    inValid = startPort;
    outValid = donePort;
    taking = taking == Taking.WHEN_NOT_BUSY ? Taking.WHEN_NOT_BUSY : Taking.WHEN_DONE;
    leastLatency = Math.max(1, leastLatency);
    mostLatency = Math.max(leastLatency, mostLatency);
    return self();
  }

  /**
   * Names the output that is 1 while the block takes no case: valid, or start, is then given for
   * one cycle, in one after that port was seen at 0.
   *
   * @param port the port
   * @return this builder
   */
  public B busy(String port) {
    inReady = port;
    taking = Taking.WHEN_NOT_BUSY;
    return self();
  }

  /**
   * Declares that the port that marks a result stays high, and the result on its ports, until the
   * next case is taken. It may be high before the first case; the least latency is 1 or more.
   *
   * @return this builder
   */
  public B doneStays() {
    validStays = true;
    return self();
  }

  /**
   * Declares that a result stands on its ports a cycle after its valid and the consumer's ready
   * were both high, as behind a memory that is read only then. Its latency is that of valid.
   *
   * @return this builder
   */
  public B resultAfterReady() {
    afterReady = true;
    return self();
  }

  /**
   * Lets results come in any order, told apart by one of them: the result that has a tag belongs to
   * the oldest case under way whose tag that is. The reference gives the tag of a case as an exact
   * output, mostly an operand handed through.
   *
   * @param output the output's name, up to 62 bits
   * @return this builder
   */
  public B anyOrderByTag(String output) {
    tag = output;
    return self();
  }

  /**
   * Promises each result after as many cycles as its case needs. In order, one that had to let
   * another go first comes a cycle after that at the latest; cycles in which the consumer is not
   * ready do not count.
   *
   * @param most the largest latency that the function gives
   * @param function cycles by the operands of a case
   * @return this builder
   */
  public B latencyOf(int most, CaseLatency function) {
    latencyBetween(0, most);
    latencyOf = function;
    return self();
  }

  /**
   * Sets which clocks the ports follow, where a block has several and its registers do not tell:
   * the ports of cases (operands, valid, ready) one, the ports of results one. Latency counts
   * cycles of the clock of the results, from the first after the case was taken.
   *
   * @param ofCases the clock port that cases follow
   * @param ofResults the clock port that results follow
   * @return this builder
   */
  public B clocks(String ofCases, String ofResults) {
    times = new PortTimes(ofCases, ofResults);
    return self();
  }

  final Reset reset() {
    return new Reset(resetPort, resetLow, resetCycles, furtherResets);
  }

  final PortTimes times() {
    return times;
  }

  final Flow flow(Beats beats) {
    return new Flow(
        inValid,
        inReady,
        outValid,
        outReady,
        leastLatency < 0 ? leastLatency : Math.max(0, leastLatency - beats.head()),
        mostLatency - beats.head(),
        interval,
        taking,
        validStays,
        afterReady,
        tag,
        latencyOf);
  }
}
