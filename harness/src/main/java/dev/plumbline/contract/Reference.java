package dev.plumbline.contract;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import java.util.List;

/**
 * What a DUT is held to: for each case, the lowest and the highest code every output may have.
 *
 * <pre>{@code
 * Reference.exact(datapath)        // the bits of one declared micro-architecture
 * Reference.bounded(datapath)      // whatever its declared formats and roundings may give
 * Reference.of("gear ratio", inputs, outputs, (in, out) -> out[0] = in[0] * in[1] + in[2])
 * }</pre>
 *
 * <p>Implement it for a reference of another kind. Values travel by columns of codes, as in {@link
 * dev.plumbline.models.fixed.Format#words()} words, little end first, sign-extended when the format
 * is signed.
 */
public interface Reference {
  /**
   * A name for reports.
   *
   * @return the name
   */
  String name();

  /**
   * What a case consists of.
   *
   * @return operands in the order of {@link Evaluation#input}
   */
  List<Operand> inputs();

  /**
   * What it gives.
   *
   * @return operands in the order of {@link Evaluation#low}
   */
  List<Operand> outputs();

  /**
   * Whether it allows one code only, so that low and high are the same column.
   *
   * @return false when it gives bounds
   */
  boolean isExact();

  /**
   * Everything but operands that decides what it gives, for digests: with the same text and the
   * same compiled {@link #code} it gives the same.
   *
   * @return a text; the name, unless there is more to say
   */
  default String description() {
    return name();
  }

  /**
   * A class from where the compiled code is that evaluates it.
   *
   * @return this reference's own class, unless it asks another
   */
  default Class<?> code() {
    return getClass();
  }

  /**
   * Starts an evaluation for one thread.
   *
   * @param capacity most cases at a time
   * @return the evaluation
   */
  Evaluation open(int capacity);

  /** One thread's evaluation; allocates nothing while it runs. */
  interface Evaluation {
    /**
     * The column to fill before {@link #run}.
     *
     * @param operand index of the input
     * @param word which 64 bits, 0 the lowest
     * @return the same array every time
     */
    long[] input(int operand, int word);

    /**
     * Evaluates cases.
     *
     * @param count how many, from row 0
     */
    void run(int count);

    /**
     * The lowest code allowed, or the only one.
     *
     * @param output index of the output
     * @param word which 64 bits, 0 the lowest
     * @return the same array every time
     */
    long[] low(int output, int word);

    /**
     * The highest code allowed.
     *
     * @param output index of the output
     * @param word which 64 bits, 0 the lowest
     * @return the same array every time; that of {@link #low} when the reference is exact
     */
    long[] high(int output, int word);
  }

  /** Computes one case, for a reference without a datapath. */
  @FunctionalInterface
  interface CaseFunction {
    /**
     * Computes the outputs of a case.
     *
     * @param inputs codes, operand after operand, each in its words
     * @param outputs receives the codes in the same way; bits beyond a format are dropped
     */
    void compute(long[] inputs, long[] outputs);
  }

  /**
   * The bits that a datapath gives.
   *
   * @param datapath the description
   * @return the reference
   */
  static Reference exact(Datapath datapath) {
    return new DatapathReference(datapath, true);
  }

  /**
   * Everything that hardware with a datapath's formats and roundings may give.
   *
   * @param datapath the description
   * @return the reference
   */
  static Reference bounded(Datapath datapath) {
    return new DatapathReference(datapath, false);
  }

  /**
   * The codes that a function gives, case by case.
   *
   * @param name a name for reports
   * @param inputs what a case consists of
   * @param outputs what the function gives
   * @param function computes a case; called by several threads at once
   * @return the reference
   */
  static Reference of(
      String name, List<Operand> inputs, List<Operand> outputs, CaseFunction function) {
    return new FunctionReference(name, List.copyOf(inputs), List.copyOf(outputs), function);
  }
}
