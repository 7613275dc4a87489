package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Supplier;

/** The steps of a builder so far, and every check that a step has to pass before it is one. */
final class Assembly {
  private static final int MAX_FRACTION = 512;
  private static final int WIDEST = 128;

  private final StepMethods owner;
  private final String name;
  private final List<Value> values = new ArrayList<>();
  private final Set<String> names = new HashSet<>();
  private final Map<String, Value> outputs = new LinkedHashMap<>();
  private Format into; // what results are brought into; null where they grow
  private Rounding rounding;
  private final Map<List<Object>, Value> aligned = new HashMap<>(); // by value and fraction bits
  private boolean finished;

  Assembly(StepMethods owner, String name) {
    this.owner = owner;
    this.name = name;
  }

  String datapathName() {
    return name;
  }

  List<Value> values() {
    return values;
  }

  Map<String, Value> outputs() {
    return outputs;
  }

  /** Takes a step in, once its name is free and its width can be held. */
  Value append(String step, Supplier<? extends Step> make) {
    checkName("step", step);
    require(names.add(step), step, "is described again", "one step of a name", "rename one");
    return place(step, make.get(), false);
  }

  void saturateTo(Format format, Rounding roundingOfResults) {
    checkFormat("saturateTo", format);
    into = format;
    rounding = roundingOfResults;
  }

  void grow() {
    into = null;
  }

  /** Takes in a step whose results grow, or brings them into the format that they saturate to. */
  Value appendGrowing(String step, Supplier<? extends Step> make) {
    if (into == null) {
      return append(step, make);
    }
    Step exact = make.get();
    Value whole = place(step, "(" + exact.formula() + ")", exact, true);
    return convert(step, whole, into, rounding, Overflow.SATURATE);
  }

  private Value place(String step, Step made, boolean hidden) {
    return place(step, step, made, hidden);
  }

  private Value place(String step, String shown, Step made, boolean hidden) {
    require(
        made.range().columnBits() <= WIDEST,
        step,
        "needs "
            + made.range().bits()
            + " bits ("
            + made.formula()
            + " of "
            + made.operands()
            + ")",
        "at most 128, or 127 unsigned",
        fewer(made));
    require(
        Math.abs(made.fractionBits()) <= MAX_FRACTION,
        step,
        "has " + made.fractionBits() + " fraction bits",
        "-" + MAX_FRACTION + " to " + MAX_FRACTION,
        "convert an operand to fewer fraction bits first");
    Value value = new Value(owner, values.size(), shown, made, hidden);
    values.add(value);
    return value;
  }

  /** Which operand to bring to how many bits, so that a step that is too wide may fit. */
  private static String fewer(Step made) {
    int over = made.range().columnBits() - WIDEST;
    return made.operands().stream()
        .max(Comparator.comparingInt(operand -> operand.format().width()))
        .map(
            widest ->
                "convert operand \""
                    + widest.name()
                    + "\" from "
                    + widest.format().width()
                    + " to "
                    + Math.max(1, widest.format().width() - over)
                    + " bits or fewer first")
        .orElse("give it fewer bits");
  }

  Value input(String step, Format format, Range legal) {
    checkFormat(step, format);
    require(
        legal.min().compareTo(legal.max()) <= 0 && legal.within(Range.of(format)),
        step,
        "has legal codes " + legal.min() + " to " + legal.max(),
        "codes of " + format + ", the lower one first",
        "give others");
    return append(step, () -> new Input(format, legal));
  }

  Value constant(String step, Format format, BigInteger code) {
    checkFormat(step, format);
    require(
        format.holds(code),
        step,
        "is the constant code " + code,
        format.minCode() + " to " + format.maxCode() + " in " + format,
        "give another code or format");
    return append(step, () -> new Constant(format, code));
  }

  Value register(String step, Format format, BigInteger initial) {
    checkFormat(step, format);
    require(
        format.holds(initial),
        step,
        "begins with code " + initial,
        format.minCode() + " to " + format.maxCode() + " in " + format,
        "give another code or format");
    return append(step, () -> new RegisterStep(format, initial));
  }

  void next(Value register, Value next, Value enable) {
    String step = register.name();
    mine(step, register, next);
    require(
        register.step() instanceof RegisterStep,
        step,
        "is given a next value",
        "a value that register gave",
        "describe a register first");
    RegisterStep held = (RegisterStep) register.step();
    require(held.next() == null, step, "is given a next value again", "one", "select what to take");
    held.takes(widened(step, next, register.format()), enable);
  }

  Value convert(String step, Value value, Format format, Rounding rounding, Overflow overflow) {
    mine(step, value);
    checkFormat(step, format);
    int drop = value.fractionBits() - format.fractionBits();
    require(
        drop <= 127,
        step,
        "drops " + drop + " fraction bits of " + value,
        "at most 127",
        "convert in two steps");
    int between = Convert.between(value.range(), drop).columnBits();
    require(
        between <= 128,
        step,
        "needs " + between + " bits to bring " + value + " to " + format,
        "at most 128 before overflow is dealt with",
        "convert to fewer fraction bits");
    return append(step, () -> new Convert(value, format, rounding, overflow));
  }

  Value compare(String step, Compare.Relation relation, Value a, Value b) {
    List<Value> pair = aligned(step, a, b);
    return append(step, () -> new Compare(relation, pair.get(0), pair.get(1)));
  }

  Value squareRoot(String step, Value value, Rounding rounding) {
    mine(step, value);
    require(
        value.min().signum() >= 0,
        step,
        "takes the root of " + value + " with codes from " + value.min(),
        "codes that are never negative",
        "clamp it with maximum first");
    int odd = Math.floorMod(value.fractionBits(), 2);
    Value even = odd == 0 ? value : align(step, value, value.fractionBits() + 1);
    return append(step, () -> new Root(even, rounding));
  }

  Value table(String step, Value index, Format format, long[] entries) {
    checkTable(step, index, format, entries);
    return append(step, () -> new LookUp(index, format, entries));
  }

  void checkTable(String step, Value index, Format format, long[] entries) {
    mine(step, index);
    checkFormat(step, format);
    require(
        entries.length > 0
            && index.range().within(0, entries.length - 1)
            && Arrays.stream(entries).allMatch(e -> format.holds(BigInteger.valueOf(e))),
        step,
        "looks up "
            + index
            + " with codes "
            + index.min()
            + " to "
            + index.max()
            + " in "
            + entries.length
            + " entries of "
            + format,
        "an entry for every code, and each within the format",
        "give a narrower index, more entries or another format");
  }

  Value unit(String step, Unit unit, Value... given) {
    require(
        !unit.datapath().hasState(),
        step,
        "has unit " + unit.datapath().name() + " with registers",
        "a unit whose cases stand for themselves",
        "describe its steps here");
    List<Value> inputs = unit.datapath().inputValues();
    require(
        given.length == inputs.size(),
        step,
        "gives " + given.length + " values to unit " + unit.datapath().name(),
        inputs.toString(),
        "give one for each");
    List<Value> operands = new ArrayList<>();
    for (int i = 0; i < given.length; i++) {
      Value input = inputs.get(i);
      Value operand = widened(step, given[i], input.format());
      require(
          operand.range().within(input.range()),
          step,
          "gives " + operand + " with codes " + operand.min() + " to " + operand.max(),
          "codes " + input.min() + " to " + input.max() + " of input " + input,
          "convert or clamp it first");
      operands.add(operand);
    }
    return append(step, () -> new UnitStep(unit, operands));
  }

  Value allow(String step, Value value, int lsbs, Format of, Value... parts) {
    mine(step, value);
    mine(step, parts);
    require(
        lsbs >= 0,
        step,
        "allows " + lsbs + " LSB of " + of,
        "0 or more",
        "give how far off either way");
    Value fine = align(step, value, Math.max(value.fractionBits(), of.fractionBits()));
    BigInteger codes = BigInteger.valueOf(lsbs).shiftLeft(fine.fractionBits() - of.fractionBits());
    return append(step, () -> new Allowance(fine, codes, of, parts));
  }

  /** A step that the builder puts in by itself. */
  Value hidden(String step, Step made) {
    return place(step, made, true);
  }

  /** Values with the same fraction bits, the most of all, behind one that stays as it is. */
  Value[] alignedBehind(String step, Value first, Value... others) {
    int fractionBits =
        Arrays.stream(others).mapToInt(Value::fractionBits).max().orElse(first.fractionBits());
    Value[] all = new Value[others.length + 1];
    all[0] = first;
    for (int k = 0; k < others.length; k++) {
      all[k + 1] = align(step, others[k], fractionBits);
    }
    return all;
  }

  /** Two values with the same fraction bits, the more of both. */
  List<Value> aligned(String step, Value a, Value b) {
    mine(step, a, b);
    int fractionBits = Math.max(a.fractionBits(), b.fractionBits());
    return List.of(align(step, a, fractionBits), align(step, b, fractionBits));
  }

  private Value align(String step, Value value, int fractionBits) {
    return value.fractionBits() == fractionBits
        ? value
        : aligned.computeIfAbsent(
            List.of(value, fractionBits),
            key -> place(value.name(), checkedAlign(step, value, fractionBits), true));
  }

  private Align checkedAlign(String step, Value value, int fractionBits) {
    Align align = new Align(value, fractionBits, null);
    require(
        align.range().columnBits() <= 128,
        step,
        "needs "
            + align.range().bits()
            + " bits to align "
            + value
            + " to "
            + fractionBits
            + " fraction bits",
        "at most 128, or 127 unsigned",
        "convert an operand to fewer bits first");
    return align;
  }

  /** The value in a format that holds it, with its columns laid out as that format's. */
  Value widened(String step, Value value, Format format) {
    mine(step, value);
    checkFormat(step, format);
    if (value.format().equals(format)) {
      return value;
    }
    int more = format.fractionBits() - value.fractionBits();
    require(
        more >= 0 && value.range().shiftedLeft(Math.max(more, 0)).within(Range.of(format)),
        step,
        "gives " + value + " with codes " + value.min() + " to " + value.max() + " as " + format,
        "a format that holds them exactly",
        "convert it first");
    return place(value.name(), new Align(value, format.fractionBits(), format), true);
  }

  void output(String output, Value value) {
    checkName("output", output);
    mine(output, value);
    require(
        outputs.putIfAbsent(output, value) == null,
        output,
        "is given again",
        "one output of a name",
        "rename one");
  }

  void finish() {
    require(
        !outputs.isEmpty(), "(none)", "has no output", "one or more", "declare one with output");
    for (Value value : values) {
      require(
          !(value.step() instanceof RegisterStep register) || register.next() != null,
          value.name(),
          "is a register without a next value",
          "one",
          "say what it takes with next");
    }
    finished = true;
  }

  /** Refuses values of another builder, and steps after the datapath was built. */
  void mine(String step, Value... given) {
    require(!finished, step, "comes after build", "steps before it", "begin another datapath");
    for (Value value : given) {
      require(
          value.owner() == owner,
          step,
          "takes " + value + " of another datapath",
          "values of its own builder",
          "declare an input for it");
    }
  }

  void requireBits(String step, Value... given) {
    mine(step, given);
    for (Value value : given) {
      require(
          value.fractionBits() == 0 && value.range().within(Range.BIT),
          step,
          "takes " + value + " as a bit",
          "0 and 1 in u1.0",
          "compare it with a constant first");
    }
  }

  void places(String step, Value value, Value places) {
    mine(step, value, places);
    require(
        places.fractionBits() == 0 && !places.wide() && places.min().signum() >= 0,
        step,
        "shifts by " + places + " with codes from " + places.min(),
        "an integer that is never negative, within 63 bits",
        "convert it first");
  }

  void checkFormat(String step, Format format) {
    require(
        Range.of(format).columnBits() <= 128,
        step,
        "has format " + format,
        "at most 128 bits, or 127 unsigned",
        "split it into two operands");
  }

  private void checkName(String kind, String given) {
    require(!finished, given, "comes after build", "steps before it", "begin another datapath");
    require(
        given.matches("[A-Za-z_][A-Za-z0-9_]*"),
        given,
        "is no name for a " + kind,
        "a letter or underscore, then letters, digits and underscores",
        "rename it");
  }

  /** Throws unless a condition holds, with what failed, where, what was allowed, what to do. */
  void require(boolean holds, String step, String what, String allowed, String advice) {
    if (!holds) {
      throw new DatapathException(
          "Step \""
              + step
              + "\" "
              + what
              + " in datapath \""
              + name
              + "\": allowed is "
              + allowed
              + "; "
              + advice);
    }
  }
}
