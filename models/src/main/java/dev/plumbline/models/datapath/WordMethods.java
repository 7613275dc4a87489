package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Rounding;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;
import java.util.function.DoubleUnaryOperator;
import java.util.stream.Stream;

/**
 * The part of {@link Datapath.Builder} that describes steps on the bits of words, choices of many
 * and loops. Page DATAPATH.md beside this module has all steps in one table.
 */
abstract class WordMethods extends StepMethods {
  private static final int MOST_ENTRIES = 1 << 20;
  private static final int MOST_BITS = 127;

  WordMethods(String datapath) {
    super(datapath);
  }

  /**
   * The same bits read in another format: signed for unsigned, or with the point elsewhere.
   *
   * @param name of the step
   * @param value a value
   * @param format as wide as the value's
   * @return a value of that format; in bounds any of its codes where an interval lies across the
   *     jump between the highest and the lowest code, ideally none between those two
   */
  public Value reinterpret(String name, Value value, Format format) {
    steps.mine(name, value);
    steps.checkFormat(name, format);
    steps.require(
        format.width() == value.format().width(),
        name,
        "reads the " + value.format().width() + " bits of " + value + " as " + format,
        "a format of as many bits",
        "convert or concatenate first");
    return steps.append(name, () -> new Reinterpret(value, format));
  }

  /**
   * Words side by side: an unsigned integer, exact.
   *
   * @param name of the step
   * @param parts the highest first, 127 bits together; bits of signed ones as they stand
   * @return an integer as wide as all parts
   */
  public Value concatenate(String name, Value... parts) {
    steps.mine(name, parts);
    steps.require(
        parts.length > 0 && Concatenate.width(parts) <= MOST_BITS,
        name,
        "puts " + parts.length + " words of " + Concatenate.width(parts) + " bits side by side",
        "one word or more, 127 bits together",
        "take fields of them");
    Value[] unsigned = Stream.of(parts).map(this::raw).toArray(Value[]::new);
    return steps.append(name, () -> new Concatenate(unsigned));
  }

  private Value raw(Value part) {
    Format format = part.format();
    return format.signed()
        ? steps.hidden(
            part.name(),
            new Reinterpret(part, new Format(false, format.width(), format.fractionBits())))
        : part;
  }

  /**
   * The bits moved round to the left within the format; those pushed out come in on the right.
   *
   * @param name of the step
   * @param value up to 127 bits
   * @param places an integer, never negative; counted modulo the width
   * @return a value of the same format; in bounds one code where both are one code, else any
   */
  public Value rotateLeft(String name, Value value, Value places) {
    return rotate(name, value, places, true);
  }

  /**
   * The bits moved round to the right within the format, as {@link #rotateLeft}.
   *
   * @param name of the step
   * @param value up to 127 bits
   * @param places an integer, never negative; counted modulo the width
   * @return a value of the same format; in bounds one code where both are one code, else any
   */
  public Value rotateRight(String name, Value value, Value places) {
    return rotate(name, value, places, false);
  }

  private Value rotate(String name, Value value, Value places, boolean left) {
    steps.places(name, value, places);
    requireBitsOf(name, value, MOST_BITS);
    return steps.append(name, () -> new Rotate(value, places, left));
  }

  private void requireBitsOf(String name, Value value, int most) {
    steps.require(
        value.format().width() <= most,
        name,
        "takes the " + value.format().width() + " bits of " + value,
        "at most " + most + " bits",
        "take fields of it");
  }

  /**
   * The code shifted to the left until its first one is the highest bit of a width; zero stays
   * zero. {@link #leadingZeros} of the same width says by how many places.
   *
   * @param name of the step
   * @param value never negative and within the width
   * @param width 1 to 127 bits
   * @return an unsigned value of that width, with the fraction bits of the value
   */
  public Value normalise(String name, Value value, int width) {
    steps.mine(name, value);
    steps.require(
        width >= 1
            && width <= MOST_BITS
            && value.min().signum() >= 0
            && value.max().bitLength() <= width,
        name,
        "normalises " + value + " to " + width + " bits",
        "codes of 0 to 2^width - 1, and a width of 1 to 127",
        "take its magnitude or another width");
    return steps.append(name, () -> new Normalise(value, width));
  }

  /**
   * The bits of two words that are one in both.
   *
   * @param name of the step
   * @param a a value
   * @param b a value of the same format
   * @return a value of that format; in bounds one code where both are one code, else any
   */
  public Value bitAnd(String name, Value a, Value b) {
    return logic(name, WordLogic.Kind.AND, a, b);
  }

  /**
   * The bits of two words that are one in either.
   *
   * @param name of the step
   * @param a a value
   * @param b a value of the same format
   * @return a value of that format; in bounds one code where both are one code, else any
   */
  public Value bitOr(String name, Value a, Value b) {
    return logic(name, WordLogic.Kind.OR, a, b);
  }

  /**
   * The bits of two words that differ.
   *
   * @param name of the step
   * @param a a value
   * @param b a value of the same format
   * @return a value of that format; in bounds one code where both are one code, else any
   */
  public Value exclusiveOr(String name, Value a, Value b) {
    return logic(name, WordLogic.Kind.EXCLUSIVE_OR, a, b);
  }

  /**
   * The other of each bit.
   *
   * @param name of the step
   * @param value a value
   * @return a value of the same format; in bounds one code where the value is one code, else any
   */
  public Value bitNot(String name, Value value) {
    return logic(name, WordLogic.Kind.NOT, value);
  }

  private Value logic(String name, WordLogic.Kind kind, Value... operands) {
    steps.mine(name, operands);
    Format format = operands[0].format();
    for (Value operand : operands) {
      steps.require(
          operand.format().equals(format),
          name,
          "combines the bits of " + operands[0] + " and " + operand,
          "two values of one format",
          "convert or reinterpret one of them");
    }
    return steps.append(name, () -> new WordLogic(kind, operands));
  }

  /**
   * Whether an odd number of a code's bits is one.
   *
   * @param name of the step
   * @param value a value; its bits are those of its format
   * @return a bit; in bounds 0 or 1 where the value is one code, else open
   */
  public Value parity(String name, Value value) {
    steps.mine(name, value);
    return steps.append(name, () -> new Ones(value, true));
  }

  /**
   * How many of a code's bits are one.
   *
   * @param name of the step
   * @param value a value; its bits are those of its format
   * @return 0 to the width; in bounds one code where the value is one code, else any
   */
  public Value ones(String name, Value value) {
    steps.mine(name, value);
    return steps.append(name, () -> new Ones(value, false));
  }

  /**
   * The bits in the other order.
   *
   * @param name of the step
   * @param value up to 127 bits
   * @return an unsigned integer of as many bits; in bounds one code where the value is, else any
   */
  public Value reverseBits(String name, Value value) {
    steps.mine(name, value);
    requireBitsOf(name, value, MOST_BITS);
    return steps.append(name, () -> new ReverseBits(value));
  }

  /**
   * The register of a cyclic redundancy check after a word was shifted into it. Initial values,
   * reversals and final inversions are steps of their own, or a register's.
   *
   * @param name of the step
   * @param register before: an unsigned integer of 1 to 64 bits, the degree of the polynomial
   * @param data up to 127 bits of any format
   * @param polynomial without its highest term, the lowest term in bit 0, whatever the order
   * @param lowestFirst whether data enters by its lowest bit, and the register shifts to the right
   * @return the register after, in the same format; in bounds one code where both are one code
   */
  public Value crc(String name, Value register, Value data, long polynomial, boolean lowestFirst) {
    steps.mine(name, register, data);
    requireBitsOf(name, data, MOST_BITS);
    Format format = register.format();
    steps.require(
        !format.signed() && format.fractionBits() == 0 && format.width() <= Long.SIZE,
        name,
        "has register " + register,
        "an unsigned integer of 1 to 64 bits",
        "reinterpret it");
    steps.require(
        format.width() == Long.SIZE || polynomial >>> format.width() == 0,
        name,
        "divides by 0x" + Long.toHexString(polynomial),
        "a polynomial of " + format.width() + " bits, without its highest term",
        "leave that term out");
    return steps.append(name, () -> new CyclicCode(register, data, polynomial, lowestFirst));
  }

  /**
   * One of many values, chosen by an index; those of one format stay in it.
   *
   * @param name of the step
   * @param index an integer whose codes run from 0 to the number of values less one at most
   * @param values what to choose from
   * @return the value at the index; in bounds the hull of those that the index may be
   */
  public Value choose(String name, Value index, Value... values) {
    steps.mine(name, index);
    steps.mine(name, values);
    steps.require(
        values.length > 0
            && index.fractionBits() == 0
            && index.range().within(0, values.length - 1),
        name,
        "chooses by "
            + index
            + " with codes "
            + index.min()
            + " to "
            + index.max()
            + " from "
            + values.length
            + " values",
        "an integer index, and a value for each of its codes",
        "convert the index or give more values");
    Value[] operands = steps.alignedBehind(name, index, values);
    return steps.append(name, () -> new Choose(operands));
  }

  /**
   * The value beside the first condition that holds: a chain of selections, named {@code name_1}
   * and so on from the second on.
   *
   * @param name of the step
   * @param conditions bits, the first the strongest; one or more
   * @param values as many
   * @param otherwise where none holds
   * @return one of the values; in bounds as {@link #select}
   */
  public Value firstOf(String name, List<Value> conditions, List<Value> values, Value otherwise) {
    steps.require(
        !conditions.isEmpty() && conditions.size() == values.size(),
        name,
        "has " + conditions.size() + " conditions and " + values.size() + " values",
        "one or more, and as many of both",
        "give a value for each condition");
    Value chosen = otherwise;
    for (int k = conditions.size() - 1; k >= 0; k--) {
      String one = k == 0 ? name : name + "_" + k;
      chosen = select(one, conditions.get(k), values.get(k), chosen);
    }
    return chosen;
  }

  /**
   * Whether a value lies between two others or is one of them; the two comparisons are {@code
   * name_above} and {@code name_below}.
   *
   * @param name of the step
   * @param least a value
   * @param value a value
   * @param most a value
   * @return the bit least &lt;= value &lt;= most
   */
  public Value within(String name, Value least, Value value, Value most) {
    Value above = atMost(name + "_above", least, value);
    return and(name, above, atMost(name + "_below", value, most));
  }

  /**
   * A table that is itself what is meant, not an approximation: coefficients, a permutation. In
   * bounds it may be every entry that the index may pick; ideally the entry under the real index.
   *
   * @param name of the step
   * @param index an integer whose codes run from 0 to the number of entries less one at most
   * @param format of the entries, within a signed word of 64 bits
   * @param entries their codes
   * @return the entry at the index
   */
  public Value exactTable(String name, Value index, Format format, long[] entries) {
    steps.checkTable(name, index, format, entries);
    requireWord(name, format);
    return steps.append(name, () -> Table.of(index, format, entries));
  }

  private void requireWord(String name, Format format) {
    steps.require(
        Range.of(format).columnBits() <= Long.SIZE,
        name,
        "has entries of " + format,
        "63 bits, or 64 signed",
        "split it into two tables");
  }

  /**
   * A table of a function, an entry for each code of the index: rounded and saturated in bits, in
   * bounds rounded either way, ideally the function itself. Where that turns between two
   * neighbouring codes of an index that is open, the ideal may be missed.
   *
   * @param name of the step
   * @param index a value of at most 2<sup>20</sup> codes
   * @param format of the entries, within a signed word of 64 bits
   * @param rounding of the entries
   * @param function of the index as a real; a number for every code
   * @return the entry at the index
   */
  public Value functionTable(
      String name, Value index, Format format, Rounding rounding, DoubleUnaryOperator function) {
    steps.mine(name, index);
    steps.checkFormat(name, format);
    requireWord(name, format);
    steps.require(
        index.max().subtract(index.min()).bitLength() <= 20
            && index.max().subtract(index.min()).intValueExact() < MOST_ENTRIES,
        name,
        "has an entry for each code of " + index,
        "at most " + MOST_ENTRIES + " codes",
        "take its higher bits as the index");
    for (int i = 0; i <= index.max().subtract(index.min()).intValueExact(); i++) {
      steps.require(
          !Double.isNaN(Table.at(index, i, function)),
          name,
          "has no number at code " + index.min().add(BigInteger.valueOf(i)),
          "a number for every code of " + index,
          "clamp the index or give the function a value there");
    }
    return steps.append(name, () -> Table.of(index, format, rounding, function));
  }

  /**
   * A loop of a fixed number of passes, each of the same steps: CORDIC, a division a bit at a time,
   * Newton's iteration. What only approximates a function belongs into a {@link Unit}.
   *
   * @param passes how many, 0 or more
   * @param begin what the first pass is given
   * @param stage describes a pass; it is given the number of the pass to make names from
   * @return what the last pass gave
   */
  public List<Value> unrolled(int passes, List<Value> begin, UnrolledStage stage) {
    List<Value> state = List.copyOf(begin);
    for (int number = 0; number < passes; number++) {
      List<Value> next = stage.next(number, new ArrayList<>(state));
      steps.require(
          next.size() == state.size(),
          "(pass " + number + ")",
          "gives " + next.size() + " values",
          state.size() + " values, as many as it was given",
          "hand on those that do not change");
      state = List.copyOf(next);
    }
    return state;
  }
}
