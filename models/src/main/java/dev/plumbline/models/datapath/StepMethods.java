package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.util.List;

/** The part of {@link Datapath.Builder} that describes steps: a method for each kind. */
abstract class StepMethods {
  final Assembly steps;

  StepMethods(String datapath) {
    steps = new Assembly(this, datapath);
  }

  /**
   * From here on every sum, difference, product, negation, magnitude and shift to the left is
   * brought into a format instead of growing: each is its exact result, rounded and saturated, as
   * by a {@link #convert} behind it.
   *
   * @param format of the results
   * @param rounding for results between two codes
   */
  public void saturateTo(Format format, Rounding rounding) {
    steps.saturateTo(format, rounding);
  }

  /** From here on results grow again, so that they are exact, as they are in the beginning. */
  public void grow() {
    steps.grow();
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
    return steps.appendGrowing(name, () -> new Add(pair.get(0), pair.get(1)));
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
    return steps.appendGrowing(name, () -> new Subtract(pair.get(0), pair.get(1)));
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
    return steps.appendGrowing(name, () -> new Multiply(a, b));
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
    return steps.appendGrowing(name, () -> new Negate(value));
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
    return steps.appendGrowing(name, () -> new Absolute(value));
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
    return steps.appendGrowing(name, () -> new Shift(value, places, true));
  }

  /**
   * Shifts to the right by a value and drops the bits below the LSB (floor).
   *
   * @param name of the step
   * @param value what to shift; it keeps its format's LSB
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
   * @param rounding FLOOR and TOWARD_ZERO give the floor, the others the nearest (no ties exist)
   * @return the root
   */
  public Value squareRoot(String name, Value value, Rounding rounding) {
    return steps.squareRoot(name, value, rounding);
  }

  /**
   * The quotient, floor to the LSB of a format and saturated; a zero divisor gives the highest
   * code, or the lowest under a negative dividend. Dividend and divisor, shifted for that LSB, have
   * to fit 126 bits; within 64 the quotient is faster.
   *
   * @param name of the step
   * @param a the dividend
   * @param b the divisor
   * @param format of the quotient, up to 63 bits, or 64 when signed; one less where dividend or
   *     divisor takes more than 64
   * @return a / b
   */
  public Value divide(String name, Value a, Value b, Format format) {
    steps.mine(name, a, b);
    steps.require(
        Divide.fits(a, b, format),
        name,
        "divides " + a + " by " + b + " to " + format,
        "dividend and divisor, shifted by " + Divide.shift(a, b, format) + ", within 126 bits",
        "convert them to fewer bits, or divide by a unit");
    return steps.append(name, () -> new Divide(a, b, format));
  }

  /**
   * The value itself; in bounds it may be some LSB off either way.
   *
   * @param name of the step
   * @param value a value
   * @param lsbs how many, 0 or more
   * @param of the format whose LSB they are; the value takes its fraction bits or keeps more
   * @return the value
   */
  public Value allow(String name, Value value, int lsbs, Format of) {
    return steps.allow(name, value, lsbs, of);
  }

  /**
   * The value itself; in bounds it may be some LSB off either way, unless nothing had to be rounded
   * on its way: it is as it stands in each case where all the given parts are settled codes of a
   * format, without a bit below its LSB.
   *
   * @param name of the step
   * @param value a value
   * @param places how many, 0 or more
   * @param of the format whose LSB they are; the value takes its fraction bits or keeps more
   * @param parts exact values of what hardware rounds to the LSB of that format, one or more
   * @return the value
   */
  public Value allowUnlessExact(String name, Value value, int places, Format of, Value... parts) {
    return steps.allow(name, value, places, of, parts);
  }

  /**
   * The first of two values; in bounds whatever lies between both.
   *
   * @param name of the step
   * @param first a value
   * @param other a value that hardware may give in its place
   * @return the first
   */
  public Value either(String name, Value first, Value other) {
    List<Value> pair = steps.aligned(name, first, other);
    return steps.append(name, () -> new Either(pair.get(0), pair.get(1)));
  }

  /**
   * The first of two values that are accounts of the same one; in bounds what both allow. Whoever
   * describes it answers for that: the other has to hold, in bits and in bounds, whatever the first
   * may be. Where the two have nothing in common the first stands.
   *
   * @param name of the step
   * @param value a value
   * @param other the same value, found in another way
   * @return the first
   */
  public Value confine(String name, Value value, Value other) {
    List<Value> pair = steps.aligned(name, value, other);
    return steps.append(name, () -> new Confine(pair.get(0), pair.get(1)));
  }

  /**
   * A whole unit as one step.
   *
   * @param name of the step
   * @param unit what to use; its own steps are found as {@code "name.step"} in bits
   * @param operands one for each input of the unit, exactly within its format
   * @return the unit's output, in that output's format
   */
  public Value unit(String name, Unit unit, Value... operands) {
    return steps.unit(name, unit, operands);
  }

  /**
   * The number of zero bits above the first one. Ideally a real code below 1 has all of them.
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
   * A run of bits of a value's code as an unsigned integer. In bounds it is open where the bits
   * above it may change; ideally it is the floor of the real code over the weight of its lowest
   * bit, less whole turns.
   *
   * @param name of the step
   * @param value a value; a signed code is sign-extended above its width
   * @param high the highest bit, counted from 0 at the LSB; up to 127
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
   * A look-up by a value's code that only approximates something; bits only. {@link
   * Datapath.Builder#exactTable} and {@link Datapath.Builder#functionTable} have bounds and an
   * ideal.
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
}
