package dev.plumbline.models.datapath;

import dev.plumbline.models.rows.RowCode;
import dev.plumbline.models.rows.RowProgram;
import dev.plumbline.models.rows.RowTier;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** What evaluations of a datapath have in common, whatever its steps are evaluated as. */
abstract class BlockEvaluation {
  final Datapath datapath;
  final Inputs inputs;
  final Optional<Sequence> sequence; // none without registers
  private final Loop steps;
  private final RowTier tier;

  /** The steps are bound before the inputs are, whose columns they allocate. */
  BlockEvaluation(Datapath datapath, Loop steps, Inputs inputs) {
    this.datapath = datapath;
    this.tier = new RowTier(this::program);
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
    if (!tier.run(0, count)) {
      steps.run(count);
    }
  }

  private Optional<RowProgram> program() {
    List<long[]> outputs = new ArrayList<>();
    readable().forEach(lane -> lane.addWordsTo(outputs));
    if (sequence.isPresent() || outputs.isEmpty()) {
      return Optional.empty();
    }
    RowCode code = new RowCode(inputs.columns());
    steps.tell(code);
    return code.program(outputs);
  }

  /** The lanes that can be read after a run; none where that is each and every one. */
  abstract List<Lane> readable();

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
