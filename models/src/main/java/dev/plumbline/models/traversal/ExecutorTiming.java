package dev.plumbline.models.traversal;

import java.util.Arrays;

/**
 * In which cycle each operation retires, for an executor that issues and retires in order.
 *
 * <p>Cycle 0 is the one in which a ray is accepted. The first operation is dispatched in cycle 2,
 * one more each cycle, and one cycle later behind a skip that is predicted taken; all reach the
 * retirement queue {@code latency} cycles after their dispatch and retire in order, at a cost of 1,
 * of a combination 1 more for each different distance of its ends. No more than {@code queue}
 * operations are dispatched and not retired. A skip that was predicted wrongly drops what is
 * younger when it retires, and the next operation is dispatched two cycles later, as behind every
 * skip without prediction. The predictor learns in the cycle of retirement, and a dispatch in that
 * cycle does not see it yet. What is fetched on a wrong path never delays the right one.
 *
 * <p>Operations are passed in the order of their retirement; nothing allocates. The predictor keeps
 * what it learnt from ray to ray.
 */
public final class ExecutorTiming {
  private static final int FIRST = 2;
  private static final int AFTER_SKIP = 2;

  private final int latency;
  private final Predictor predictor;
  private final Alteration altered;
  private final long[] ends;
  private final long[] learnAt;
  private final int[] learnAddress;
  private final boolean[] learnTaken;
  private int learnFrom;
  private int learnTo;
  private long retired;
  private long next;
  private long lastEnd;
  private long right;
  private long wrong;

  /**
   * An executor just reset.
   *
   * @param latency cycles from dispatch to arrival in the retirement queue, 1 or more
   * @param queue most operations dispatched and not retired, 1 or more
   * @param predictor of skips
   */
  public ExecutorTiming(int latency, int queue, Predictor predictor) {
    this(latency, queue, predictor, Alteration.NONE);
  }

  /**
   * An executor just reset that keeps time otherwise.
   *
   * @param latency cycles from dispatch to arrival in the retirement queue, 1 or more
   * @param queue most operations dispatched and not retired, 1 or more
   * @param predictor of skips
   * @param altered what is otherwise
   */
  public ExecutorTiming(int latency, int queue, Predictor predictor, Alteration altered) {
    if (latency < 1 || queue < 1) {
      throw new IllegalArgumentException(
          "Executor of latency "
              + latency
              + " with a queue of "
              + queue
              + ": both have to be 1 or more.");
    }
    this.altered = altered;
    this.latency = latency + either(Alteration.LATENCY_LESS, Alteration.LATENCY_MORE);
    this.predictor = predictor;
    int room = Math.max(1, queue + either(Alteration.QUEUE_LESS, Alteration.QUEUE_MORE));
    this.ends = new long[room];
    this.learnAt = new long[room + 1];
    this.learnAddress = new int[room + 1];
    this.learnTaken = new boolean[room + 1];
  }

  private boolean is(Alteration other) {
    return altered == other;
  }

  /** One less, one more, or neither. */
  private int either(Alteration less, Alteration more) {
    return is(less) ? -1 : is(more) ? 1 : 0;
  }

  private int redirection() {
    return either(Alteration.REDIRECTION_EARLIER, Alteration.REDIRECTION_LATER);
  }

  /** Accepts a ray; counts begin anew. */
  public void accept() {
    learnBefore(Long.MAX_VALUE);
    Arrays.fill(ends, -1);
    retired = 0;
    next = (long) FIRST + either(Alteration.FIRST_EARLIER, Alteration.FIRST_LATER) + redirection();
    lastEnd = -1;
    right = 0;
    wrong = 0;
  }

  /**
   * Retires an operation that is no skip.
   *
   * @param cost cycles that its retirement takes, 1 or more
   * @return the last of them
   */
  public long retire(int cost) {
    long dispatch = dispatch();
    next = dispatch + (is(Alteration.DISPATCH_HALVED) ? 2 : 1);
    int more = either(Alteration.COMBINATION_EARLIER, Alteration.COMBINATION_LATER);
    return end(dispatch, cost > 1 ? cost + more : cost);
  }

  /**
   * Retires a skip.
   *
   * @param address its own
   * @param taken whether its box was missed
   * @return the cycle of its retirement
   */
  public long retireSkip(int address, boolean taken) {
    long dispatch = dispatch();
    boolean predicted = predicts(address);
    long end = end(dispatch, 1);
    if (predictor.policy() == Predictor.Policy.NONE) {
      next = end + AFTER_SKIP;
    } else if (predicted == taken) {
      right++;
      int costs = 2 + either(Alteration.AFTER_TAKEN_EARLIER, Alteration.AFTER_TAKEN_LATER);
      next = dispatch + (predicted ? costs : is(Alteration.DISPATCH_HALVED) ? 2 : 1);
    } else {
      wrong++;
      next =
          end
              + AFTER_SKIP
              + either(Alteration.AFTER_WRONG_EARLIER, Alteration.AFTER_WRONG_LATER)
              + redirection();
    }
    learnAt[learnTo] = end;
    learnAddress[learnTo] = address;
    learnTaken[learnTo] = taken;
    learnTo = (learnTo + 1) % learnAt.length;
    return end;
  }

  private boolean predicts(int address) {
    return switch (altered) {
      case PREDICTS_FROM_ONE -> predictor.state(address) >= 1;
      case PREDICTS_FROM_THREE -> predictor.state(address) >= 3;
      default -> predictor.predict(address);
    };
  }

  private void learn(int address, boolean taken) {
    int state = predictor.state(address);
    boolean ignored =
        taken
            ? is(Alteration.LEARNS_NOT_TAKEN_ALONE)
            : is(Alteration.LEARNS_TAKEN_ALONE) || (is(Alteration.FORGETS_AT_THE_TOP) && state < 3);
    if (ignored) {
      return;
    }
    predictor.update(is(Alteration.LEARNS_THE_NEXT) ? address + 1 : address, taken);
    if (taken && is(Alteration.LEARNS_TWICE)) {
      predictor.update(address, true);
    } else if (taken && state == 3 && is(Alteration.COUNTER_WRAPS_UP)) {
      predictor.setState(address, 0);
    } else if (!taken && state == 0 && is(Alteration.COUNTER_WRAPS_DOWN)) {
      predictor.setState(address, 3);
    }
  }

  private long dispatch() {
    long free = ends[(int) (retired % ends.length)] + 1;
    long dispatch = Math.max(next, free);
    learnBefore(dispatch);
    return dispatch;
  }

  private long end(long dispatch, int cost) {
    lastEnd = Math.max(dispatch + latency, lastEnd + 1) + cost - 1;
    ends[(int) (retired % ends.length)] = lastEnd;
    retired++;
    return lastEnd;
  }

  private void learnBefore(long cycle) {
    while (learnFrom != learnTo && learnAt[learnFrom] < cycle) {
      learn(learnAddress[learnFrom], learnTaken[learnFrom]);
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
