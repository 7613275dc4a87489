package dev.plumbline.models.datapath;

import static dev.plumbline.models.datapath.Variation.Kind.DECISION;
import static dev.plumbline.models.datapath.Variation.Kind.EXCHANGED;
import static dev.plumbline.models.datapath.Variation.Kind.NEIGHBOUR;
import static dev.plumbline.models.datapath.Variation.Kind.OVERFLOW;
import static dev.plumbline.models.datapath.Variation.Kind.ROUNDING;
import static dev.plumbline.models.datapath.Variation.Kind.SIGN;
import static dev.plumbline.models.datapath.Variation.Kind.STUCK_BIT;
import static dev.plumbline.models.datapath.Variation.Kind.WIDTH;

import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.LongBinaryOperator;

/** Every change of one step that an evaluation can make, those inside units among them. */
final class VariationMaker {
  /** Cases between which something may be taken for a neighbour's. */
  private static final int FARTHEST = 3;

  /** Values that one may be taken for. */
  private static final int MOST_OTHERS = 64;

  /** High bits that may get lost. */
  private static final int MOST_LOST = 4;

  /** Guard bits that may get lost. */
  private static final int MOST_GUARD = 10;

  /** Decisions that may take part in another. */
  private static final int MOST_FLAGS = 16;

  /** Those that take one value, of which any may be chosen. */
  private static final int MOST_CONSUMERS = 5;

  private final List<Variation> made = new ArrayList<>();
  private final Map<String, List<Variation>> taking = new LinkedHashMap<>(); // by what they take
  private final boolean hasNeighbours; // whether rows are cycles
  private final boolean[] taken; // rows in which a case is
  private Columns columns;
  private Value value;
  private String name;

  private VariationMaker(boolean hasNeighbours, boolean[] taken) {
    this.hasNeighbours = hasNeighbours;
    this.taken = taken;
  }

  /** Changes of single steps, and of those that stand there several times. */
  static List<Variation> all(Columns bound, boolean[] taken) {
    List<Variation> all =
        new ArrayList<>(new VariationMaker(!bound.datapath().hasState(), taken).of(bound, ""));
    all.addAll(AlikeVariations.of(all));
    if (!bound.datapath().hasState()) {
      all.addAll(OutputVariations.of(bound, taken, FARTHEST));
    }
    return all;
  }

  /** Changes of all steps whose lanes these are; names begin with a prefix. */
  private List<Variation> of(Columns bound, String prefix) {
    Set<Integer> widths = new TreeSet<>();
    bound.datapath().inputs().forEach(each -> widths.add(each.format().width()));
    bound.datapath().outputs().forEach(each -> widths.add(each.format().width()));
    for (Value each : bound.datapath().values()) {
      columns = bound;
      value = each;
      name = prefix + each.name();
      if (each.step() instanceof UnitStep) {
        VariationMaker inside = new VariationMaker(hasNeighbours, taken);
        made.addAll(inside.of(bound.nested(each.name()), name + "."));
      }
      if (each.step().sameColumns() == null) {
        operands();
        StepVariations.of(each.step(), this);
        if (!each.hidden()) {
          result(widths);
        }
      }
    }
    consumers();
    made.addAll(AlikeVariations.exchanged(bound, prefix));
    made.addAll(SharedComparisons.of(bound, prefix));
    made.addAll(UnitVariations.of(bound, prefix));
    return made;
  }

  /** What several of those that take a value take of a neighbour, and others do not. */
  private void consumers() {
    taking.forEach(
        (words, some) -> {
          for (int chosen = 0;
              some.size() <= MOST_CONSUMERS && chosen < 1 << some.size();
              chosen++) {
            if (Integer.bitCount(chosen) > 1) {
              List<Variation> together = new ArrayList<>();
              for (int i = 0; i < some.size(); i++) {
                if ((chosen >> i & 1) != 0) {
                  together.add(some.get(i));
                }
              }
              made.add(
                  AlikeVariations.together(
                      together,
                      String.join(" and ", together.stream().map(Object::toString).toList())));
            }
          }
        });
  }

  /** Whether a value has one code alone, whichever steps bring it into its format. */
  static boolean isConstant(Value value) {
    return value.range().min().equals(value.range().max());
  }

  Columns columns() {
    return columns;
  }

  Value value() {
    return value;
  }

  /** A change of the step's own loop. */
  void replaced(Variation.Kind kind, String words, Loop loop) {
    add(kind, "step " + name + " " + words, loop, null);
  }

  /** Another step with the same operands and the same lane for its result. */
  void replaced(Variation.Kind kind, String words, Step other) {
    replaced(kind, words, other.bits(columns, value));
  }

  /**
   * Another code in the place of one that a step gives as a limit.
   *
   * @param code the limit
   * @param instead what it gives then
   * @param wider the same step with a limit farther off
   * @param justBeyond whether that is so for the first code beyond the limit alone
   */
  void whereLimited(String words, long code, long instead, Step wider, boolean justBeyond) {
    either(
        OVERFLOW,
        words,
        wider,
        (own, beyond) -> {
          long far = Math.abs(beyond - code);
          return own == code && (justBeyond ? far == 1 : far > 0) ? instead : own;
        });
  }

  /** Another step with the same operands where the step itself gives one code. */
  void where(Variation.Kind kind, String words, long code, Step other) {
    either(kind, words, other, (own, instead) -> own == code ? instead : own);
  }

  /** A code made of the step's own and of what another step with the same operands gives. */
  private void either(Variation.Kind kind, String words, Step other, LongBinaryOperator choice) {
    Lane lane = columns.lane(value);
    Loop own = columns.loops()[value.index()];
    Loop instead = other.bits(columns, value);
    long[] kept = columns.spare(0);
    replaced(
        kind,
        words,
        count -> {
          own.run(count);
          System.arraycopy(lane.low, 0, kept, 0, count);
          instead.run(count);
          for (int i = 0; i < count; i++) {
            lane.low[i] = choice.applyAsLong(kept[i], lane.low[i]);
          }
        });
  }

  /** A change of the step's result. */
  void after(Variation.Kind kind, String words, LaneChange change) {
    Lane lane = columns.lane(value);
    Loop own = columns.loops()[value.index()];
    BigInteger constant = value.step() instanceof Constant one ? one.code() : null;
    boolean filled = value.step() instanceof Input || constant != null;
    Loop loop =
        count -> {
          if (constant != null) {
            lane.fill(constant); // what was changed before is still in it
          } else {
            own.run(count);
          }
          change.apply(lane, count);
        };
    String what = value.step() instanceof Input ? "input " : "step ";
    add(kind, what + name + " " + words, loop, filled ? lane : null);
  }

  /** Another value in the place of an operand where that would be chosen, before the other one. */
  void otherChosen(Value operand, Value before) {
    Lane lane = columns.lane(value);
    Lane chosen = columns.lane(operand);
    Lane equal = columns.lane(before);
    int count = 0;
    for (Value other : columns.datapath().values().subList(0, value.index())) {
      boolean isOperand = value.step().operands().contains(other);
      if (!isOperand
          && other.format().equals(operand.format())
          && !(other.step() instanceof Constant)
          && count++ < MOST_OTHERS) {
        Lane instead = columns.lane(other);
        String words = "gives " + other.name() + " where it should give " + operand.name();
        after(
            EXCHANGED,
            words,
            (result, cases) -> {
              for (int i = 0; i < cases; i++) {
                lane.low[i] = lane.low[i] == chosen.low[i] ? instead.low[i] : lane.low[i];
              }
            });
        after(
            EXCHANGED,
            words + " and not " + before.name(),
            (result, cases) -> {
              for (int i = 0; i < cases; i++) {
                lane.low[i] = lane.low[i] != equal.low[i] ? instead.low[i] : lane.low[i];
              }
            });
      }
    }
  }

  /** A change of what the step takes as an operand. */
  Variation before(Variation.Kind kind, String words, Value operand, LaneChange change) {
    Lane lane = columns.lane(operand);
    Loop own = columns.loops()[value.index()];
    long[] low = columns.spare(0);
    long[] high = columns.spare(1);
    Loop loop =
        count -> {
          System.arraycopy(lane.low, 0, low, 0, count);
          if (lane.high != null) {
            System.arraycopy(lane.high, 0, high, 0, count);
          }
          try {
            change.apply(lane, count);
            own.run(count);
          } finally {
            System.arraycopy(low, 0, lane.low, 0, count);
            if (lane.high != null) {
              System.arraycopy(high, 0, lane.high, 0, count);
            }
          }
        };
    return add(kind, "step " + name + " " + words, loop, null);
  }

  private Variation add(Variation.Kind kind, String words, Loop loop, Lane spoilt) {
    Variation one =
        new Variation(kind, words, List.of(new Variation.Part(columns, value, loop, spoilt)));
    made.add(one);
    return one;
  }

  static String rows(int rows) {
    int far = Math.abs(rows);
    return far + (far == 1 ? " cycle " : " cycles ") + (rows > 0 ? "later" : "before");
  }

  private void operands() {
    for (Value operand : new ArrayList<>(new LinkedHashSet<>(value.step().operands()))) {
      if (columns.lane(operand) == columns.lane(value) || isConstant(operand)) {
        continue;
      }
      for (int far = 1; hasNeighbours && far <= FARTHEST; far++) {
        for (int rows : new int[] {far, -far}) {
          Variation one =
              before(
                  NEIGHBOUR,
                  "takes " + operand.name() + " of " + rows(rows),
                  operand,
                  LaneChange.from(rows));
          if (far == 1) {
            taking.computeIfAbsent(operand.name() + rows, key -> new ArrayList<>()).add(one);
          }
        }
      }
      Format format = operand.format();
      if (format.width() > 1 && format.width() != Long.SIZE) {
        before(
            SIGN,
            "takes " + operand.name() + (format.signed() ? " without its sign" : " as signed"),
            operand,
            LaneChange.narrowed(format.width(), !format.signed()));
        before(
            WIDTH,
            "takes " + operand.name() + " without its highest bit",
            operand,
            LaneChange.narrowed(format.width() - 1, format.signed()));
      }
      others(operand);
      unrounded(operand);
    }
  }

  /**
   * What an operand is made from by rounding or saturation, in its place where only its sign
   * matters; that stands a register before it, so that it may be a neighbour's.
   */
  private void unrounded(Value operand) {
    if (!(value.step() instanceof Compare && operand.step() instanceof Convert convert)) {
      return;
    }
    boolean ofSign =
        value.step().operands().stream()
            .allMatch(one -> one == operand || one.range().within(0, 0));
    Value before = convert.operand(0);
    if (!ofSign || before.wide() != operand.wide()) {
      return;
    }
    LaneChange instead = LaneChange.of(columns.lane(before));
    String words = "takes " + before.name() + " for " + operand.name();
    before(EXCHANGED, words, operand, instead);
    for (int rows : hasNeighbours ? new int[] {1, -1} : new int[0]) {
      before(NEIGHBOUR, words + ", of " + rows(rows), operand, instead.then(LaneChange.from(rows)));
    }
  }

  /** Earlier values of as many bits in the place of an operand, wherever their points are. */
  private void others(Value operand) {
    int count = 0;
    for (Value other : columns.datapath().values().subList(0, value.index())) {
      if (other != operand
          && columns.lane(other) != columns.lane(operand)
          && other.wide() == operand.wide()
          && other.format().width() == operand.format().width()
          && other.format().signed() == operand.format().signed()
          && !(other.step() instanceof Constant)
          && count++ < MOST_OTHERS) {
        before(
            EXCHANGED,
            "takes " + other.name() + " for " + operand.name(),
            operand,
            LaneChange.of(columns.lane(other)));
      }
    }
  }

  private void result(Set<Integer> widths) {
    Format format = value.format();
    boolean isConstant = value.step() instanceof Constant;
    if (isConstant) {
      ConstantVariations.of(value, this);
      return;
    }
    neighbours();
    if (format.width() == 1) {
      gated();
      after(DECISION, "is always 0", LaneChange.stuck(format, 0, false));
      after(DECISION, "is always 1", LaneChange.stuck(format, 0, true));
      after(DECISION, "is inverted", LaneChange.inverted());
      return;
    }
    widths(widths);
    after(WIDTH, "is twice as much", LaneChange.shifted(format, true));
    if (format.width() < Long.SIZE - 1 || (value.wide() && format.width() < 127)) {
      after(WIDTH, "is twice as much, with a bit more", LaneChange.doubled());
    }
    after(WIDTH, "is half as much", LaneChange.shifted(format, false));
    for (int bit = 0; bit < Math.min(format.width(), Long.SIZE); bit++) {
      after(STUCK_BIT, "has bit " + bit + " always 0", LaneChange.stuck(format, bit, false));
      after(STUCK_BIT, "has bit " + bit + " always 1", LaneChange.stuck(format, bit, true));
    }
  }

  /** A decision that another one takes part in. */
  private void gated() {
    flags(value)
        .forEach(
            flag ->
                Gate.ALL.forEach(
                    gate ->
                        after(
                            DECISION,
                            "is " + value.name() + " " + gate.words(flag.name()),
                            gate.with(columns.lane(flag)))));
  }

  /** A condition that another decision takes part in, where it chooses. */
  void gatedCondition(Value condition) {
    flags(condition)
        .forEach(
            flag ->
                Gate.ALL.forEach(
                    gate ->
                        before(
                            DECISION,
                            "chooses by " + condition.name() + " " + gate.words(flag.name()),
                            condition,
                            gate.with(columns.lane(flag)))));
  }

  /** Other decisions that are known before a step, the last ones. */
  private List<Value> flags(Value but) {
    List<Value> flags =
        columns.datapath().values().subList(0, value.index()).stream()
            .filter(other -> other != but && other.format().width() == 1 && !other.hidden())
            .filter(other -> !(other.step() instanceof Constant))
            .filter(other -> columns.lane(other) != columns.lane(but))
            .toList();
    return flags.subList(Math.max(0, flags.size() - MOST_FLAGS), flags.size());
  }

  private void neighbours() {
    for (int far = 1; hasNeighbours && far <= FARTHEST; far++) {
      for (int rows : new int[] {far, -far}) {
        after(NEIGHBOUR, "is that of " + rows(rows), LaneChange.from(rows));
        after( // a register that waits for the valid of another stage
            NEIGHBOUR,
            "keeps what it was where no case comes " + rows(rows),
            LaneChange.held(taken, rows));
      }
    }
  }

  private void widths(Set<Integer> widths) {
    Format format = value.format();
    Set<Integer> narrower = new TreeSet<>(widths);
    for (int lost = 1; lost <= MOST_LOST; lost++) {
      narrower.add(format.width() - lost);
    }
    for (int bits : narrower) {
      if (bits > 0 && bits < format.width()) {
        after(
            WIDTH,
            "keeps its lowest " + bits + " bits",
            LaneChange.narrowed(bits, format.signed()));
      }
    }
    if (format.width() != Long.SIZE && format.width() < 127) {
      after(
          SIGN,
          format.signed() ? "loses its sign" : "is taken as signed",
          LaneChange.narrowed(format.width(), !format.signed()));
    }
    for (int bits = 1; bits <= MOST_GUARD && bits < format.width(); bits++) {
      after(ROUNDING, "is without its lowest " + bits + " bits", LaneChange.without(bits));
    }
    StepVariations.ofResult(value, this);
  }
}
