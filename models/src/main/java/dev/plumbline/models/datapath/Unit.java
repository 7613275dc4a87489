package dev.plumbline.models.datapath;

import java.util.Arrays;
import java.util.List;
import java.util.function.ToDoubleFunction;

/**
 * A whole datapath used as one step of another: in bits its own steps, ideally the real function it
 * approximates, in bounds that function within a declared error.
 *
 * <pre>{@code
 * Unit inverse = Unit.of(reciprocal, "y", x -> 1 / x[0], 1).exceptAt(0);
 * Value t = b.unit("inverse", inverse, direction);
 * }</pre>
 *
 * <p>The error is a promise about the datapath, in LSB of its output, which its own tests have to
 * hold it to; the function's result is first brought into the range of the output's format, as a
 * saturating unit does. The function is arithmetic of doubles: its result should be good to two LSB
 * of a double. Instances are immutable.
 */
public final class Unit {
  private final Datapath datapath;
  private final int output;
  private final ToDoubleFunction<double[]> function;
  private final double error;
  private final Enclosure enclosure;
  private final CodeBounds codeBounds; // or null: the enclosure, the error and the breaks tell
  private final double[] breaks;

  /** The real bounds of a function over a box of operands. */
  @FunctionalInterface
  public interface Enclosure {
    /**
     * Encloses the function, whose own arithmetic is included.
     *
     * @param low the least value of each operand
     * @param high the greatest value of each operand
     * @param ends takes the function's least and greatest value over the box. Values beyond the
     *     output's range, infinities among them, are brought to its nearer end: two ends of plus
     *     infinity are the greatest code alone. NaN leaves an end open: the least code for the
     *     first, the greatest for the second
     */
    void enclose(double[] low, double[] high, double[] ends);
  }

  /** The bounds of the codes of a unit of one operand, told for a block of cases. */
  @FunctionalInterface
  public interface CodeBounds {
    /**
     * Gives each case the least and the greatest code of the output. It allocates nothing, and may
     * be called by several threads.
     *
     * @param least the least code of the operand, by case
     * @param greatest the greatest code of the operand; the same column where it is always a point
     * @param low takes the least codes of the output, none beyond its format
     * @param high takes the greatest codes of the output
     * @param count cases to fill, from 0 on
     */
    void tell(long[] least, long[] greatest, long[] low, long[] high, int count);
  }

  private Unit(
      Datapath datapath,
      int output,
      ToDoubleFunction<double[]> function,
      double error,
      Enclosure enclosure,
      CodeBounds codeBounds,
      double... breaks) {
    this.datapath = datapath;
    this.output = output;
    this.function = function;
    this.error = error;
    this.enclosure = enclosure;
    this.codeBounds = codeBounds;
    this.breaks = breaks;
  }

  /**
   * A unit whose function is monotone in each operand over the whole of their formats.
   *
   * @param datapath what it does in bits
   * @param output the name of the output that the step takes
   * @param function the real function, from the operands in the order of the inputs; it must not
   *     keep the array
   * @param error how far the output may be from the function, in its LSB; 0 or more
   * @return a unit called as the datapath
   * @throws DatapathException when there is no such output, or the error is no such number
   */
  public static Unit of(
      Datapath datapath, String output, ToDoubleFunction<double[]> function, double error) {
    int index = datapath.outputs().stream().map(Operand::name).toList().indexOf(output);
    if (index < 0) {
      throw new DatapathException(
          "Unit from output \""
              + output
              + "\" of "
              + datapath.title()
              + ": its outputs are "
              + datapath.outputs());
    }
    if (!(error >= 0) || Double.isInfinite(error)) {
      throw new DatapathException(
          "Unit from "
              + datapath.title()
              + " with an error of "
              + error
              + " LSB: it has to be a number of 0 or more");
    }
    Enclosure corners = (low, high, ends) -> corners(function, low, high, ends);
    return new Unit(datapath, index, function, error, corners, null);
  }

  /**
   * The same unit, its function monotone only between some values, besides those it already has;
   * bounds that reach one of them from elsewhere are the whole range, whatever the rule.
   *
   * @param values of any operand, at which the function jumps or turns
   * @return a new unit
   */
  public Unit exceptAt(double... values) {
    double[] all = Arrays.copyOf(breaks, breaks.length + values.length);
    System.arraycopy(values, 0, all, breaks.length, values.length);
    return new Unit(datapath, output, function, error, enclosure, codeBounds, all);
  }

  /**
   * The same unit with a rule of its own for bounds, in place of the one it has; it is not asked
   * where {@link #exceptAt} applies.
   *
   * @param rule encloses the function over a box of operands
   * @return a new unit
   */
  public Unit enclosedBy(Enclosure rule) {
    return new Unit(datapath, output, function, error, rule, codeBounds, breaks);
  }

  /**
   * The same unit with its bounds told in codes, exactly and by columns: in place of the function,
   * the error and the values of {@link #exceptAt}, whenever it is declared. Doubles hold 53 bits of
   * a code, and a case at a time takes time.
   *
   * @param rule for the one operand
   * @return a new unit
   * @throws DatapathException when the unit has several operands, or one of 64 unsigned bits or
   *     more, or gives as many
   */
  public Unit boundedBy(CodeBounds rule) {
    List<Value> inputs = datapath.inputValues();
    if (inputs.size() != 1 || inputs.get(0).wide() || outputValue().wide()) {
      throw new DatapathException(
          "Unit "
              + this
              + " bounded by codes, with operands "
              + datapath.inputs()
              + ": it has to have one, and both within a signed word of 64 bits; take enclosedBy");
    }
    return new Unit(datapath, output, function, error, enclosure, rule, breaks);
  }

  /**
   * What the unit does in bits.
   *
   * @return the datapath
   */
  public Datapath datapath() {
    return datapath;
  }

  /**
   * The output that the step takes.
   *
   * @return its name and format
   */
  public Operand output() {
    return datapath.outputs().get(output);
  }

  /**
   * How far the output may be from the function.
   *
   * @return LSB of the output, 0 or more
   */
  public double error() {
    return error;
  }

  /** The datapath's name and the output. */
  @Override
  public String toString() {
    return datapath.name() + "." + output();
  }

  Value outputValue() {
    return datapath.outputValues().get(output);
  }

  double apply(double[] operands) {
    return function.applyAsDouble(operands);
  }

  /** Null where the function tells. */
  CodeBounds codeBounds() {
    return codeBounds;
  }

  /** The function over a box of operands; whole range where a break is reached from elsewhere. */
  void enclose(double[] low, double[] high, double[] ends) {
    for (double at : breaks) {
      for (int i = 0; i < low.length; i++) {
        if (low[i] < high[i] && low[i] <= at && at <= high[i]) {
          ends[0] = Double.NEGATIVE_INFINITY;
          ends[1] = Double.POSITIVE_INFINITY;
          return;
        }
      }
    }
    enclosure.enclose(low, high, ends);
  }

  /** A function monotone in each operand has its extremes at corners; visits them in place. */
  private static void corners(
      ToDoubleFunction<double[]> function, double[] low, double[] high, double[] ends) {
    if (Arrays.equals(low, high)) {
      ends[0] = function.applyAsDouble(low);
      ends[1] = ends[0];
      return;
    }
    ends[0] = Double.POSITIVE_INFINITY;
    ends[1] = Double.NEGATIVE_INFINITY;
    for (int corner = 0; corner < 1 << low.length; corner++) {
      swap(low, high, corner);
      double value = function.applyAsDouble(low);
      swap(low, high, corner);
      ends[0] = Math.min(ends[0], value);
      ends[1] = Math.max(ends[1], value);
    }
  }

  private static void swap(double[] low, double[] high, int which) {
    for (int i = 0; i < low.length; i++) {
      if ((which >> i & 1) != 0) {
        double other = low[i];
        low[i] = high[i];
        high[i] = other;
      }
    }
  }
}
