package dev.plumbline.models.datapath;

/**
 * A datapath evaluated in reals, a block of cases at a time: the mathematics that the steps stand
 * for, without their roundings.
 *
 * <pre>{@code
 * IdealEvaluation e = datapath.ideal(1024);
 * e.input(0, 0)[17] = 65536;              // a code: 1.0 in s16.16
 * e.run(1024);
 * double real = e.output(0)[17];
 * }</pre>
 *
 * <p>Inputs are codes, outputs doubles in real units. Saturation is a declared clamp and is applied
 * here too; a wrap that overflows has no ideal and gives NaN. A decision is 1 or 0. The arithmetic
 * is that of doubles, about 16 decimal digits. An evaluation belongs to one thread and allocates
 * nothing in {@link #run}.
 */
public final class IdealEvaluation {
  private final Datapath datapath;
  private final IdealColumns columns;
  private final Inputs inputs;
  private final Loop steps;
  private final Sequence sequence; // null without registers

  IdealEvaluation(Datapath datapath, int capacity) {
    this.datapath = datapath;
    this.columns = new IdealColumns(datapath, capacity);
    Columns codes = new Columns(datapath, capacity);
    datapath.inputValues().forEach(codes::allocate);
    this.inputs = new Inputs(datapath, codes);
    IdealBinder binder = new IdealBinder(datapath, columns, codes);
    if (datapath.hasState()) {
      this.sequence = new Sequence(datapath, capacity, binder);
      this.steps = sequence;
    } else {
      this.sequence = null;
      this.steps = Loop.all(datapath.values().stream().map(binder::column).toArray(Loop[]::new));
    }
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
    steps.run(count);
  }

  /**
   * Has all registers begin anew before a case of the next {@link #run}; cases of one run follow
   * those of the run before.
   *
   * @param row of the case, 0 or more and below the count of the next run
   */
  public void renewBefore(int row) {
    if (sequence != null) {
      sequence.renewBefore(row);
    }
  }

  /**
   * The column of an output's real values.
   *
   * @param operand index in {@link Datapath#outputs()}
   * @return the column itself, in real units, valid for the cases of the last run
   * @throws DatapathException when there is no such output
   */
  public double[] output(int operand) {
    return columns.of(inputs.value(datapath.outputValues(), "output", operand));
  }

  /**
   * The column of a step's real values.
   *
   * @param name a step's name; steps inside a unit have no ideal of their own
   * @return the column itself, in real units, valid for the cases of the last run
   * @throws DatapathException when there is no such step
   */
  public double[] step(String name) {
    return columns.of(datapath.value(name));
  }
}
