package dev.plumbline.contract;

import dev.plumbline.models.datapath.Operand;
import java.util.Arrays;
import java.util.List;
import java.util.function.Supplier;

/**
 * The references with state: a model is made where cases begin anew, and asked case by case. The
 * first cases of a run that begins anew are gone through again with another model, since models
 * that share state would blame a DUT that is right, and another one each time.
 *
 * @param exact whether it gives one code only
 * @param oneForEach whether each case has one result
 * @param models makes a model
 * @param code from where the compiled code is
 */
record StatefulReference(
    String name,
    List<Operand> inputs,
    List<Operand> outputs,
    boolean exact,
    boolean oneForEach,
    Supplier<? extends StreamFunction> models,
    Class<?> code)
    implements Reference {
  /** Most cases that are gone through again. */
  private static final int REPEATED = 256;

  /** Most results of the cases of a run; more could not leave a DUT in the cycles of a block. */
  private static final int MOST_RESULTS = 1 << 18;

  static StatefulReference exact(
      String name,
      List<Operand> inputs,
      List<Operand> outputs,
      Supplier<? extends CaseFunction> models) {
    int words = new CaseColumns(outputs, 1).words();
    Supplier<StreamFunction> each =
        () -> {
          CaseFunction model = models.get();
          long[] codes = new long[words];
          return (in, results) -> {
            Arrays.fill(codes, 0);
            model.compute(in, codes);
            results.give(codes);
          };
        };
    return new StatefulReference(name, inputs, outputs, true, true, each, models.getClass());
  }

  static StatefulReference bounded(
      String name,
      List<Operand> inputs,
      List<Operand> outputs,
      Supplier<? extends BoundsFunction> models) {
    int words = new CaseColumns(outputs, 1).words();
    Supplier<StreamFunction> each =
        () -> {
          BoundsFunction model = models.get();
          long[] least = new long[words];
          long[] greatest = new long[words];
          return (in, results) -> {
            Arrays.fill(least, 0);
            Arrays.fill(greatest, 0);
            model.compute(in, least, greatest);
            results.giveBetween(least, greatest);
          };
        };
    return new StatefulReference(name, inputs, outputs, false, true, each, models.getClass());
  }

  @Override
  public boolean isExact() {
    return exact;
  }

  @Override
  public boolean isStateful() {
    return true;
  }

  @Override
  public boolean givesOneForEach() {
    return oneForEach;
  }

  @Override
  public Evaluation open(int capacity) {
    return new StatefulEvaluation(capacity);
  }

  /** Results in the order in which they were given. */
  private final class Given implements Results {
    final CaseColumns low;
    final CaseColumns high;
    private final int words;
    int count;

    Given(int capacity) {
      low = new CaseColumns(outputs, capacity);
      high = exact ? low : new CaseColumns(outputs, capacity);
      words = low.words();
    }

    @Override
    public void give(long... codes) {
      requireWords(codes);
      put(codes, codes);
    }

    @Override
    public void giveBetween(long[] least, long[] greatest) {
      if (exact) {
        throw new ContractException(
            "Reference \""
                + name
                + "\" is exact and gave a range; one code is allowed for each output. Declare it by"
                + " Reference.statefulBoundedStream.");
      }
      requireWords(least);
      requireWords(greatest);
      put(least, greatest);
    }

    private void put(long[] least, long[] greatest) {
      if (count == MOST_RESULTS) {
        throw new ContractException(
            "Reference \""
                + name
                + "\" gave more than "
                + MOST_RESULTS
                + " results for the cases of a thousand cycles; a DUT gives one a cycle. Have cases"
                + " come farther apart by cyclesBetweenInputs(...) or ready(...).");
      }
      if (count == low.capacity()) {
        low.grow(2 * count);
        if (!exact) {
          high.grow(2 * count);
        }
      }
      low.scatter(least, count);
      if (!exact) {
        high.scatter(greatest, count);
      }
      count++;
    }

    private void requireWords(long[] codes) {
      if (codes.length != words) {
        throw new ContractException(
            "Reference \""
                + name
                + "\" gave a result of "
                + codes.length
                + " words; its outputs have "
                + words
                + ". Give the codes of all outputs in turn, 64 bits a word, the lowest first.");
      }
    }

    boolean isSame(Given others) {
      for (int row = 0; row < count; row++) {
        if (!low.isSame(row, others.low, row) || !high.isSame(row, others.high, row)) {
          return false;
        }
      }
      return true;
    }
  }

  private final class StatefulEvaluation implements Evaluation {
    private final CaseColumns in;
    private final long[] inWords;
    private final boolean[] begins; // by row
    private final int[] results; // by row
    private final Given given;
    private final Given again;
    private StreamFunction model = models.get();

    StatefulEvaluation(int capacity) {
      in = new CaseColumns(inputs, capacity);
      inWords = new long[in.words()];
      begins = new boolean[capacity];
      results = new int[capacity];
      given = new Given(capacity);
      again = new Given(REPEATED);
    }

    @Override
    public long[] input(int operand, int word) {
      return in.columns[operand][word];
    }

    @Override
    public void renewBefore(int row) {
      begins[row] = true;
    }

    @Override
    public void run(int count) {
      given.count = 0;
      for (int row = 0; row < count; row++) {
        if (begins[row]) {
          model = models.get();
        }
        int before = given.count;
        compute(model, row, given);
        results[row] = given.count - before;
      }
      if (count > 0 && begins[0]) {
        repeat(count);
      }
      Arrays.fill(begins, 0, count, false);
    }

    private void compute(StreamFunction asked, int row, Given into) {
      in.gather(row, inWords);
      asked.compute(inWords, into);
    }

    /** Goes through the first cases again. */
    private void repeat(int count) {
      StreamFunction another = models.get();
      again.count = 0;
      int expected = 0;
      for (int row = 0; row < Math.min(count, REPEATED) && (row == 0 || !begins[row]); row++) {
        compute(another, row, again);
        expected += results[row];
        if (again.count != expected) {
          throw new ContractException(differs());
        }
      }
      if (!again.isSame(given)) {
        throw new ContractException(differs());
      }
    }

    private String differs() {
      return "Reference \""
          + name
          + "\" gave other results when the same cases came to a new model: its models share what"
          + " they remember, or draw by chance. What a model gives may depend on the cases since it"
          + " was made alone. Make all its state inside the supplier.";
    }

    @Override
    public int results(int row) {
      return results[row];
    }

    @Override
    public long[] low(int output, int word) {
      return given.low.columns[output][word];
    }

    @Override
    public long[] high(int output, int word) {
      return given.high.columns[output][word];
    }
  }
}
