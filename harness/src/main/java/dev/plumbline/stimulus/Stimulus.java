package dev.plumbline.stimulus;

import dev.plumbline.models.datapath.Operand;
import java.util.List;
import java.util.Map;
import java.util.OptionalLong;

/**
 * What a bench feeds to its DUT: cases, each a value for every operand.
 *
 * <pre>{@code
 * Stimulus.mix(
 *     Share.of(8, Stimulus.standard()),
 *     Share.of(2, Stimulus.each(Generator.lattice(-2, 2, 0.5)).with("inverse_x", Generator.values(1, -1))))
 * }</pre>
 *
 * <p>A stimulus is a description and may be shared; {@link #open} gives one thread's source. What a
 * source fills depends on its seed, its first case and how many cases came before, not on how they
 * were cut into calls.
 */
@FunctionalInterface
public interface Stimulus {
  /**
   * Starts a source for one thread.
   *
   * @param operands the operands in order
   * @param seed the seed
   * @param firstCase the number of its first case in the whole run; matters to listed cases only
   * @return the source
   */
  Source open(List<Operand> operands, long seed, long firstCase);

  /**
   * How many cases there are before they repeat.
   *
   * @param operands the operands in order
   * @return the number, or empty when cases are drawn by chance
   */
  default OptionalLong size(List<Operand> operands) {
    return OptionalLong.empty();
  }

  /**
   * The same with one operand drawn by another generator.
   *
   * @param operand the operand's name; an unknown one is refused when the stimulus is opened
   * @param generator how it is drawn
   * @return the stimulus
   */
  default Stimulus with(String operand, Generator generator) {
    return new OverlaidStimulus(this, Map.of(operand, generator));
  }

  /** One thread's run through a stimulus. */
  @FunctionalInterface
  interface Source {
    /**
     * Fills the next cases; allocates nothing.
     *
     * @param columns indexed by operand, word (little end first) and row
     * @param from first row, inclusive
     * @param to last row, exclusive
     */
    void fill(long[][][] columns, int from, int to);

    /**
     * Begins anew, from here on as a source that is opened with these; a source that can do so is
     * not made anew for each segment of a run.
     *
     * @param seed the seed
     * @param firstCase the number of its first case in the whole run
     * @return false where it cannot, as unless overridden; it is used no more then
     */
    default boolean restart(long seed, long firstCase) {
      return false;
    }
  }

  /** Draws one case at a time, for operands that depend on each other. */
  @FunctionalInterface
  interface Draw {
    /**
     * Draws the next case.
     *
     * @param stream the only source of chance
     * @param words receives the codes: operand after operand, each in its words, little end first;
     *     bits beyond a format are dropped
     */
    void next(RandomStream stream, long[] words);
  }

  /**
   * Every operand drawn on its own, all by the same generator.
   *
   * @param generator how each is drawn
   * @return the stimulus
   */
  static Stimulus each(Generator generator) {
    return new OperandStimulus(generator, Map.of());
  }

  /**
   * What is used when no stimulus is set: every operand drawn by {@link Generator#standard}.
   *
   * @return the stimulus
   */
  static Stimulus standard() {
    return each(Generator.standard());
  }

  /**
   * Cases that a function of yours draws, all operands together.
   *
   * @param draw draws a case
   * @return the stimulus
   */
  static Stimulus drawn(Draw draw) {
    return (operands, seed, firstCase) -> new DrawnCases(operands, draw, seed);
  }

  /**
   * Given cases in order, again from the start when they run out.
   *
   * @param cases one or more; each has the words of every operand, as in {@link Draw}
   * @return the stimulus
   */
  static Stimulus listed(long[]... cases) {
    return new ListedCases(cases);
  }

  /**
   * Every combination of codes of all operands in order, the last operand changing fastest.
   *
   * @return the stimulus; operands of more than 40 bits together are refused when it is opened
   */
  static Stimulus exhaustive() {
    return new ExhaustiveCases();
  }

  /**
   * A weighted mix; a part is chosen anew every 1 to 64 cases.
   *
   * @param shares one or more
   * @return the stimulus
   */
  @SafeVarargs
  @SuppressWarnings("varargs")
  static Stimulus mix(Share<Stimulus>... shares) {
    return new MixedStimulus(List.of(shares));
  }
}
