package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;

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
 *     b.convert("rounded", product, Format.signed(16, 16), Rounding.FLOOR, Overflow.SATURATE);
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
  private final List<Value> registers;
  private final Map<Value, FloatFormat> floats;

  private Datapath(String name, List<Value> values, Map<String, Value> outputs) {
    this.name = name;
    this.values = List.copyOf(values);
    this.registers =
        this.values.stream().filter(value -> value.step() instanceof RegisterStep).toList();
    this.floats = FloatCodes.of(values);
    for (Value value : values) {
      if (!value.hidden()) {
        byName.put(value.name(), value);
      }
      if (value.step() instanceof Input) {
        inputValues.add(value);
        inputs.add(operand(value.name(), value));
      }
    }
    outputs.forEach(
        (output, value) -> {
          outputValues.add(value);
          this.outputs.add(operand(output, value));
        });
  }

  private Operand operand(String called, Value value) {
    return new Operand(called, value.format(), Optional.ofNullable(floats.get(value)));
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
    addSteps("", steps);
    return steps;
  }

  private void addSteps(String prefix, List<Operand> steps) {
    byName.forEach(
        (step, value) -> {
          if (value.step() instanceof UnitStep unit) {
            unit.unit().datapath().addSteps(prefix + step + ".", steps);
          }
          steps.add(operand(prefix + step, value));
        });
  }

  /**
   * The steps that each step is made from, by the names that {@link #steps} has: inputs of a unit
   * are made from what the unit is given, a unit from its own outputs.
   *
   * @return none for inputs and constants
   */
  public Map<String, List<String>> operands() {
    Map<String, List<String>> operands = new LinkedHashMap<>();
    addOperands("", List.of(), operands);
    return operands;
  }

  private void addOperands(
      String prefix, List<List<String>> given, Map<String, List<String>> operands) {
    int input = 0;
    for (Value value : byName.values()) {
      List<String> from = new ArrayList<>();
      addShown(prefix, value, from);
      if (value.step() instanceof Input && input < given.size()) {
        from.addAll(given.get(input++));
      } else if (value.step() instanceof UnitStep unit) {
        List<List<String>> inputs = new ArrayList<>();
        for (Value operand : value.step().operands()) {
          List<String> one = new ArrayList<>();
          addIfShown(prefix, operand, one);
          inputs.add(one);
        }
        String inner = prefix + value.name() + ".";
        unit.unit().datapath().addOperands(inner, inputs, operands);
        from.clear();
        Datapath within = unit.unit().datapath();
        within.outputValues().forEach(output -> within.addIfShown(inner, output, from));
      }
      operands.put(prefix + value.name(), List.copyOf(new LinkedHashSet<>(from)));
    }
  }

  private void addShown(String prefix, Value of, List<String> into) {
    of.step().operands().forEach(operand -> addIfShown(prefix, operand, into));
  }

  /** A hidden step stands for what it is made from. */
  private void addIfShown(String prefix, Value value, List<String> into) {
    if (value.hidden()) {
      addShown(prefix, value, into);
    } else {
      into.add(prefix + value.name());
    }
  }

  /**
   * Whether it has registers, so that a case depends on those before it.
   *
   * @return false when each case stands for itself
   */
  public boolean hasState() {
    return !registers.isEmpty();
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
   * Makes an evaluation in bits with one step changed at a time.
   *
   * @param capacity cases in a block
   * @return columns and loops of its own
   */
  public Variations variations(int capacity) {
    return new Variations(this, checkedCapacity(capacity));
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

  List<Value> registers() {
    return registers;
  }

  List<Value> outputValues() {
    return outputValues;
  }

  Value value(String step) {
    Value value = byName.get(step);
    if (value == null) {
      throw new DatapathException(
          "Step \"" + step + "\" of " + title() + ": there are " + byName.keySet());
    }
    return value;
  }

  int checkedCapacity(int capacity) {
    if (capacity < 1) {
      throw new DatapathException(
          "Evaluation of " + title() + " for " + capacity + " cases: it takes 1 or more");
    }
    return capacity;
  }

  void refuseBitsOnly(String wanted) {
    for (Value value : values) {
      if (value.step().bitsOnly()) {
        throw new DatapathException(
            "No "
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
  public static final class Builder extends FloatMethods {
    private Builder(String name) {
      super(name);
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
     * @param code the code, in LSB of the format
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
     * @param code the code, in LSB of the format
     * @return the value
     */
    public Value constant(String name, Format format, BigInteger code) {
      return steps.constant(name, format, code);
    }

    /**
     * A register: what it holds in a case is what {@link #next} gave in the case before.
     *
     * @param name its name
     * @param format of what it holds
     * @param initial its code in the first case, and in the first after a reset
     * @return what it holds; bounds and ideal are handed on from case to case like bits
     */
    public Value register(String name, Format format, long initial) {
      return steps.register(name, format, BigInteger.valueOf(initial));
    }

    /**
     * Sets what a register takes in each case.
     *
     * @param register one that has no next value yet
     * @param next exactly within its format
     * @return this builder
     */
    public Builder next(Value register, Value next) {
      steps.next(register, next, null);
      return this;
    }

    /**
     * Sets what a register takes, and in which cases; in others it holds what it has.
     *
     * @param register one that has no next value yet
     * @param next exactly within its format
     * @param enable a bit
     * @return this builder
     */
    public Builder next(Value register, Value next, Value enable) {
      steps.requireBits(register.name(), enable);
      steps.next(register, next, enable);
      return this;
    }

    /**
     * What a value was in the case before.
     *
     * @param name of the register that holds it
     * @param value what to hold, in its format
     * @param initial its code in the first case
     * @return what the register holds
     */
    public Value delay(String name, Value value, long initial) {
      Value register = register(name, value.format(), initial);
      next(register, value);
      return register;
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
     * @throws DatapathException when it has no output, or a register has no next value
     */
    public Datapath build() {
      steps.finish();
      return new Datapath(steps.datapathName(), steps.values(), steps.outputs());
    }
  }
}
