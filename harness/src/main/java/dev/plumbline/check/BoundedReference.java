package dev.plumbline.check;

import dev.plumbline.models.datapath.BoundsEvaluation;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import java.util.List;

/** {@link Reference#bounded}. */
record BoundedReference(Datapath datapath) implements Reference {
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
    return false;
  }

  @Override
  public Evaluation open(int capacity) {
    BoundsEvaluation bounds = datapath.bounds(capacity);
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
