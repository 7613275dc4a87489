package dev.plumbline.contract;

import dev.plumbline.models.datapath.BitEvaluation;
import dev.plumbline.models.datapath.BoundsEvaluation;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import java.util.List;
import java.util.Optional;

/** {@link Reference#exact} and {@link Reference#bounded}. */
record DatapathReference(Datapath datapath, boolean isExact) implements Reference {
  @Override
  public String name() {
    return datapath.name();
  }

  @Override
  public Optional<Datapath> steps() {
    return isExact ? Optional.of(datapath) : Optional.empty();
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
    return isExact ? of(datapath.bits(capacity)) : of(datapath.bounds(capacity));
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
      public long[] low(int output, int word) {
        return bits.output(output, word);
      }

      @Override
      public long[] high(int output, int word) {
        return bits.output(output, word);
      }
    };
  }

  private static Evaluation of(BoundsEvaluation bounds) {
    return new Evaluation() {
      @Override
      public long[] input(int operand, int word) {
        return bounds.input(operand, word);
      }

      @Override
      public void run(int count) {
        bounds.run(count);
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
