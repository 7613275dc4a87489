package dev.plumbline.models.datapath;

import java.util.List;

/**
 * A datapath evaluated in bits with one step changed at a time: to see which change explains what
 * hardware gives.
 *
 * <pre>{@code
 * Variations variations = datapath.variations(1024);
 * for (Variation one : variations.all()) {
 *   variations.run(one, 1024);
 *   long code = variations.output(0, 0)[17];
 * }
 * }</pre>
 *
 * <p>Cases in consecutive rows are taken for those of consecutive cycles. Inputs stay as they were
 * filled, and codes outside their legal range are not refused. An instance belongs to one thread.
 */
public final class Variations {
  private final Datapath datapath;
  private final Columns columns;
  private final Loop[] loops;
  private final Inputs inputs;
  private final List<Variation> all;
  private final long[] low;
  private final long[] high;

  Variations(Datapath datapath, int capacity) {
    this.datapath = datapath;
    this.columns = new Columns(datapath, capacity);
    this.loops = columns.bindBits();
    this.inputs = new Inputs(datapath, columns);
    this.all = List.copyOf(new VariationMaker(capacity).of(columns, ""));
    this.low = new long[capacity];
    this.high = new long[capacity];
  }

  /**
   * Every change of one step.
   *
   * @return in no order that means anything, but the same every time
   */
  public List<Variation> all() {
    return all;
  }

  /**
   * The column to fill with an input's codes.
   *
   * @param operand index in {@link Datapath#inputs()}
   * @param word 0, or 1 for the upper word of a format beyond 64 bits
   * @return the column itself
   */
  public long[] input(int operand, int word) {
    return inputs.column(operand, word);
  }

  /**
   * The column of an output's codes.
   *
   * @param operand index in {@link Datapath#outputs()}
   * @param word 0, or 1 for the upper word of a format beyond 64 bits
   * @return the column itself, valid for the cases of the last run
   */
  public long[] output(int operand, int word) {
    Value value = inputs.value(datapath.outputValues(), "output", operand);
    return Inputs.word(datapath, columns.lane(value), value, word);
  }

  /**
   * Evaluates cases 0 to {@code count - 1} with a step changed.
   *
   * @param change one of {@link #all}, or null for none
   * @param count 0 to the capacity
   * @return whether it could be: a step may meet codes that it has no meaning for
   */
  public boolean run(Variation change, int count) {
    Loop[] changed = change == null ? loops : change.columns().loops();
    int at = change == null ? 0 : change.index();
    Loop own = changed[at];
    Lane spoilt = change == null ? null : change.spoilt();
    if (spoilt != null) {
      System.arraycopy(spoilt.low, 0, low, 0, low.length);
      if (spoilt.high != null) {
        System.arraycopy(spoilt.high, 0, high, 0, high.length);
      }
    }
    try {
      changed[at] = change == null ? own : change.loop();
      for (Loop loop : loops) {
        loop.run(count);
      }
      return true;
    } catch (ArithmeticException | IndexOutOfBoundsException e) {
      return false;
    } finally {
      changed[at] = own;
      if (spoilt != null) {
        System.arraycopy(low, 0, spoilt.low, 0, low.length);
        if (spoilt.high != null) {
          System.arraycopy(high, 0, spoilt.high, 0, high.length);
        }
      }
    }
  }
}
