package dev.plumbline.stimulus;

import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;
import java.util.List;

/**
 * How the values of one operand are drawn, in bulk, for whatever format the operand has.
 *
 * <pre>{@code
 * Stimulus.each(Generator.uniform())
 *     .with("divisor", Generator.mix(Share.of(3, Generator.logarithmic()), Share.of(1, Generator.corners())))
 * }</pre>
 *
 * <p>A generator is a description and may be shared; {@link #open} gives one thread's source. Codes
 * are integers in units of the format's LSB; a column holds them sign-extended when the format is
 * signed, in {@link Format#words()} words, little end first. What a source fills depends on its
 * seed and on how many cases came before, not on how they were cut into calls.
 */
@FunctionalInterface
public interface Generator {
  /**
   * Starts a source for one thread.
   *
   * @param format the operand's format
   * @param seed the seed
   * @return the source, at its first case
   */
  Source open(Format format, long seed);

  /** One thread's run through a generator. */
  @FunctionalInterface
  interface Source {
    /**
     * Fills the next cases; allocates nothing.
     *
     * @param words the operand's columns, one a word, little end first
     * @param from first row, inclusive
     * @param to last row, exclusive
     */
    void fill(long[][] words, int from, int to);
  }

  /** Draws one value at a time, for what the ready-made generators do not offer. */
  @FunctionalInterface
  interface Draw {
    /**
     * Draws the next code.
     *
     * @param stream the only source of chance
     * @return the code; bits beyond the format are dropped
     */
    long next(RandomStream stream);
  }

  /**
   * Every code of the format, each equally likely.
   *
   * @return the generator
   */
  static Generator uniform() {
    return UniformSource::open;
  }

  /**
   * Codes of a range, each equally likely.
   *
   * @param low lowest code, inclusive
   * @param high highest code, inclusive; less than 2^61 above the lowest
   * @return the generator; ends outside an operand's format are refused when it is opened
   */
  static Generator uniform(long low, long high) {
    return RangeSource.generator(low, high);
  }

  /**
   * Values of a range, each code equally likely; the ends are moved inwards to the next code.
   *
   * @param low lowest value, inclusive
   * @param high highest value, inclusive
   * @return the generator; ends outside an operand's format are refused when it is opened
   */
  static Generator between(double low, double high) {
    return RangeSource.generator(low, high);
  }

  /**
   * Magnitudes of every size, each number of significant bits equally likely, zero and both signs
   * included; small values come as often as large ones.
   *
   * @return the generator
   */
  static Generator logarithmic() {
    return LogarithmicSource::new;
  }

  /**
   * The codes at which formats break: both ends and their neighbours, 0 and its neighbours, powers
   * of two and their neighbours, alternating bits.
   *
   * @return the generator
   */
  static Generator corners() {
    return (format, seed) -> new ChoiceSource(Corners.table(format), seed);
  }

  /**
   * One bit set, from the lowest to the highest, again and again.
   *
   * @return the generator
   */
  static Generator walkingOnes() {
    return (format, seed) -> new WalkingSource(format);
  }

  /**
   * Given codes, each equally likely.
   *
   * @param codes one or more; a code outside an operand's format is refused when it is opened
   * @return the generator
   */
  static Generator codes(long... codes) {
    return ChoiceSource.ofCodes(codes);
  }

  /**
   * Given values, each equally likely.
   *
   * @param values one or more; a value that is no code of an operand's format is refused when it is
   *     opened
   * @return the generator
   */
  static Generator values(double... values) {
    return ChoiceSource.ofValues(values);
  }

  /**
   * The points of a coarse grid, each equally likely, so that operands often coincide.
   *
   * @param low lowest value, inclusive
   * @param high highest value; the last point is at or below it
   * @param step distance of the points, above 0
   * @return the generator; points that are no codes of an operand's format are refused when it is
   *     opened
   */
  static Generator lattice(double low, double high, double step) {
    return ChoiceSource.ofLattice(low, high, step);
  }

  /**
   * Values that a function of yours draws; for operands of at most 64 bits.
   *
   * @param draw draws a code
   * @return the generator
   */
  static Generator drawn(Draw draw) {
    return (format, seed) -> new DrawnSource(format, draw, seed);
  }

  /**
   * A weighted mix; a part is chosen anew every 1 to 64 cases.
   *
   * @param shares one or more
   * @return the generator
   */
  @SafeVarargs
  @SuppressWarnings("varargs")
  static Generator mix(Share<Generator>... shares) {
    List<Share<Generator>> parts = List.of(shares);
    Chooser.check(parts);
    return (format, seed) -> new MixedSource(format, parts, seed);
  }

  /**
   * What is used when no generator is set: mostly uniform, then magnitudes of every size, corners
   * and walking ones.
   *
   * @return the generator
   */
  static Generator standard() {
    return mix(
        Share.of(10, uniform()),
        Share.of(5, logarithmic()),
        Share.of(4, corners()),
        Share.of(1, walkingOnes()));
  }

  /**
   * The corner codes of a format, in ascending order.
   *
   * @param format the format
   * @return codes without repetition, never empty
   */
  static List<BigInteger> cornersOf(Format format) {
    return Corners.of(format);
  }
}
