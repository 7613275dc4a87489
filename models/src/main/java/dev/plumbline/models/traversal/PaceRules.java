package dev.plumbline.models.traversal;

/**
 * What follows from a {@link Pace} and a {@link Predictor} in each case, with one thing otherwise
 * where an {@link Alteration} says so.
 */
public final class PaceRules {
  private static final int FIRST = 2;

  private final Pace pace;
  private final Predictor predictor;
  private final Alteration altered;

  /**
   * The rules of an executor.
   *
   * @param pace what takes how long
   * @param predictor of skips; it learns what is passed
   * @param altered what is otherwise
   */
  public PaceRules(Pace pace, Predictor predictor, Alteration altered) {
    this.pace = pace.altered(altered);
    this.predictor = predictor;
    this.altered = altered;
  }

  private boolean is(Alteration other) {
    return altered == other;
  }

  /** One less, one more, or neither. */
  private int either(Alteration less, Alteration more) {
    return is(less) ? -1 : is(more) ? 1 : 0;
  }

  /**
   * The pace, altered.
   *
   * @return what takes how long
   */
  public Pace pace() {
    return pace;
  }

  private int redirection() {
    return either(Alteration.REDIRECTION_EARLIER, Alteration.REDIRECTION_LATER);
  }

  /**
   * When the first operation is dispatched.
   *
   * @return cycles from the ray's acceptance
   */
  public int first() {
    return FIRST + either(Alteration.FIRST_EARLIER, Alteration.FIRST_LATER) + redirection();
  }

  /**
   * Cycles until the next dispatch behind an operation that foretells nothing.
   *
   * @return 1 or more
   */
  public int step() {
    return is(Alteration.DISPATCH_HALVED) ? 2 : 1;
  }

  /**
   * Cycles until the next dispatch behind a skip that is predicted taken.
   *
   * @return 1 or more
   */
  public int afterTaken() {
    int costs = 2 + either(Alteration.AFTER_TAKEN_EARLIER, Alteration.AFTER_TAKEN_LATER);
    return costs - (is(Alteration.NEXT_BEFORE_THE_TARGET) ? 1 : 0);
  }

  /**
   * Cycles more than the pace has until the next dispatch after a wrong prediction.
   *
   * @return may be below 0
   */
  public int afterWrong() {
    return either(Alteration.AFTER_WRONG_EARLIER, Alteration.AFTER_WRONG_LATER) + redirection();
  }

  /**
   * Cycles that a retirement takes.
   *
   * @param cost by its lists, 1 or more
   * @return 1 or more for an operation that is no close
   */
  public int retirement(int cost) {
    int more = either(Alteration.COMBINATION_EARLIER, Alteration.COMBINATION_LATER);
    return cost > 1 ? cost + more : cost;
  }

  /**
   * Whether a skip's prediction is counted.
   *
   * @param predicted whether it was predicted taken
   * @param taken whether it was
   * @return true unless that is what is altered
   */
  public boolean isCounted(boolean predicted, boolean taken) {
    return switch (altered) {
      case WRONG_TAKEN_UNCOUNTED -> !taken || predicted;
      case WRONG_NOT_TAKEN_UNCOUNTED -> taken || !predicted;
      case RIGHT_TAKEN_UNCOUNTED -> !taken || !predicted;
      case RIGHT_NOT_TAKEN_UNCOUNTED -> taken || predicted;
      default -> true;
    };
  }

  /**
   * Whether a skip is predicted taken.
   *
   * @param address of the skip
   * @return by what was learnt
   */
  public boolean predicts(int address) {
    return switch (altered) {
      case PREDICTS_FROM_ONE -> predictor.state(address) >= 1;
      case PREDICTS_FROM_THREE -> predictor.state(address) >= 3;
      default -> predictor.predict(address);
    };
  }

  /**
   * Learns what a skip did.
   *
   * @param address of the skip
   * @param taken whether it was taken
   */
  public void learn(int address, boolean taken) {
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
}
