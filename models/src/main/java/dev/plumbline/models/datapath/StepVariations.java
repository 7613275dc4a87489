package dev.plumbline.models.datapath;

import static dev.plumbline.models.datapath.Variation.Kind.CONSTANT;
import static dev.plumbline.models.datapath.Variation.Kind.DECISION;
import static dev.plumbline.models.datapath.Variation.Kind.EXCHANGED;
import static dev.plumbline.models.datapath.Variation.Kind.OVERFLOW;
import static dev.plumbline.models.datapath.Variation.Kind.ROUNDING;
import static dev.plumbline.models.datapath.Variation.Kind.SIGN;
import static dev.plumbline.models.datapath.Variation.Kind.WIDTH;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.util.Locale;

/** What each kind of step might do instead. */
final class StepVariations {
  /** Entries of a table, any of which may have a wrong bit. */
  private static final int MOST_ENTRIES = 1024;

  private StepVariations() {}

  static void of(Step step, VariationMaker maker) {
    if (step instanceof Convert convert) {
      convert(convert, maker);
    } else if (step instanceof Compare compare) {
      compare(compare, maker);
    } else if (step instanceof Extremum extremum) {
      maker.replaced(
          EXCHANGED,
          "takes the other of the two",
          new Extremum(extremum.operand(0), extremum.operand(1), !extremum.larger()));
      extremum(extremum, maker);
    } else if (step instanceof Select) {
      select(step, maker);
    } else if (step instanceof Root) {
      for (Rounding rounding : new Rounding[] {Rounding.FLOOR, Rounding.HALF_EVEN}) {
        maker.replaced(ROUNDING, "rounds " + words(rounding), new Root(step.operand(0), rounding));
      }
      RootVariations.of(step, maker);
    } else if (step instanceof Logic) {
      if (step.operands().size() == 2) {
        gates(step, maker);
      }
      for (Value operand : step.operands()) {
        maker.after(
            DECISION,
            "is " + operand.name() + " alone",
            LaneChange.of(maker.columns().lane(operand)));
      }
    } else if (step instanceof WordLogic logic) {
      words(logic, maker);
    } else if (step instanceof Rotate rotate) {
      maker.replaced(
          EXCHANGED,
          "turns the other way",
          new Rotate(rotate.operand(0), rotate.operand(1), !rotate.left()));
    } else if (step instanceof ReverseBits) {
      maker.after(
          EXCHANGED, "leaves their order", LaneChange.of(maker.columns().lane(step.operand(0))));
    } else if (step instanceof Shift shift) {
      shift(shift, maker);
    } else if (step instanceof Field field) {
      field(field, maker);
    } else if (step instanceof Concatenate || step instanceof Choose) {
      orders(step, maker);
    } else if (step instanceof CyclicCode code) {
      maker.replaced(EXCHANGED, "takes bits in the other order", code.inTheOtherOrder());
    } else if (step instanceof LeadingZeros) {
      maker.after(CONSTANT, "is 1 more", LaneChange.more(1));
      maker.after(CONSTANT, "is 1 less", LaneChange.more(-1));
    } else if (step instanceof FloatStep floating) {
      for (FloatStep.Coding coding : FloatStep.Coding.values()) {
        if (coding != FloatStep.Coding.NEAREST_EVEN) {
          boolean rounds = coding.compareTo(FloatStep.Coding.AWAY) <= 0;
          maker.replaced(rounds ? ROUNDING : OVERFLOW, coding.words(), floating.coded(coding));
        }
      }
    } else if (step instanceof FloatToFixed fixed) {
      for (Rounding rounding : Rounding.values()) {
        if (rounding != fixed.rounding()) {
          maker.replaced(ROUNDING, "rounds " + words(rounding), fixed.rounded(rounding));
        }
      }
    } else if (step instanceof FloatCompare compare) {
      for (Compare.Relation relation : Compare.Relation.values()) {
        if (relation != compare.relation()) {
          maker.replaced(
              DECISION,
              "compares by " + relation.sign() + " instead of " + compare.relation().sign(),
              compare.by(relation));
        }
      }
    } else if (step instanceof Add) {
      String taken = "takes " + step.operand(1).name() + " away";
      maker.replaced(SIGN, taken, new Subtract(step.operand(0), step.operand(1)));
    } else if (step instanceof Subtract) {
      String added = "adds " + step.operand(1).name();
      maker.replaced(SIGN, added, new Add(step.operand(0), step.operand(1)));
    } else if (step instanceof Multiply) {
      unsigned(step, maker);
    } else if (step instanceof Absolute || step instanceof Negate) {
      maker.after(
          SIGN, "leaves the sign as it is", LaneChange.of(maker.columns().lane(step.operand(0))));
    }
  }

  /** What it may give instead, of more than a bit. */
  static void ofResult(Value value, VariationMaker maker) {
    Step step = value.step();
    if (step instanceof LookUp table) {
      entries(0, table.size(), maker);
    } else if (step instanceof Table table && table.size() <= MOST_ENTRIES) {
      entries(table.first(), table.size(), maker);
    }
    if (step instanceof Multiply) {
      maker.after(SIGN, "has the other sign", LaneChange.negated());
    }
    if (step instanceof Subtract) {
      maker.after(EXCHANGED, "has its operands exchanged", LaneChange.negated());
    }
    if (step instanceof Extremum limit) {
      for (int i = 0; i < 2; i++) {
        boolean limits = VariationMaker.isConstant(limit.operand(1 - i));
        String name = limit.operand(i).name();
        maker.after(
            limits ? OVERFLOW : DECISION,
            limits ? "does not limit " + name : "is always " + name,
            LaneChange.of(maker.columns().lane(limit.operand(i))));
      }
    }
  }

  private static void entries(long first, int size, VariationMaker maker) {
    Value value = maker.value();
    Lane index = maker.columns().lane(value.step().operand(0));
    for (int entry = 0; entry < size; entry++) {
      for (int bit = 0; bit < value.format().width(); bit++) {
        maker.after(
            CONSTANT,
            "has another bit " + bit + " in entry " + entry,
            LaneChange.entry(index, first + entry, 1L << bit));
      }
    }
  }

  /** A multiplier for unsigned operands where both are signed. */
  private static void unsigned(Step multiply, VariationMaker maker) {
    Value left = multiply.operand(0);
    Value right = multiply.operand(1);
    Format product = maker.value().format();
    boolean isNarrow = !maker.value().wide() && product.width() < Long.SIZE;
    if (!isNarrow || left == right || !left.format().signed() || !right.format().signed()) {
      return;
    }
    Lane a = maker.columns().lane(left);
    Lane b = maker.columns().lane(right);
    Lane out = maker.columns().lane(maker.value());
    long bitsOfA = (1L << left.format().width()) - 1;
    long bitsOfB = (1L << right.format().width()) - 1;
    maker.replaced(
        SIGN,
        "takes both operands without their signs",
        count -> {
          for (int i = 0; i < count; i++) { // what is beyond a word is beyond the product too
            out.low[i] = product.extend((a.low[i] & bitsOfA) * (b.low[i] & bitsOfB));
          }
        });
  }

  private static void words(WordLogic logic, VariationMaker maker) {
    for (WordLogic.Kind kind : WordLogic.Kind.values()) {
      if (kind != logic.kind() && kind != WordLogic.Kind.NOT && logic.operands().size() == 2) {
        maker.replaced(
            DECISION,
            "combines by " + kind.sign() + " instead of " + logic.kind().sign(),
            new WordLogic(kind, logic.operand(0), logic.operand(1)));
      }
    }
  }

  private static final String[] GATES = { // by what they give for a, b of 00, 01, 10, 11
    "", "not (%a or %b)", "%b and not %a", "", "%a and not %b", "", "%a unless %b, or %b unless %a",
    "not (%a and %b)", "%a and %b", "%a equal to %b", "", "%b or not %a", "", "%a or not %b",
    "%a or %b", ""
  };

  /** Any other gate of two operands that depends on both. */
  private static void gates(Step logic, VariationMaker maker) {
    Lane a = maker.columns().lane(logic.operand(0));
    Lane b = maker.columns().lane(logic.operand(1));
    Lane out = maker.columns().lane(maker.value());
    for (int gate = 0; gate < GATES.length; gate++) {
      int table = gate;
      if (!GATES[gate].isEmpty()) {
        maker.replaced(
            DECISION,
            "is "
                + GATES[gate]
                    .replace("%a", logic.operand(0).name())
                    .replace("%b", logic.operand(1).name()),
            count -> {
              for (int i = 0; i < count; i++) {
                out.low[i] = (table >> (2 * a.low[i] + b.low[i])) & 1;
              }
            });
      }
    }
  }

  /** One place too many or too few, and zeros from above where the sign belongs. */
  private static void shift(Shift shift, VariationMaker maker) {
    Lane places = maker.columns().lane(shift.operand(1));
    if (!maker.value().wide() && !shift.operand(0).wide()) {
      maker.replaced(WIDTH, "shifts by 1 place more", shift.by(maker.columns(), maker.value(), 1));
      maker.replaced(WIDTH, "shifts by 1 place less", shift.by(maker.columns(), maker.value(), -1));
      if (!shift.left() && shift.operand(0).format().signed()) {
        maker.after(
            SIGN,
            "shifts zeros in",
            LaneChange.zerosFromAbove(places, shift.operand(0).format().width()));
      }
    }
  }

  /** The bits beside the field. */
  private static void field(Field field, VariationMaker maker) {
    for (int by : new int[] {-1, 1}) {
      if (field.low() + by >= 0 && field.high() + by <= 127) {
        maker.replaced(
            WIDTH,
            "takes bits " + (field.high() + by) + " to " + (field.low() + by),
            new Field(field.operand(0), field.high() + by, field.low() + by));
      }
    }
  }

  /** Two neighbours exchanged. */
  private static void orders(Step step, VariationMaker maker) {
    int first = step instanceof Choose ? 1 : 0;
    for (int k = first; k + 1 < step.operands().size(); k++) {
      Value[] operands = step.operands().toArray(new Value[0]);
      Value kept = operands[k];
      operands[k] = operands[k + 1];
      operands[k + 1] = kept;
      maker.replaced(
          EXCHANGED,
          "has " + operands[k + 1].name() + " and " + operands[k].name() + " exchanged",
          step instanceof Choose ? new Choose(operands) : new Concatenate(operands));
    }
  }

  private static void convert(Convert convert, VariationMaker maker) {
    Value operand = convert.operand(0);
    for (Rounding rounding : Rounding.values()) {
      if (convert.drops() && rounding != convert.rounding()) {
        maker.replaced(
            ROUNDING,
            "rounds " + words(rounding) + " instead of " + words(convert.rounding()),
            new Convert(operand, convert.declaredFormat(), rounding, convert.overflow()));
      }
    }
    if (convert.drops() && convert.rounding() == Rounding.HALF_CEILING) {
      maker.before(
          ROUNDING, "rounds half floor instead of half ceiling", operand, LaneChange.lower(false));
      maker.before(
          ROUNDING,
          "rounds half outwards instead of half ceiling",
          operand,
          LaneChange.lower(true));
    }
    if (convert.drops() && convert.declaredFormat().width() < Long.SIZE) {
      long least = convert.declaredFormat().minCode().longValue();
      long most = convert.declaredFormat().maxCode().longValue();
      LaneChange above = LaneChange.more(1).then(LaneChange.atMost(most));
      LaneChange below = LaneChange.more(-1).then(LaneChange.atLeast(least));
      maker.after(ROUNDING, "rounds so and gives the code above", above);
      maker.after(ROUNDING, "rounds so and gives the code below", below);
    }
    if (convert.mayOverflow()) {
      if (convert.overflow() == Overflow.SATURATE && convert.declaredFormat().width() < 64) {
        limits(convert, maker);
      }
      Overflow other = convert.overflow() == Overflow.WRAP ? Overflow.SATURATE : Overflow.WRAP;
      maker.replaced(
          OVERFLOW,
          other == Overflow.WRAP ? "wraps instead of saturating" : "saturates instead of wrapping",
          new Convert(operand, convert.declaredFormat(), convert.rounding(), other));
    }
  }

  /** The last code before an end of the range is taken for what should be the end. */
  private static void limits(Convert convert, VariationMaker maker) {
    long least = convert.declaredFormat().minCode().longValue();
    long most = convert.declaredFormat().maxCode().longValue();
    maker.after(OVERFLOW, "saturates 1 LSB early below", LaneChange.atLeast(least + 1));
    maker.after(OVERFLOW, "saturates 1 LSB early above", LaneChange.atMost(most - 1));
    maker.after(OVERFLOW, "saturates at the other end below", LaneChange.instead(least, most));
    maker.after(OVERFLOW, "saturates at the other end above", LaneChange.instead(most, least));
    Step wraps =
        new Convert(
            convert.operand(0), convert.declaredFormat(), convert.rounding(), Overflow.WRAP);
    Format format = convert.declaredFormat();
    Step wider =
        new Convert(
            convert.operand(0),
            new Format(format.signed(), format.width() + 1, format.fractionBits()),
            convert.rounding(),
            Overflow.SATURATE);
    if (format.signed() && format.width() < Long.SIZE - 1) {
      maker.whereLimited("saturates to 1 LSB above the lowest", least, least + 1, wider, false);
      maker.whereLimited("saturates to 1 LSB below the highest", most, most - 1, wider, false);
      maker.whereLimited("saturates 1 LSB late above", most, least, wider, true);
      maker.whereLimited("saturates 1 LSB late below", least, most, wider, true);
    }
    maker.where(OVERFLOW, "wraps above, saturates below", most, wraps);
    maker.where(OVERFLOW, "wraps below, saturates above", least, wraps);
  }

  private static void extremum(Extremum extremum, VariationMaker maker) {
    if (!maker.value().wide() && !extremum.operand(0).wide() && !extremum.operand(1).wide()) {
      blind(extremum, maker);
    }
    for (int i = 0; i < 2; i++) {
      Value operand = extremum.operand(i);
      int bits = operand.format().width() - 1;
      if (VariationMaker.isConstant(extremum.operand(1 - i))
          && operand.format().signed()
          && !operand.wide()
          && bits > 0) {
        maker.after(
            SIGN,
            "is " + operand.name() + " without its sign bit",
            LaneChange.of(maker.columns().lane(operand)).then(LaneChange.narrowed(bits, false)));
      }
      if (!operand.wide() && !maker.value().wide()) {
        maker.otherChosen(operand, extremum.operand(1 - i));
      }
    }
  }

  /** Operands that differ by one LSB alone count as equal; either may then be given. */
  private static void blind(Extremum extremum, VariationMaker maker) {
    Lane a = maker.columns().lane(extremum.operand(0));
    Lane b = maker.columns().lane(extremum.operand(1));
    Lane out = maker.columns().lane(maker.value());
    if (a == out || b == out) {
      return;
    }
    for (int tie = 0; tie < 2; tie++) {
      Lane other = tie == 0 ? b : a;
      Lane equal = tie == 0 ? a : b;
      maker.after(
          DECISION,
          "is " + extremum.operand(tie).name() + " where both differ in their lowest bit alone",
          (lane, count) -> {
            for (int i = 0; i < count; i++) {
              out.low[i] = equal.low[i] >> 1 == other.low[i] >> 1 ? equal.low[i] : out.low[i];
            }
          });
    }
  }

  private static String words(Rounding rounding) {
    return rounding.name().toLowerCase(Locale.ROOT).replace('_', ' ');
  }

  private static void compare(Compare compare, VariationMaker maker) {
    Value a = compare.operand(0);
    Value b = compare.operand(1);
    for (Compare.Relation relation : Compare.Relation.values()) {
      if (relation != compare.relation()) {
        maker.replaced(
            DECISION,
            "compares by " + relation.sign() + " instead of " + compare.relation().sign(),
            new Compare(relation, a, b));
      }
      if (relation != Compare.Relation.EQUAL) {
        maker.replaced(
            relation == compare.relation() ? EXCHANGED : DECISION,
            "compares " + b.name() + " " + relation.sign() + " " + a.name(),
            new Compare(relation, b, a));
      }
    }
  }

  private static void select(Step select, VariationMaker maker) {
    Value condition = select.operand(0);
    Value whenTrue = select.operand(1);
    Value whenFalse = select.operand(2);
    maker.gatedCondition(condition);
    maker.replaced(
        EXCHANGED, "has its two values exchanged", new Select(condition, whenFalse, whenTrue));
    maker.replaced(
        DECISION, "is always " + whenTrue.name(), new Select(condition, whenTrue, whenTrue));
    maker.replaced(
        DECISION, "is always " + whenFalse.name(), new Select(condition, whenFalse, whenFalse));
  }
}
