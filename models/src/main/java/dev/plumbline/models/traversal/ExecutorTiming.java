package dev.plumbline.models.traversal;

import java.util.Arrays;

/**
 * In which cycle each operation retires, for an executor that issues and retires in order.
 *
 * <p>Cycle 0 is the one in which a ray is accepted. The first operation is dispatched in cycle 2,
 * one more each cycle, and one cycle later behind a skip that is predicted taken; all reach the
 * retirement queue a fixed number of cycles after their dispatch and retire in order, a combination
 * later by 1 for each different distance of its ends. There is room for so many operations
 * dispatched and neither retired nor dropped. A skip that was predicted wrongly drops what is
 * younger when that is known, and the next operation is dispatched a few cycles later, as behind
 * every skip without prediction. Where decisions come early, a skip may still turn out as taken
 * when it retires, since its box lies beyond what was found meanwhile. All these numbers are the
 * {@link Pace}'s. What is fetched on a wrong path never delays the right one.
 *
 * <p>Operations are passed in the order of their retirement; nothing allocates. The predictor keeps
 * what it learnt from ray to ray.
 */
public final class ExecutorTiming {
  private final Pace pace;
  private final Predictor predictor;
  private final PaceRules rules;
  private final long[] ends;
  private final long[] learnAt;
  private final int[] learnAddress;
  private final boolean[] learnTaken;
  private int learnFrom;
  private int learnTo;
  private long retired;
  private long next;
  private long lastEnd;
  private long lastDispatch;
  private boolean predicted; // what was foretold of the latest skip
  private long right;
  private long wrong;
  private long cut = Long.MAX_VALUE;

  /**
   * An executor just reset, of the pace {@link Pace#of}.
   *
   * @param latency cycles from dispatch to arrival in the retirement queue, 1 or more
   * @param queue most operations dispatched and not retired, 1 or more
   * @param predictor of skips
   */
  public ExecutorTiming(int latency, int queue, Predictor predictor) {
    this(Pace.of(latency, queue), predictor, Alteration.NONE);
  }

  /**
   * An executor just reset that keeps time otherwise.
   *
   * @param pace what takes how long
   * @param predictor of skips
   * @param altered what is otherwise
   */
  public ExecutorTiming(Pace pace, Predictor predictor, Alteration altered) {
    this.rules = new PaceRules(pace, predictor, altered);
    this.pace = rules.pace();
    this.predictor = predictor;
    int room = this.pace.queue();
    this.ends = new long[room];
    // Skips under way, and those that retired and are not known yet.
    int pending = room + this.pace.learning() + 1;
    this.learnAt = new long[pending];
    this.learnAddress = new int[pending];
    this.learnTaken = new boolean[pending];
  }

  /** Accepts a ray; counts begin anew. */
  public void accept() {
    learnBefore(Long.MAX_VALUE);
    Arrays.fill(ends, -1);
    retired = 0;
    next = rules.first();
    lastEnd = -1;
    right = 0;
    wrong = 0;
  }

  /**
   * Retires an operation that is no skip and no close.
   *
   * @param cost cycles that its retirement takes, 1 or more
   * @return the last of them
   */
  public long retire(int cost) {
    return retireIn(rules.retirement(cost));
  }

  private long retireIn(int cost) {
    long dispatch = dispatch();
    next = dispatch + rules.step();
    return end(dispatch, cost);
  }

  /**
   * Retires a close.
   *
   * @return the cycle of its retirement
   */
  public long retireClose() {
    return retireIn(1 + pace.close());
  }

  /**
   * Retires a skip whose box alone decides.
   *
   * @param address its own
   * @param taken whether its box was missed
   * @return the cycle of its retirement
   */
  public long retireSkip(int address, boolean taken) {
    return retireSkip(address, taken, taken);
  }

  /**
   * Retires a skip.
   *
   * @param address its own
   * @param early whether it was taken by what is known before it retires
   * @param taken whether it is taken at last
   * @return the cycle of its retirement
   */
  public long retireSkip(int address, boolean early, boolean taken) {
    long dispatch = dispatch();
    predicted = rules.predicts(address);
    boolean waits = predictor.policy() == Predictor.Policy.NONE;
    long end = end(dispatch, 1);
    if (!waits) {
      int counted = rules.isCounted(predicted, taken) ? 1 : 0;
      right += predicted == taken ? counted : 0;
      wrong += predicted == taken ? 0 : counted;
    }
    boolean turned = pace.decidesEarly() ? early != taken : waits || predicted != taken;
    if (turned) {
      next = end + pace.flush() + (waits ? 0 : rules.afterWrong());
    } else if (waits || (pace.decidesEarly() && predicted != early)) {
      next = dispatch + pace.decision() + pace.redirection() + (waits ? 0 : rules.afterWrong());
    } else {
      next = dispatch + (predicted ? rules.afterTaken() : rules.step());
    }
    learnAt[learnTo] = end;
    learnAddress[learnTo] = address;
    learnTaken[learnTo] = taken;
    learnTo = (learnTo + 1) % learnAt.length;
    return end;
  }

  /** Whether the latest skip was predicted taken. */
  boolean hasPredictedTaken() {
    return predicted;
  }

  private long dispatch() {
    long free = ends[(int) (retired % ends.length)] + 1;
    long dispatch = Math.max(next, free);
    learnBefore(dispatch - (pace.learning() - 1));
    return dispatch;
  }

  private long end(long dispatch, int cost) {
    lastDispatch = dispatch;
    lastEnd = Math.max(dispatch + pace.latency(), lastEnd + 1) + cost - 1;
    ends[(int) (retired % ends.length)] = lastEnd;
    retired++;
    return lastEnd;
  }

  /** Has the predictor know all skips so far; it is what it will be when the next ray comes. */
  public void settle() {
    learnBefore(Long.MAX_VALUE);
  }

  /**
   * Has the next ray dropped in a cycle, counted from its acceptance: skips that retire before it
   * are learnt, others are not. What retires is passed all the same, and then {@link #endCut}. The
   * predictor is as it was when that ray was accepted: skips that were under way are forgotten.
   *
   * @param cycle of the drop
   */
  public void cutAt(long cycle) {
    learnFrom = learnTo;
    cut = cycle;
  }

  /** The dropped ray is over. */
  public void endCut() {
    settle();
    learnFrom = learnTo;
    cut = Long.MAX_VALUE;
  }

  private void learnBefore(long cycle) {
    while (learnFrom != learnTo && learnAt[learnFrom] < Math.min(cycle, cut)) {
      rules.learn(learnAddress[learnFrom], learnTaken[learnFrom]);
      learnFrom = (learnFrom + 1) % learnAt.length;
    }
  }

  /**
   * Cycles of the ray so far: from its acceptance to the last retirement, both included.
   *
   * @return the last end plus 1
   */
  public long cycles() {
    return lastEnd + 1;
  }

  /**
   * Cycles from the ray's acceptance to its result, when the last operation has retired.
   *
   * @return the first cycle in which it stands
   */
  public long result() {
    return lastEnd + pace.result();
  }

  /**
   * When the operation was dispatched that retired last.
   *
   * @return the cycle, counted from the ray's acceptance
   */
  public long dispatched() {
    return lastDispatch;
  }

  /**
   * Operations of the ray that retired so far.
   *
   * @return their number
   */
  public long retired() {
    return retired;
  }

  /**
   * Skips of the ray that were predicted rightly.
   *
   * @return their number; 0 without prediction
   */
  public long right() {
    return right;
  }

  /**
   * Skips of the ray that were predicted wrongly.
   *
   * @return their number; 0 without prediction
   */
  public long wrong() {
    return wrong;
  }
}
