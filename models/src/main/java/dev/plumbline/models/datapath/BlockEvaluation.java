package dev.plumbline.models.datapath;

import java.util.Optional;

/** What evaluations of a datapath have in common, whatever its steps are evaluated as. */
abstract class BlockEvaluation {
  final Datapath datapath;
  final Inputs inputs;
  final Optional<Sequence> sequence; // none without registers
  private final Loop steps;

  /** The steps are bound before the inputs are, whose columns they allocate. */
  BlockEvaluation(Datapath datapath, Loop steps, Inputs inputs) {
    this.datapath = datapath;
    this.steps = steps;
    this.inputs = inputs;
    this.sequence = steps instanceof Sequence registers ? Optional.of(registers) : Optional.empty();
  }

  /**
   * The column to fill with an input's codes.
   *
   * @param operand index in {@link Datapath#inputs()}
   * @param word 0, or 1 for the upper word of a format beyond 64 bits
   * @return the column itself, one element a case
   * @throws DatapathException when there is no such input or word
   */
  public final long[] input(int operand, int word) {
    return inputs.column(operand, word);
  }

  /**
   * Evaluates cases 0 to {@code count - 1}.
   *
   * @param count 0 to the capacity
   * @throws DatapathException when an input code is outside its range, or the count is
   */
  public final void run(int count) {
    inputs.check(count);
    steps.run(count);
  }

  /**
   * Has all registers begin anew before a case of the next {@link #run}; cases of one run follow
   * those of the run before.
   *
   * @param row of the case, 0 or more and below the count of the next run
   */
  public final void renewBefore(int row) {
    if (sequence.isPresent()) {
      sequence.get().renewBefore(row);
    }
  }
}
