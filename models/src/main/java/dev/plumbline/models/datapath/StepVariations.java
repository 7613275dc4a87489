package dev.plumbline.models.datapath;

import static dev.plumbline.models.datapath.Variation.Kind.DECISION;
import static dev.plumbline.models.datapath.Variation.Kind.EXCHANGED;
import static dev.plumbline.models.datapath.Variation.Kind.OVERFLOW;
import static dev.plumbline.models.datapath.Variation.Kind.ROUNDING;
import static dev.plumbline.models.datapath.Variation.Kind.SIGN;

import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.util.Locale;

/** What each kind of step might do instead. */
final class StepVariations {
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
    } else if (step instanceof Select) {
      select(step, maker);
    } else if (step instanceof Root) {
      for (Rounding rounding : new Rounding[] {Rounding.FLOOR, Rounding.HALF_EVEN}) {
        maker.replaced(ROUNDING, "rounds " + words(rounding), new Root(step.operand(0), rounding));
      }
    } else if (step instanceof Absolute || step instanceof Negate) {
      maker.after(
          SIGN, "leaves the sign as it is", LaneChange.of(maker.columns().lane(step.operand(0))));
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
    if (convert.mayOverflow()) {
      Overflow other = convert.overflow() == Overflow.WRAP ? Overflow.SATURATE : Overflow.WRAP;
      maker.replaced(
          OVERFLOW,
          other == Overflow.WRAP ? "wraps instead of saturating" : "saturates instead of wrapping",
          new Convert(operand, convert.declaredFormat(), convert.rounding(), other));
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
    maker.replaced(
        EXCHANGED, "has its two values exchanged", new Select(condition, whenFalse, whenTrue));
    maker.replaced(
        DECISION, "is always " + whenTrue.name(), new Select(condition, whenTrue, whenTrue));
    maker.replaced(
        DECISION, "is always " + whenFalse.name(), new Select(condition, whenFalse, whenFalse));
  }
}
