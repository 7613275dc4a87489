package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.models.unit.Reciprocal;

/** The steps by which a budget widens the bounds of a solid. */
final class Allowances {
  private static final int MAX_INVERSE_BITS = 63;

  private final Datapath.Builder b;
  private final Budget budget;
  private final Format working;

  Allowances(Datapath.Builder b, Budget budget) {
    this.b = b;
    this.budget = budget;
    this.working = budget.working();
  }

  /** To the working format's LSB, either way; exact where that holds the value. */
  Value rounded(String name, Value value) {
    int drop = value.format().fractionBits() - working.fractionBits();
    if (drop <= 0) {
      return value;
    }
    Format format = new Format(true, value.format().width() - drop + 2, working.fractionBits());
    return b.convert(name, value, format, Rounding.HALF_CEILING, Overflow.SATURATE);
  }

  /** What the budget allows a quantity. */
  Value allow(String name, Value value, String quantity) {
    return allow(name, value, budget.lsbs(quantity));
  }

  /** So many LSB of the working format either way. */
  Value allow(String name, Value value, int places) {
    return places == 0 ? value : b.allow(name, value, places, working);
  }

  /** The value, or what is left of it in so many bits before the point. */
  Value orSaturated(String name, Value value, int integerBits) {
    Format limited = Format.signed(integerBits, value.format().fractionBits());
    if (limited.holds(value.min()) && limited.holds(value.max())) {
      return value;
    }
    Value saturated =
        b.convert(name + "_saturated", value, limited, Rounding.FLOOR, Overflow.SATURATE);
    return b.either(name, value, saturated);
  }

  /**
   * One over a value within an LSB and what the budget allows; it may saturate.
   *
   * @param finest fraction bits of the smallest value whose inverse has to be held
   * @param integerBits of hardware whose inverse saturates
   */
  Value inverse(String suffix, Value value, int finest, String quantity, int integerBits) {
    int fraction = working.fractionBits();
    Format wide = new Format(true, Math.min(finest + fraction + 2, MAX_INVERSE_BITS), fraction);
    Reciprocal reciprocal = Reciprocal.between(value.format(), wide);
    Value inverse = b.unit("inverse_wide" + suffix, reciprocal.unit(), value);
    Value allowed = allow("inverse_allowed" + suffix, inverse, quantity);
    return orSaturated("inverse" + suffix, allowed, integerBits);
  }

  /**
   * Hardware that compares distances before they saturate may tell two apart that both are beyond
   * the word.
   */
  Value orBeyond(Value hit, Value entry, Value highest) {
    Value beyond = b.atMost("beyond", highest, entry);
    return b.either("hit_allowed", hit, b.and("hit_within", hit, b.not("within", beyond)));
  }
}
