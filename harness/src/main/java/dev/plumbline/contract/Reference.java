package dev.plumbline.contract;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * What a DUT is held to: for each case, the lowest and the highest code every output may have.
 *
 * <pre>{@code
 * Reference.exact(datapath)        // the bits of one declared micro-architecture
 * Reference.bounded(datapath)      // whatever its declared formats and roundings may give
 * Reference.of("gear ratio", inputs, outputs, (in, out) -> out[0] = in[0] * in[1] + in[2])
 * Reference.stateful("turn counter", inputs, outputs, () -> {
 *   long[] turns = new long[1];
 *   return (in, out) -> out[0] = turns[0] += in[0];
 * })
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
   * Whether what it gives for a case depends on the cases before. They then come to its evaluation
   * in the order in which the DUT accepted them, each once, and none that was not accepted.
   *
   * @return false when each case stands for itself
   */
  default boolean isStateful() {
    return false;
  }

  /**
   * Whether every case has exactly one result.
   *
   * @return false when a case may have none or several; cases then come to the evaluation as they
   *     do to one with state
   */
  default boolean givesOneForEach() {
    return true;
  }

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
   * The steps by which it computes, where it is made of such, whether in bits or in bounds; they
   * are held against signals inside a DUT that mismatches, and changed one by one to explain it.
   *
   * @return empty, unless a datapath describes it
   */
  default Optional<Datapath> steps() {
    return Optional.empty();
  }

  /**
   * The steps by which a DUT is known, or thought, to compute in bits: what changes of one step are
   * tried on.
   *
   * @return those of a datapath whose bits are promised, or what {@link #explainedBy} declares;
   *     empty otherwise
   */
  default Optional<Datapath> exactSteps() {
    return isExact() ? steps() : Optional.empty();
  }

  /**
   * What a DUT may compute instead, mistake by mistake, for a reference that is not made of steps.
   * They are tried where the DUT is wrong.
   *
   * @return none, unless somebody has thought of some; the likeliest first
   */
  default List<Suspect> suspects() {
    return List.of();
  }

  /**
   * The same reference beside a description of what hardware does, step by step. Verdicts rest on
   * this reference alone, as ever; where the hardware is wrong, its signals are held against those
   * steps, and changes of them are tried as explanations. It serves references in bounds, functions
   * and models with state alike.
   *
   * <pre>{@code
   * Reference.bounded(sphere.budgeted()).explainedBy(walkedSteps)
   * }</pre>
   *
   * @param datapath the steps, of the same operands in the same order and formats; with registers
   *     where this reference has state. What they give may differ from what this reference allows;
   *     explanations by them are then worth less
   * @return a reference that allows what this one allows
   * @throws ContractException when the operands differ
   */
  default Reference explainedBy(Datapath datapath) {
    return ExplainedReference.by(this, datapath);
  }

  /**
   * The same reference with what a DUT may compute instead, in the place of {@link #suspects} of
   * its own. Verdicts rest on this reference alone.
   *
   * @param suspects the mistakes, the likeliest first; of the same operands in the same order and
   *     formats
   * @return a reference that allows what this one allows
   * @throws ContractException when the operands of one differ
   */
  default Reference suspecting(List<Suspect> suspects) {
    return ExplainedReference.suspecting(this, suspects);
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
     * Says that a segment or a reset lies between the case in a row of the next {@link #run} and
     * the one before it: state begins anew there.
     *
     * @param row 0 or more, below the count of the next run
     */
    default void renewBefore(int row) {}

    /**
     * How many results a case of the last {@link #run} has. The results of one case stand behind
     * those of the case before.
     *
     * @param row of the case
     * @return 1, unless the reference gives none or several for a case
     */
    default int results(int row) {
      return 1;
    }

    /**
     * The lowest code allowed, or the only one.
     *
     * @param output index of the output
     * @param word which 64 bits, 0 the lowest
     * @return the same array every time; where cases may have several results it may be another
     *     after each {@link #run}
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
     * @param outputs receives the codes in the same way, zeros at first; bits beyond a format are
     *     dropped
     */
    void compute(long[] inputs, long[] outputs);
  }

  /** Computes between which codes the outputs of a case may lie. */
  @FunctionalInterface
  interface BoundsFunction {
    /**
     * Computes the bounds of a case, both inclusive.
     *
     * @param inputs codes, operand after operand, each in its words
     * @param least receives the least codes in the same way, zeros at first; bits beyond a format
     *     are dropped
     * @param greatest receives the greatest codes
     */
    void compute(long[] inputs, long[] least, long[] greatest);
  }

  /** Computes what follows from one case in a stream: no result, one, or several. */
  @FunctionalInterface
  interface StreamFunction {
    /**
     * Computes the results of a case.
     *
     * @param inputs codes, operand after operand, each in its words
     * @param results takes the results, in their order
     */
    void compute(long[] inputs, Results results);
  }

  /** Takes the results of a case. */
  interface Results {
    /**
     * Takes a result.
     *
     * @param codes of all outputs, operand after operand, each in its words; copied, without bits
     *     beyond a format. A model that keeps an array for them allocates nothing
     */
    void give(long... codes);

    /**
     * Takes a result of {@link Reference#statefulBoundedStream}, between two codes of each output,
     * both inclusive.
     *
     * @param least of all outputs, operand after operand, each in its words; copied
     * @param greatest in the same way
     */
    void giveBetween(long[] least, long[] greatest);
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
   * <p>It is asked twice about the first thousand cases of a segment. One that answers differently
   * has a memory, and is refused by a {@link ContractException} when the bench runs; {@link
   * #stateful} is for those.
   *
   * @param name a name for reports
   * @param inputs what a case consists of
   * @param outputs what the function gives
   * @param function computes a case from its operands alone; called by several threads at once
   * @return the reference
   */
  static Reference of(
      String name, List<Operand> inputs, List<Operand> outputs, CaseFunction function) {
    return new FunctionReference(name, List.copyOf(inputs), List.copyOf(outputs), function);
  }

  /**
   * The codes that a model with state gives, one result for each case: an accumulator, a filter, a
   * counter, a processor.
   *
   * <p>A model is made at the start of each segment and at each reset, also one in mid-stream. It
   * gets the cases which the DUT accepted since then, each once and in that order; one that is
   * accepted while reset is asserted may come to it as the last. Results that are due after a reset
   * are dropped by it. One thread asks a model at a time; models of several threads live side by
   * side, so that all they remember belongs inside the supplier. The first cases after a start go
   * to a second model as well, whose answers have to be the same; if they are not, the run ends
   * with a {@link ContractException}.
   *
   * @param name a name for reports
   * @param inputs what a case consists of
   * @param outputs what the model gives
   * @param models makes a model in the state that follows a reset, another one each time; called by
   *     several threads at once
   * @return the reference
   */
  static Reference stateful(
      String name,
      List<Operand> inputs,
      List<Operand> outputs,
      Supplier<? extends CaseFunction> models) {
    return StatefulReference.exact(name, List.copyOf(inputs), List.copyOf(outputs), models);
  }

  /**
   * The bounds that a model with state gives, one result for each case; otherwise as {@link
   * #stateful}.
   *
   * @param name a name for reports
   * @param inputs what a case consists of
   * @param outputs what the model gives bounds of
   * @param models makes a model in the state that follows a reset, another one each time; called by
   *     several threads at once
   * @return the reference
   */
  static Reference statefulBounded(
      String name,
      List<Operand> inputs,
      List<Operand> outputs,
      Supplier<? extends BoundsFunction> models) {
    return StatefulReference.bounded(name, List.copyOf(inputs), List.copyOf(outputs), models);
  }

  /**
   * The codes that a model gives which has none, one or several results for a case: a decimator, a
   * width adapter, what makes packets or takes them apart. The end of a packet is an output of one
   * bit like any other. Otherwise as {@link #stateful}.
   *
   * <p>The contract needs valid ports. Its latency counts from the case that makes the model give a
   * result; see {@link Contract.Builder#latencyBetween} for those that follow.
   *
   * @param name a name for reports
   * @param inputs what a case consists of
   * @param outputs what a result consists of
   * @param models makes a model in the state that follows a reset; called by several threads at
   *     once
   * @return the reference
   */
  static Reference statefulStream(
      String name,
      List<Operand> inputs,
      List<Operand> outputs,
      Supplier<? extends StreamFunction> models) {
    return new StatefulReference(
        name, List.copyOf(inputs), List.copyOf(outputs), true, false, models, models.getClass());
  }

  /**
   * The bounds that a model gives which has none, one or several results for a case; otherwise as
   * {@link #statefulStream}.
   *
   * @param name a name for reports
   * @param inputs what a case consists of
   * @param outputs what a result consists of
   * @param models makes a model in the state that follows a reset; called by several threads at
   *     once
   * @return the reference
   */
  static Reference statefulBoundedStream(
      String name,
      List<Operand> inputs,
      List<Operand> outputs,
      Supplier<? extends StreamFunction> models) {
    return new StatefulReference(
        name, List.copyOf(inputs), List.copyOf(outputs), false, false, models, models.getClass());
  }
}
