package dev.plumbline.contract;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import java.util.List;

/**
 * {@link Reference#of}: gathers a case from the columns, calls the function, scatters the result.
 */
record FunctionReference(
    String name, List<Operand> inputs, List<Operand> outputs, CaseFunction function)
    implements Reference {
  @Override
  public boolean isExact() {
    return true;
  }

  @Override
  public Class<?> code() {
    return function.getClass();
  }

  @Override
  public Evaluation open(int capacity) {
    return new FunctionEvaluation(capacity);
  }

  static long[][][] columns(List<Operand> operands, int capacity) {
    return operands.stream()
        .map(operand -> new long[operand.format().words()][capacity])
        .toArray(long[][][]::new);
  }

  private final class FunctionEvaluation implements Evaluation {
    private final long[][][] in;
    private final long[][][] out;
    private final long[] inWords;
    private final long[] outWords;

    FunctionEvaluation(int capacity) {
      in = columns(inputs, capacity);
      out = columns(outputs, capacity);
      inWords = new long[inputs.stream().mapToInt(o -> o.format().words()).sum()];
      outWords = new long[outputs.stream().mapToInt(o -> o.format().words()).sum()];
    }

    @Override
    public long[] input(int operand, int word) {
      return in[operand][word];
    }

    @Override
    public void run(int count) {
      for (int row = 0; row < count; row++) {
        int at = 0;
        for (long[][] words : in) {
          for (long[] column : words) {
            inWords[at++] = column[row];
          }
        }
        function.compute(inWords, outWords);
        at = 0;
        for (int o = 0; o < out.length; o++) {
          Format format = outputs.get(o).format();
          int words = out[o].length;
          for (int w = 0; w < words; w++) {
            int drop = w == words - 1 ? 64 * words - format.width() : 0;
            long shifted = outWords[at++] << drop;
            out[o][w][row] = format.signed() ? shifted >> drop : shifted >>> drop;
          }
        }
      }
    }

    @Override
    public long[] low(int output, int word) {
      return out[output][word];
    }

    @Override
    public long[] high(int output, int word) {
      return out[output][word];
    }
  }
}
