package dev.plumbline.contract;

import dev.plumbline.models.datapath.BitEvaluation;
import dev.plumbline.models.datapath.BoundsEvaluation;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import java.util.List;
import java.util.Optional;

/**
 * {@link Reference#exact} and {@link Reference#bounded}. One with registers has state; its steps
 * are not given away, since they mean nothing for a case that stands for itself.
 */
record DatapathReference(Datapath datapath, boolean isExact) implements Reference {
  /** Cases in a row for which a register may be open before its bounds are said to be lost. */
  private static final int OPEN = 256;

  @Override
  public String name() {
    return datapath.name();
  }

  @Override
  public Optional<Datapath> steps() {
    return datapath.hasState() ? Optional.empty() : Optional.of(datapath);
  }

  @Override
  public Optional<Datapath> exactSteps() {
    return isExact ? Optional.of(datapath) : Optional.empty();
  }

  @Override
  public boolean isStateful() {
    return datapath.hasState();
  }

  @Override
  public String description() {
    return datapath.table() + isExact;
  }

  @Override
  public List<Operand> inputs() {
    return datapath.inputs();
  }

  @Override
  public List<Operand> outputs() {
    return datapath.outputs();
  }

  @Override
  public Evaluation open(int capacity) {
    return isExact
        ? of(BitEvaluation.ofOutputs(datapath, capacity))
        : of(name(), BoundsEvaluation.ofOutputs(datapath, capacity));
  }

  private static Evaluation of(BitEvaluation bits) {
    return new Evaluation() {
      @Override
      public long[] input(int operand, int word) {
        return bits.input(operand, word);
      }

      @Override
      public void run(int count) {
        bits.run(count);
      }

      @Override
      public void renewBefore(int row) {
        bits.renewBefore(row);
      }

      @Override
      public long[] low(int output, int word) {
        return bits.output(output, word);
      }

      @Override
      public long[] high(int output, int word) {
        return bits.output(output, word);
      }
    };
  }

  private static Evaluation of(String name, BoundsEvaluation bounds) {
    return new Evaluation() {
      @Override
      public long[] input(int operand, int word) {
        return bounds.input(operand, word);
      }

      @Override
      public void run(int count) {
        bounds.run(count);
        List<String> open = bounds.openRegisters(OPEN);
        if (!open.isEmpty()) {
          throw new ContractException(
              "Reference \""
                  + name
                  + "\" has bounds of register \""
                  + open.get(0)
                  + "\" that have been every code of its format for "
                  + OPEN
                  + " cases or more, so that it holds a DUT to nothing; bounds that stay within the"
                  + " format are allowed. See how they grow by BoundsGrowth.of(...), and take"
                  + " Reference.exact, round outside the loop, or reset more often.");
        }
      }

      @Override
      public void renewBefore(int row) {
        bounds.renewBefore(row);
      }

      @Override
      public long[] low(int output, int word) {
        return bounds.low(output, word);
      }

      @Override
      public long[] high(int output, int word) {
        return bounds.high(output, word);
      }
    };
  }
}
