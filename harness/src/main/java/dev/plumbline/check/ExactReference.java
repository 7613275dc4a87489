package dev.plumbline.check;

import dev.plumbline.models.datapath.BitEvaluation;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import java.util.List;

/** {@link Reference#exact}. */
record ExactReference(Datapath datapath) implements Reference {
  @Override
  public String name() {
    return datapath.name();
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
  public boolean isExact() {
    return true;
  }

  @Override
  public Evaluation open(int capacity) {
    BitEvaluation bits = datapath.bits(capacity);
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
}
