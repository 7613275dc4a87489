package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Rounding;

/**
 * The part of {@link Datapath.Builder} that describes operations of floating point, on codes of
 * {@link FloatFormat#bits}. Each is correctly rounded to nearest even, with subnormals, infinities,
 * signed zeros and NaN (IEEE 754-2019, clauses 4.3.1, 5.4, 6 and 7). Its bounds are both codes
 * around the exact result; its ideal is the place of that result on the line of codes, so that a
 * difference counts units in the last place.
 */
abstract class FloatMethods extends WordMethods {
  FloatMethods(String datapath) {
    super(datapath);
  }

  /**
   * The sum.
   *
   * @param name of the step
   * @param format of operands and result
   * @param a a code
   * @param b a code
   * @return the code of a + b
   */
  public Value floatAdd(String name, FloatFormat format, Value a, Value b) {
    return operation(name, FloatOperation.ADD, format, a, b);
  }

  /**
   * The difference.
   *
   * @param name of the step
   * @param format of operands and result
   * @param a a code
   * @param b a code
   * @return the code of a - b
   */
  public Value floatSubtract(String name, FloatFormat format, Value a, Value b) {
    return operation(name, FloatOperation.SUBTRACT, format, a, b);
  }

  /**
   * The product.
   *
   * @param name of the step
   * @param format of operands and result
   * @param a a code
   * @param b a code
   * @return the code of a * b
   */
  public Value floatMultiply(String name, FloatFormat format, Value a, Value b) {
    return operation(name, FloatOperation.MULTIPLY, format, a, b);
  }

  /**
   * The quotient.
   *
   * @param name of the step
   * @param format of operands and result
   * @param a a code
   * @param b a code; by zero gives an infinity
   * @return the code of a / b
   */
  public Value floatDivide(String name, FloatFormat format, Value a, Value b) {
    return operation(name, FloatOperation.DIVIDE, format, a, b);
  }

  /**
   * The product and the sum, rounded once.
   *
   * @param name of the step
   * @param format of operands and result
   * @param a a code
   * @param b a code
   * @param c a code
   * @return the code of a * b + c
   */
  public Value floatFused(String name, FloatFormat format, Value a, Value b, Value c) {
    return operation(name, FloatOperation.FUSED, format, a, b, c);
  }

  /**
   * The square root.
   *
   * @param name of the step
   * @param format of operand and result
   * @param value a code; a negative number has no root, -0 is its own
   * @return the code of the root
   */
  public Value floatRoot(String name, FloatFormat format, Value value) {
    return operation(name, FloatOperation.ROOT, format, value);
  }

  private Value operation(
      String name, FloatOperation operation, FloatFormat format, Value... operands) {
    requireCodes(name, format, operands);
    return steps.append(name, () -> new FloatStep(operation, format, format, operands));
  }

  private void requireCodes(String name, FloatFormat format, Value... operands) {
    steps.mine(name, operands);
    for (Value operand : operands) {
      steps.require(
          operand.fractionBits() == 0 && operand.range().within(Range.of(format.bits())),
          name,
          "takes " + operand + " as a code of " + format,
          "codes of " + format.bits(),
          "declare it in the format's bits, or convert it by fixedToFloat or floatToFloat");
    }
  }

  /**
   * A number in another floating-point format.
   *
   * @param name of the step
   * @param from the format of the value
   * @param value a code
   * @param to the format of the result
   * @return the code of the number nearest to it
   */
  public Value floatToFloat(String name, FloatFormat from, Value value, FloatFormat to) {
    requireCodes(name, from, value);
    return steps.append(name, () -> new FloatStep(FloatOperation.CONVERT, from, to, value));
  }

  /**
   * A fixed number as a floating one.
   *
   * @param name of the step
   * @param value of any fixed format
   * @param to the format of the result
   * @return the code of the number nearest to it; of zero that of +0
   */
  public Value fixedToFloat(String name, Value value, FloatFormat to) {
    steps.mine(name, value);
    return steps.append(name, () -> new FloatStep(FloatOperation.CONVERT, null, to, value));
  }

  /**
   * A floating number as a fixed one, rounded and saturated.
   *
   * @param name of the step
   * @param from the format of the value
   * @param value a code; what is no number gives 0 in bits, and in bounds any code
   * @param format of the result
   * @param rounding for numbers between two codes
   * @return a value of that fixed format
   */
  public Value floatToFixed(
      String name, FloatFormat from, Value value, Format format, Rounding rounding) {
    requireCodes(name, from, value);
    steps.checkFormat(name, format);
    return steps.append(name, () -> new FloatToFixed(from, value, format, rounding));
  }

  /**
   * Whether a number is below another; no where one of them is NaN.
   *
   * @param name of the step
   * @param format of both
   * @param a a code
   * @param b a code
   * @return the bit a &lt; b
   */
  public Value floatLessThan(String name, FloatFormat format, Value a, Value b) {
    return compare(name, Compare.Relation.LESS, format, a, b);
  }

  /**
   * Whether a number is at most another; no where one of them is NaN.
   *
   * @param name of the step
   * @param format of both
   * @param a a code
   * @param b a code
   * @return the bit a &lt;= b
   */
  public Value floatAtMost(String name, FloatFormat format, Value a, Value b) {
    return compare(name, Compare.Relation.AT_MOST, format, a, b);
  }

  /**
   * Whether two numbers are equal; both zeros are, and NaN is equal to nothing.
   *
   * @param name of the step
   * @param format of both
   * @param a a code
   * @param b a code
   * @return the bit a == b
   */
  public Value floatEqual(String name, FloatFormat format, Value a, Value b) {
    return compare(name, Compare.Relation.EQUAL, format, a, b);
  }

  private Value compare(
      String name, Compare.Relation relation, FloatFormat format, Value a, Value b) {
    requireCodes(name, format, a, b);
    return steps.append(name, () -> new FloatCompare(format, relation, a, b));
  }
}
