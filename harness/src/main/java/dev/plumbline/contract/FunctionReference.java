package dev.plumbline.contract;

import dev.plumbline.models.datapath.Operand;
import java.util.Arrays;
import java.util.List;

/**
 * {@link Reference#of}: gathers a case from the columns, calls the function, scatters the result.
 * Where cases begin anew it asks twice, since a function that remembers would blame a DUT that is
 * right, and another one each time.
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

  private final class FunctionEvaluation implements Evaluation {
    private final CaseColumns in;
    private final CaseColumns out;
    private final CaseColumns again;
    private final long[] inWords;
    private final long[] outWords;
    private boolean isAsked = true;

    FunctionEvaluation(int capacity) {
      in = new CaseColumns(inputs, capacity);
      out = new CaseColumns(outputs, capacity);
      again = new CaseColumns(outputs, 1);
      inWords = new long[in.words()];
      outWords = new long[out.words()];
    }

    @Override
    public long[] input(int operand, int word) {
      return in.columns[operand][word];
    }

    @Override
    public void renewBefore(int row) {
      isAsked = true;
    }

    @Override
    public void run(int count) {
      for (int row = 0; row < count; row++) {
        compute(row, out, row);
      }
      for (int row = 0; isAsked && row < count; row++) {
        compute(row, again, 0);
        if (!again.isSame(0, out, row)) {
          throw new ContractException(differs(row));
        }
      }
      isAsked &= count == 0;
    }

    private void compute(int row, CaseColumns into, int at) {
      in.gather(row, inWords);
      Arrays.fill(outWords, 0);
      function.compute(inWords, outWords);
      into.scatter(outWords, at);
    }

    private String differs(int row) {
      in.gather(row, inWords);
      return "Reference \""
          + name
          + "\" gave two results for the same operands, "
          + Arrays.toString(inWords)
          + " in words: it is no function of them, but remembers or draws by chance. Reference.of"
          + " takes functions of a case's operands alone. Use Reference.stateful for a block with"
          + " state: its model is made anew at every reset.";
    }

    @Override
    public long[] low(int output, int word) {
      return out.columns[output][word];
    }

    @Override
    public long[] high(int output, int word) {
      return out.columns[output][word];
    }
  }
}
