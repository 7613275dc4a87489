package dev.plumbline.models.traversal;

/**
 * How an executor that issues and retires in order keeps time.
 *
 * <pre>{@code
 * Pace simple = Pace.of(53, 64);
 * Pace early = Pace.of(54, 64).withEarlyDecision(10, 2).withFlush(3).withLearning(2);
 * }</pre>
 *
 * @param latency cycles from dispatch to arrival in the retirement queue, 1 or more
 * @param queue most operations dispatched and neither retired nor dropped, 1 or more
 * @param decision cycles from the dispatch of a skip until it is known whether its box is missed,
 *     when what a wrong prediction dispatched behind it is dropped; 0 where that is known when it
 *     retires
 * @param redirection cycles from that decision to the next dispatch
 * @param flush cycles from the retirement of a skip that went another way than was thought until
 *     then to the next dispatch
 * @param learning cycles from the retirement of a skip until predictions know its outcome, 1 or
 *     more
 * @param close cycles that a close retires later than an operation without lists would
 * @param result cycles from the last retirement of a ray to its result, 1 or more
 */
public record Pace(
    int latency,
    int queue,
    int decision,
    int redirection,
    int flush,
    int learning,
    int close,
    int result) {
  /** Checks that nothing happens before what it follows from. */
  public Pace {
    if (latency < 1 || queue < 1) {
      throw new IllegalArgumentException(
          "Executor of latency "
              + latency
              + " with a queue of "
              + queue
              + ": both have to be 1 or more.");
    }
    if (decision < 0 || decision >= latency || redirection < 1 || flush < 1) {
      throw new IllegalArgumentException(
          "Executor that decides "
              + decision
              + " cycles after dispatch and goes on "
              + redirection
              + " or "
              + flush
              + " cycles later: a decision comes 0 to "
              + (latency - 1)
              + " cycles after dispatch, the next dispatch 1 or more later.");
    }
    if (learning < 1 || close < 0 || result < 1) {
      throw new IllegalArgumentException(
          "Executor that learns after "
              + learning
              + ", closes in "
              + close
              + " and gives results after "
              + result
              + " cycles: they have to be 1, 0 and 1 or more.");
    }
  }

  /**
   * One that decides skips when they retire: the next dispatch is two cycles after a wrong one, the
   * predictor knows it in the cycle after, a close takes no longer than others, and a result stands
   * in the cycle after the last retirement.
   *
   * @param latency cycles from dispatch to arrival, 1 or more
   * @param queue most operations under way, 1 or more
   * @return a pace
   */
  public static Pace of(int latency, int queue) {
    return new Pace(latency, queue, 0, 2, 2, 1, 0, 1);
  }

  /**
   * The same with decisions before retirement.
   *
   * @param after cycles from dispatch to decision, 0 for none
   * @param next cycles from there to the next dispatch
   * @return a pace
   */
  public Pace withEarlyDecision(int after, int next) {
    return new Pace(latency, queue, after, next, flush, learning, close, result);
  }

  /**
   * The same with another way back from the retirement of a skip.
   *
   * @param cycles to the next dispatch, 1 or more
   * @return a pace
   */
  public Pace withFlush(int cycles) {
    return new Pace(latency, queue, decision, redirection, cycles, learning, close, result);
  }

  /**
   * The same with another way from a retirement to the predictions that know it.
   *
   * @param cycles 1 or more
   * @return a pace
   */
  public Pace withLearning(int cycles) {
    return new Pace(latency, queue, decision, redirection, flush, cycles, close, result);
  }

  /**
   * The same with closes that take longer.
   *
   * @param cycles more than others, 0 or more
   * @return a pace
   */
  public Pace withClose(int cycles) {
    return new Pace(latency, queue, decision, redirection, flush, learning, cycles, result);
  }

  /**
   * The same with another way to the result.
   *
   * @param cycles from the last retirement, 1 or more
   * @return a pace
   */
  public Pace withResult(int cycles) {
    return new Pace(latency, queue, decision, redirection, flush, learning, close, cycles);
  }

  /** Whether a skip is decided before it retires. */
  boolean decidesEarly() {
    return decision > 0;
  }

  /** With one or two of its numbers moved by a cycle or a place. */
  Pace altered(Alteration by) {
    return switch (by) {
      case LATENCY_LESS -> withLatency(Math.max(1, latency - 1));
      case LATENCY_MORE -> withLatency(latency + 1);
      case QUEUE_LESS -> withQueue(Math.max(1, queue - 1));
      case QUEUE_MORE -> withQueue(queue + 1);
      default -> this;
    };
  }

  private Pace withLatency(int cycles) {
    int decided = Math.min(decision, cycles - 1);
    return new Pace(cycles, queue, decided, redirection, flush, learning, close, result);
  }

  private Pace withQueue(int room) {
    return new Pace(latency, room, decision, redirection, flush, learning, close, result);
  }
}
