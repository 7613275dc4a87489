package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * A block of arithmetic described once, as named steps on formatted numbers, and evaluated three
 * ways: as bits, as bounds, as ideal reals.
 *
 * <pre>{@code
 * Datapath.Builder b = Datapath.named("blend");
 * Value x = b.input("x", Format.signed(16, 16));
 * Value y = b.input("y", Format.signed(16, 16));
 * Value t = b.input("t", Format.unsigned(1, 15));
 * Value step = b.subtract("step", y, x);
 * Value product = b.multiply("product", step, t);
 * Value rounded =
 *     b.convert("rounded", product, Format.signed(16, 16), Rounding.DOWN, Overflow.SATURATE);
 * b.output("offset", rounded);
 * Datapath blend = b.build();
 * }</pre>
 *
 * <p>Each step's range and width follow from those before it, and points are aligned exactly. A
 * value takes one column where its codes fit a signed 64-bit word and two up to 128 bits; beyond, a
 * {@link DatapathException} names the step. A datapath is immutable and may be shared by threads;
 * each thread makes evaluations of its own.
 */
public final class Datapath {
  private final String name;
  private final List<Value> values;
  private final Map<String, Value> byName = new LinkedHashMap<>();
  private final List<Operand> inputs = new ArrayList<>();
  private final List<Value> inputValues = new ArrayList<>();
  private final List<Operand> outputs = new ArrayList<>();
  private final List<Value> outputValues = new ArrayList<>();

  private Datapath(String name, List<Value> values, Map<String, Value> outputs) {
    this.name = name;
    this.values = List.copyOf(values);
    for (Value value : values) {
      if (!value.hidden()) {
        byName.put(value.name(), value);
      }
      if (value.step() instanceof Input) {
        inputValues.add(value);
        inputs.add(new Operand(value.name(), value.format()));
      }
    }
    outputs.forEach(
        (output, value) -> {
          outputValues.add(value);
          this.outputs.add(new Operand(output, value.format()));
        });
  }

  /**
   * Begins a description.
   *
   * @param name what to call the datapath in tables and messages
   * @return a builder
   */
  public static Builder named(String name) {
    return new Builder(name);
  }

  /**
   * The name.
   *
   * @return as described
   */
  public String name() {
    return name;
  }

  /**
   * The inputs in the order of their description.
   *
   * @return an unmodifiable list
   */
  public List<Operand> inputs() {
    return List.copyOf(inputs);
  }

  /**
   * The outputs in the order of their description.
   *
   * @return an unmodifiable list
   */
  public List<Operand> outputs() {
    return List.copyOf(outputs);
  }

  /**
   * Every step by name and format, in the order of evaluation, inputs and constants among them;
   * steps inside a unit stand before it as {@code "unit.step"}.
   *
   * @return the names that {@link BitEvaluation#step} takes
   */
  public List<Operand> steps() {
    List<Operand> steps = new ArrayList<>();
    byName.forEach((step, value) -> steps.add(new Operand(step, value.format())));
    return steps;
  }

  /**
   * Makes an evaluation in bits.
   *
   * @param capacity cases in a block; about a thousand stay in cache
   * @return columns and loops of its own
   */
  public BitEvaluation bits(int capacity) {
    return new BitEvaluation(this, checkedCapacity(capacity));
  }

  /**
   * Makes an evaluation in bounds.
   *
   * @param capacity cases in a block; about a thousand stay in cache
   * @return columns and loops of its own
   * @throws DatapathException when a step has a meaning in bits only
   */
  public BoundsEvaluation bounds(int capacity) {
    refuseBitsOnly("bounds");
    return new BoundsEvaluation(this, checkedCapacity(capacity));
  }

  /**
   * Makes an evaluation in reals.
   *
   * @param capacity cases in a block; about a thousand stay in cache
   * @return columns and loops of its own
   * @throws DatapathException when a step has a meaning in bits only
   */
  public IdealEvaluation ideal(int capacity) {
    refuseBitsOnly("an ideal");
    return new IdealEvaluation(this, checkedCapacity(capacity));
  }

  /**
   * The datapath as a table: each step with its formula, format and range.
   *
   * @return lines of text
   */
  public String table() {
    return new TablePrinter(this).print();
  }

  /** The table. */
  @Override
  public String toString() {
    return table();
  }

  String title() {
    return "datapath \"" + name + "\"";
  }

  List<Value> values() {
    return values;
  }

  List<Value> inputValues() {
    return inputValues;
  }

  List<Value> outputValues() {
    return outputValues;
  }

  Value value(String step) {
    Value value = byName.get(step);
    if (value == null) {
      throw new DatapathException(
          "step \"" + step + "\" of " + title() + ": there are " + byName.keySet());
    }
    return value;
  }

  private int checkedCapacity(int capacity) {
    if (capacity < 1) {
      throw new DatapathException(
          "evaluation of " + title() + " for " + capacity + " cases: it takes 1 or more");
    }
    return capacity;
  }

  private void refuseBitsOnly(String wanted) {
    for (Value value : values) {
      if (value.step().bitsOnly()) {
        throw new DatapathException(
            "no "
                + wanted.replace("an ", "")
                + " for step \""
                + value.name()
                + "\" ("
                + value.step().formula()
                + ") of "
                + title()
                + ": it has a meaning in bits only; wrap the steps that approximate a function"
                + " into a Unit and use that as one step");
      }
    }
  }

  /**
   * Describes a datapath step by step.
   *
   * <p>Every method that names a step gives its value; names are letters, digits and underscores,
   * each used once. Values belong to the builder that made them. What cannot be built is a {@link
   * DatapathException} that names the step.
   */
  public static final class Builder {
    private final Assembly steps;

    private Builder(String name) {
      steps = new Assembly(this, name);
    }

    /**
     * An input that may take every code of its format.
     *
     * @param name its name
     * @param format its format; up to 127 bits when unsigned
     * @return the value
     */
    public Value input(String name, Format format) {
      return steps.input(name, format, Range.of(format));
    }

    /**
     * An input with a legal range; a code outside it is refused when a block is run.
     *
     * @param name its name
     * @param format its format
     * @param min the lowest legal code
     * @param max the highest legal code
     * @return the value
     */
    public Value input(String name, Format format, BigInteger min, BigInteger max) {
      return steps.input(name, format, new Range(min, max));
    }

    /**
     * A code that never changes.
     *
     * @param name its name
     * @param format its format
     * @param code the code, in last places of the format
     * @return the value
     */
    public Value constant(String name, Format format, long code) {
      return constant(name, format, BigInteger.valueOf(code));
    }

    /**
     * A code that never changes.
     *
     * @param name its name
     * @param format its format
     * @param code the code, in last places of the format
     * @return the value
     */
    public Value constant(String name, Format format, BigInteger code) {
      return steps.constant(name, format, code);
    }

    /**
     * The exact sum.
     *
     * @param name of the step
     * @param a a value
     * @param b a value
     * @return a + b
     */
    public Value add(String name, Value a, Value b) {
      List<Value> pair = steps.aligned(name, a, b);
      return steps.append(name, () -> new Add(pair.get(0), pair.get(1)));
    }

    /**
     * The exact difference.
     *
     * @param name of the step
     * @param a a value
     * @param b a value
     * @return a - b
     */
    public Value subtract(String name, Value a, Value b) {
      List<Value> pair = steps.aligned(name, a, b);
      return steps.append(name, () -> new Subtract(pair.get(0), pair.get(1)));
    }

    /**
     * The exact product; a value times itself is known never to be negative.
     *
     * @param name of the step
     * @param a a value
     * @param b a value
     * @return a * b
     */
    public Value multiply(String name, Value a, Value b) {
      steps.mine(name, a, b);
      return steps.append(name, () -> new Multiply(a, b));
    }

    /**
     * The value with the other sign, exact.
     *
     * @param name of the step
     * @param value a value
     * @return -value
     */
    public Value negate(String name, Value value) {
      steps.mine(name, value);
      return steps.append(name, () -> new Negate(value));
    }

    /**
     * The magnitude, exact.
     *
     * @param name of the step
     * @param value a value
     * @return |value|
     */
    public Value absolute(String name, Value value) {
      steps.mine(name, value);
      return steps.append(name, () -> new Absolute(value));
    }

    /**
     * Times a power of two by moving the point: the code stays.
     *
     * @param name of the step
     * @param value a value
     * @param exponent of two, of either sign
     * @return value * 2<sup>exponent</sup>
     */
    public Value scale(String name, Value value, int exponent) {
      steps.mine(name, value);
      return steps.append(name, () -> new Scale(value, exponent));
    }

    /**
     * The same value with more fraction bits, exact.
     *
     * @param name of the step
     * @param value a value
     * @param fractionBits as many as it has, or more
     * @return the value with its code shifted to the left
     */
    public Value extend(String name, Value value, int fractionBits) {
      steps.mine(name, value);
      steps.require(
          fractionBits >= value.fractionBits(),
          name,
          "extends " + value + " to " + fractionBits + " fraction bits",
          "as many as it has, or more",
          "drop bits with convert");
      return steps.append(name, () -> new Align(value, fractionBits, null));
    }

    /**
     * Brings a value into a format: rounds it, then wraps or saturates it.
     *
     * @param name of the step
     * @param value a value
     * @param format what to bring it into; it drops at most 127 fraction bits
     * @param rounding for values between two codes
     * @param overflow for values beyond the range
     * @return a value of that format
     */
    public Value convert(
        String name, Value value, Format format, Rounding rounding, Overflow overflow) {
      return steps.convert(name, value, format, rounding, overflow);
    }

    /**
     * Shifts to the left by a value, exact.
     *
     * @param name of the step
     * @param value what to shift
     * @param places an integer, never negative
     * @return value * 2<sup>places</sup>
     */
    public Value shiftLeft(String name, Value value, Value places) {
      steps.places(name, value, places);
      return steps.append(name, () -> new Shift(value, places, true));
    }

    /**
     * Shifts to the right by a value and drops the bits below the last place (floor).
     *
     * @param name of the step
     * @param value what to shift; it keeps its format's last place
     * @param places an integer, never negative
     * @return value / 2<sup>places</sup>
     */
    public Value shiftRight(String name, Value value, Value places) {
      steps.places(name, value, places);
      return steps.append(name, () -> new Shift(value, places, false));
    }

    /**
     * Whether a value is below another.
     *
     * @param name of the step
     * @param a a value
     * @param b a value
     * @return the bit a &lt; b
     */
    public Value lessThan(String name, Value a, Value b) {
      return steps.compare(name, Compare.Relation.LESS, a, b);
    }

    /**
     * Whether a value is at most another.
     *
     * @param name of the step
     * @param a a value
     * @param b a value
     * @return the bit a &lt;= b
     */
    public Value atMost(String name, Value a, Value b) {
      return steps.compare(name, Compare.Relation.AT_MOST, a, b);
    }

    /**
     * Whether two values are equal.
     *
     * @param name of the step
     * @param a a value
     * @param b a value
     * @return the bit a == b
     */
    public Value equal(String name, Value a, Value b) {
      return steps.compare(name, Compare.Relation.EQUAL, a, b);
    }

    /**
     * Both of two bits.
     *
     * @param name of the step
     * @param a a bit
     * @param b a bit
     * @return a and b
     */
    public Value and(String name, Value a, Value b) {
      steps.requireBits(name, a, b);
      return steps.append(name, () -> new Logic(Logic.Kind.AND, a, b));
    }

    /**
     * Either of two bits.
     *
     * @param name of the step
     * @param a a bit
     * @param b a bit
     * @return a or b
     */
    public Value or(String name, Value a, Value b) {
      steps.requireBits(name, a, b);
      return steps.append(name, () -> new Logic(Logic.Kind.OR, a, b));
    }

    /**
     * The other of a bit.
     *
     * @param name of the step
     * @param a a bit
     * @return not a
     */
    public Value not(String name, Value a) {
      steps.requireBits(name, a);
      return steps.append(name, () -> new Logic(Logic.Kind.NOT, a));
    }

    /**
     * One of two values, chosen by a bit; two of one format stay in it.
     *
     * @param name of the step
     * @param condition a bit
     * @param whenTrue taken at 1
     * @param whenFalse taken at 0
     * @return condition ? whenTrue : whenFalse
     */
    public Value select(String name, Value condition, Value whenTrue, Value whenFalse) {
      steps.requireBits(name, condition);
      List<Value> pair = steps.aligned(name, whenTrue, whenFalse);
      return steps.append(name, () -> new Select(condition, pair.get(0), pair.get(1)));
    }

    /**
     * The smaller of two values; two of one format stay in it.
     *
     * @param name of the step
     * @param a a value
     * @param b a value
     * @return min(a, b)
     */
    public Value minimum(String name, Value a, Value b) {
      List<Value> pair = steps.aligned(name, a, b);
      return steps.append(name, () -> new Extremum(pair.get(0), pair.get(1), false));
    }

    /**
     * The larger of two values; two of one format stay in it.
     *
     * @param name of the step
     * @param a a value
     * @param b a value
     * @return max(a, b)
     */
    public Value maximum(String name, Value a, Value b) {
      List<Value> pair = steps.aligned(name, a, b);
      return steps.append(name, () -> new Extremum(pair.get(0), pair.get(1), true));
    }

    /**
     * The integer root of a value's code, exact for every code; the point moves by half, so that a
     * value with 2F fraction bits has a root with F (an odd number of them is extended by one).
     *
     * @param name of the step
     * @param value never negative; clamp it with maximum where it could be
     * @param rounding DOWN and TO_ZERO give the floor, the others the nearest (no ties exist)
     * @return the root
     */
    public Value squareRoot(String name, Value value, Rounding rounding) {
      return steps.squareRoot(name, value, rounding);
    }

    /**
     * The quotient, floor to the last place of a format and saturated; a zero divisor gives the
     * highest code, or the lowest under a negative dividend. Dividend and divisor, shifted for that
     * last place, have to fit 64 bits.
     *
     * @param name of the step
     * @param a the dividend
     * @param b the divisor
     * @param format of the quotient, up to 63 bits, or 64 when signed
     * @return a / b
     */
    public Value divide(String name, Value a, Value b, Format format) {
      steps.mine(name, a, b);
      steps.require(
          Divide.fits(a, b, format),
          name,
          "divides " + a + " by " + b + " to " + format,
          "dividend and divisor, shifted by " + Divide.shift(a, b, format) + ", within 64 bits",
          "convert them to fewer bits, or divide by a unit");
      return steps.append(name, () -> new Divide(a, b, format));
    }

    /**
     * The number of zero bits above the first one; bits only.
     *
     * @param name of the step
     * @param value never negative and within the width
     * @param width bits to count in
     * @return 0 to width, which stands for a code of zero
     */
    public Value leadingZeros(String name, Value value, int width) {
      steps.mine(name, value);
      steps.require(
          value.min().signum() >= 0 && value.max().bitLength() <= width && width <= 128,
          name,
          "counts the leading zeros of " + value + " in " + width + " bits",
          "codes of 0 to 2^width - 1",
          "take its magnitude or another width");
      return steps.append(name, () -> new LeadingZeros(value, width));
    }

    /**
     * A run of bits of a value's code as an unsigned integer; bits only.
     *
     * @param name of the step
     * @param value a value; a signed code is sign-extended above its width
     * @param high the highest bit, counted from 0 at the last place; up to 127
     * @param low the lowest bit
     * @return an integer of high - low + 1 bits
     */
    public Value field(String name, Value value, int high, int low) {
      steps.mine(name, value);
      steps.require(
          low >= 0 && high >= low && high <= 127 && high - low < 127,
          name,
          "takes bits " + high + " to " + low + " of " + value,
          "127 >= high >= low >= 0, at most 127 bits",
          "give other bits");
      return steps.append(name, () -> new Field(value, high, low));
    }

    /**
     * A look-up by a value's code; bits only.
     *
     * @param name of the step
     * @param index a value whose codes run from 0 to the number of entries less one at most
     * @param format of the entries
     * @param entries their codes
     * @return the entry at the index
     */
    public Value table(String name, Value index, Format format, long[] entries) {
      return steps.table(name, index, format, entries);
    }

    /**
     * Declares an output under its value's name and format.
     *
     * @param value what to give
     * @return this builder
     */
    public Builder output(Value value) {
      return output(value.name(), value);
    }

    /**
     * Declares an output in its value's format.
     *
     * @param name of the output; it may be that of a step
     * @param value what to give
     * @return this builder
     */
    public Builder output(String name, Value value) {
      steps.output(name, value);
      return this;
    }

    /**
     * Declares an output in a format of its own, exact.
     *
     * @param name of the output; it may be that of a step
     * @param value what to give
     * @param format one that holds the value's range, with as many fraction bits or more
     * @return this builder
     */
    public Builder output(String name, Value value, Format format) {
      steps.output(name, steps.widened(name, value, format));
      return this;
    }

    /**
     * Ends the description.
     *
     * @return the datapath
     * @throws DatapathException when it has no output
     */
    public Datapath build() {
      steps.finish();
      return new Datapath(steps.datapathName(), steps.values(), steps.outputs());
    }
  }
}
