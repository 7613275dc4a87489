package dev.plumbline.models.datapath;

import java.util.ArrayList;
import java.util.List;

/**
 * A datapath evaluated in bounds, a block of cases at a time: for each output the least and the
 * greatest code that hardware with the described formats may give, whichever way each rounding
 * falls.
 *
 * <pre>{@code
 * BoundsEvaluation e = datapath.bounds(1024);
 * e.input(0, 0)[17] = 65536;
 * e.run(1024);
 * boolean within = e.low(0, 0)[17] <= code && code <= e.high(0, 0)[17];
 * }</pre>
 *
 * <p>Inputs are points. Exact steps carry intervals exactly; a rounding step gives the floor of the
 * low end and the ceiling of the high one; saturation clamps both; a wrap that may overflow gives
 * the whole range of its format. A decision is a bit: low and high 1 and 1 is <em>must</em>, 0 and
 * 0 <em>must not</em>, 0 and 1 <em>may do either</em>; a selection under the last gives the hull.
 * Words as in {@link BitEvaluation}. An evaluation belongs to one thread and allocates nothing in
 * {@link #run}.
 */
public final class BoundsEvaluation {
  private final Datapath datapath;
  private final Columns low;
  private final Columns high;
  private final Inputs inputs;
  private final Loop[] loops;

  BoundsEvaluation(Datapath datapath, int capacity) {
    this.datapath = datapath;
    this.low = new Columns(datapath, capacity);
    this.high = new Columns(datapath, capacity);
    BoundColumns both = new BoundColumns(low, high);
    List<Loop> bound = new ArrayList<>();
    for (Value value : datapath.values()) {
      Step step = value.step();
      low.allocate(value);
      if (step.exact() && step.operands().stream().allMatch(both::point)) {
        high.share(value, low.lane(value));
        bound.add(step.bits(low, value));
      } else {
        high.allocate(value);
        bound.add(step.bounds(both, value));
      }
    }
    this.loops = bound.toArray(new Loop[0]);
    this.inputs = new Inputs(datapath, low);
  }

  /**
   * The column to fill with an input's codes.
   *
   * @param operand index in {@link Datapath#inputs()}
   * @param word 0, or 1 for the upper word of a format beyond 64 bits
   * @return the column itself, one element a case
   * @throws DatapathException when there is no such input or word
   */
  public long[] input(int operand, int word) {
    return inputs.column(operand, word);
  }

  /**
   * Evaluates cases 0 to {@code count - 1}.
   *
   * @param count 0 to the capacity
   * @throws DatapathException when an input code is outside its range, or the count is
   */
  public void run(int count) {
    inputs.check(count);
    for (Loop loop : loops) {
      loop.run(count);
    }
  }

  /**
   * The column of an output's least codes.
   *
   * @param operand index in {@link Datapath#outputs()}
   * @param word 0, or 1 for the upper word of a format beyond 64 bits
   * @return the column itself, valid for the cases of the last run
   * @throws DatapathException when there is no such output or word
   */
  public long[] low(int operand, int word) {
    Value value = inputs.value(datapath.outputValues(), "output", operand);
    return Inputs.word(datapath, low.lane(value), value, word);
  }

  /**
   * The column of an output's greatest codes.
   *
   * @param operand index in {@link Datapath#outputs()}
   * @param word 0, or 1 for the upper word of a format beyond 64 bits
   * @return the column itself, valid for the cases of the last run
   * @throws DatapathException when there is no such output or word
   */
  public long[] high(int operand, int word) {
    Value value = inputs.value(datapath.outputValues(), "output", operand);
    return Inputs.word(datapath, high.lane(value), value, word);
  }

  /**
   * The column of a step's least codes.
   *
   * @param name a step's name; what is inside a unit has no bounds
   * @param word 0, or 1 for the upper word of a format beyond 64 bits
   * @return the column itself, valid for the cases of the last run
   * @throws DatapathException when there is no such step or word
   */
  public long[] stepLow(String name, int word) {
    return Inputs.word(datapath, low.find(name), low.value(name), word);
  }

  /**
   * The column of a step's greatest codes.
   *
   * @param name a step's name; what is inside a unit has no bounds
   * @param word 0, or 1 for the upper word of a format beyond 64 bits
   * @return the column itself, valid for the cases of the last run
   * @throws DatapathException when there is no such step or word
   */
  public long[] stepHigh(String name, int word) {
    return Inputs.word(datapath, high.find(name), high.value(name), word);
  }
}
