package dev.plumbline.wiring;

import dev.plumbline.contract.Reference;
import dev.plumbline.models.datapath.Operand;
import java.util.List;
import java.util.Set;
import java.util.stream.IntStream;

/** A reference some of whose inputs the DUT does not have: they are zero in every case. */
public record HiddenInputs(Reference whole, Set<String> hidden) implements Reference {
  @Override
  public String name() {
    return whole.name();
  }

  @Override
  public List<Operand> inputs() {
    return whole.inputs().stream().filter(input -> !hidden.contains(input.name())).toList();
  }

  @Override
  public List<Operand> outputs() {
    return whole.outputs();
  }

  @Override
  public boolean isExact() {
    return whole.isExact();
  }

  @Override
  public boolean isStateful() {
    return whole.isStateful();
  }

  @Override
  public boolean givesOneForEach() {
    return whole.givesOneForEach();
  }

  @Override
  public Evaluation open(int capacity) {
    Evaluation evaluation = whole.open(capacity); // its columns start at zero
    int[] visible =
        IntStream.range(0, whole.inputs().size())
            .filter(i -> !hidden.contains(whole.inputs().get(i).name()))
            .toArray();
    return new Evaluation() {
      @Override
      public long[] input(int operand, int word) {
        return evaluation.input(visible[operand], word);
      }

      @Override
      public void run(int count) {
        evaluation.run(count);
      }

      @Override
      public void renewBefore(int row) {
        evaluation.renewBefore(row);
      }

      @Override
      public int results(int row) {
        return evaluation.results(row);
      }

      @Override
      public long[] low(int output, int word) {
        return evaluation.low(output, word);
      }

      @Override
      public long[] high(int output, int word) {
        return evaluation.high(output, word);
      }
    };
  }
}
