package dev.plumbline.models.datapath;

import static dev.plumbline.models.datapath.Variation.Kind.CONSTANT;
import static dev.plumbline.models.datapath.Variation.Kind.DECISION;
import static dev.plumbline.models.datapath.Variation.Kind.EXCHANGED;
import static dev.plumbline.models.datapath.Variation.Kind.NEIGHBOUR;
import static dev.plumbline.models.datapath.Variation.Kind.OVERFLOW;
import static dev.plumbline.models.datapath.Variation.Kind.SIGN;
import static dev.plumbline.models.datapath.Variation.Kind.STUCK_BIT;
import static dev.plumbline.models.datapath.Variation.Kind.WIDTH;

import dev.plumbline.models.fixed.Format;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;

/** Every change of one step that an evaluation can make, those inside units among them. */
final class VariationMaker {
  /** Cases between which something may be taken for a neighbour's. */
  private static final int FARTHEST = 3;

  /** Values that one may be taken for. */
  private static final int MOST_OTHERS = 64;

  private final int capacity;
  private final List<Variation> made = new ArrayList<>();
  private Columns columns;
  private Value value;
  private String name;

  VariationMaker(int capacity) {
    this.capacity = capacity;
  }

  /** Changes of all steps whose lanes these are; names begin with a prefix. */
  List<Variation> of(Columns bound, String prefix) {
    Set<Integer> widths = new TreeSet<>();
    bound.datapath().inputs().forEach(each -> widths.add(each.format().width()));
    bound.datapath().outputs().forEach(each -> widths.add(each.format().width()));
    for (Value each : bound.datapath().values()) {
      columns = bound;
      value = each;
      name = prefix + each.name();
      if (each.step() instanceof UnitStep) {
        made.addAll(new VariationMaker(capacity).of(bound.nested(each.name()), name + "."));
      }
      if (each.step().sameColumns() == null) {
        operands();
        StepVariations.of(each.step(), this);
        if (!each.hidden()) {
          result(widths);
        }
      }
    }
    return made;
  }

  Columns columns() {
    return columns;
  }

  Value value() {
    return value;
  }

  /** A change of the step's own loop. */
  void replaced(Variation.Kind kind, String words, Loop loop) {
    made.add(new Variation(kind, "step " + name + " " + words, columns, value, loop, null));
  }

  /** Another step with the same operands and the same lane for its result. */
  void replaced(Variation.Kind kind, String words, Step other) {
    replaced(kind, words, other.bits(columns, value));
  }

  /** A change of the step's result. */
  void after(Variation.Kind kind, String words, LaneChange change) {
    Lane lane = columns.lane(value);
    Loop own = columns.loops()[value.index()];
    boolean filled = value.step() instanceof Input || value.step() instanceof Constant;
    Loop loop =
        count -> {
          own.run(count);
          change.apply(lane, count);
        };
    String what = value.step() instanceof Input ? "input " : "step ";
    made.add(
        new Variation(kind, what + name + " " + words, columns, value, loop, filled ? lane : null));
  }

  /** A change of what the step takes as an operand. */
  private void before(Variation.Kind kind, String words, Value operand, LaneChange change) {
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
    made.add(new Variation(kind, "step " + name + " " + words, columns, value, loop, null));
  }

  private static String rows(int rows) {
    int far = Math.abs(rows);
    return far + (far == 1 ? " cycle " : " cycles ") + (rows > 0 ? "later" : "before");
  }

  private void operands() {
    for (Value operand : new ArrayList<>(new LinkedHashSet<>(value.step().operands()))) {
      if (columns.lane(operand) == columns.lane(value) || operand.step() instanceof Constant) {
        continue;
      }
      for (int far = 1; far <= FARTHEST; far++) {
        for (int rows : new int[] {far, -far}) {
          before(
              NEIGHBOUR,
              "takes " + operand.name() + " of " + rows(rows),
              operand,
              LaneChange.from(rows));
        }
      }
      if (operand.wide()) {
        continue;
      }
      Format format = operand.format();
      if (format.width() > 1 && format.width() < Long.SIZE) {
        before(
            SIGN,
            "takes " + operand.name() + (format.signed() ? " without its sign" : " as signed"),
            operand,
            LaneChange.narrowed(format.width(), !format.signed()));
      }
      others(operand);
    }
  }

  /** Earlier values of the same kind in the place of an operand. */
  private void others(Value operand) {
    int count = 0;
    for (Value other : columns.datapath().values().subList(0, value.index())) {
      if (other != operand
          && columns.lane(other) != columns.lane(operand)
          && other.format().equals(operand.format())
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
    if (value.wide()) {
      neighbours();
      return;
    }
    if (isConstant) {
      after(CONSTANT, "is 1 LSB more", LaneChange.more(1));
      after(CONSTANT, "is 1 LSB less", LaneChange.more(-1));
      return;
    }
    neighbours();
    if (format.width() == 1) {
      after(DECISION, "is always 0", LaneChange.stuck(format, 0, false));
      after(DECISION, "is always 1", LaneChange.stuck(format, 0, true));
      after(DECISION, "is inverted", LaneChange.inverted());
      return;
    }
    widths(widths);
    after(WIDTH, "is twice as much", LaneChange.shifted(format, true));
    after(WIDTH, "is half as much", LaneChange.shifted(format, false));
    for (int bit = 0; bit < Math.min(format.width(), Long.SIZE); bit++) {
      after(STUCK_BIT, "has bit " + bit + " always 0", LaneChange.stuck(format, bit, false));
      after(STUCK_BIT, "has bit " + bit + " always 1", LaneChange.stuck(format, bit, true));
    }
  }

  private void neighbours() {
    for (int far = 1; far <= FARTHEST; far++) {
      for (int rows : new int[] {far, -far}) {
        after(NEIGHBOUR, "is that of " + rows(rows), LaneChange.from(rows));
      }
    }
  }

  private void widths(Set<Integer> widths) {
    Format format = value.format();
    Set<Integer> narrower = new TreeSet<>(widths);
    narrower.add(format.width() - 1);
    narrower.add(format.width() - 2);
    for (int bits : narrower) {
      if (bits > 0 && bits < format.width() && bits < Long.SIZE) {
        after(
            WIDTH,
            "keeps its lowest " + bits + " bits",
            LaneChange.narrowed(bits, format.signed()));
      }
    }
    if (format.width() < Long.SIZE) {
      after(
          SIGN,
          format.signed() ? "loses its sign" : "is taken as signed",
          LaneChange.narrowed(format.width(), !format.signed()));
    }
    if (value.step() instanceof LookUp table) {
      Lane index = columns.lane(table.operand(0));
      for (int entry = 0; entry < table.size(); entry++) {
        for (int bit = 0; bit < format.width(); bit++) {
          after(
              CONSTANT,
              "has another bit " + bit + " in entry " + entry,
              LaneChange.entry(index, entry, 1L << bit));
        }
      }
    }
    if (value.step() instanceof Subtract) {
      after(EXCHANGED, "has its operands exchanged", LaneChange.negated());
    }
    if (value.step() instanceof Extremum limit) {
      for (int i = 0; i < 2; i++) {
        boolean limits = limit.operand(1 - i).step() instanceof Constant;
        after(
            limits ? OVERFLOW : DECISION,
            limits
                ? "does not limit " + limit.operand(i).name()
                : "is always " + limit.operand(i).name(),
            LaneChange.of(columns.lane(limit.operand(i))));
      }
    }
  }
}
