package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;

/** The steps by which a budget widens what a sphere's formulas are made of. */
abstract class BudgetedSphereSteps extends SphereFrame {
  static final int GUARD = 8;

  /** Bits of a datapath's widest step. */
  static final int WIDEST = 126;

  final Budget budget;

  /** What roundings alone make. */
  final Budget roundings;

  final Format working;
  final int fine;
  final Value nothing;
  final Value one;

  BudgetedSphereSteps(Sphere sphere, Budget budget) {
    super(sphere, "budgeted_" + Sphere.BLOCK);
    this.budget = budget;
    this.working = budget.working();
    this.roundings = sphere.withFormula(Sphere.Formula.ANY).budget(working);
    this.fine = working.fractionBits() + GUARD;
    this.nothing = b.constant("nothing", new Format(true, 1, working.fractionBits()), 0);
    this.one = b.constant("one", Format.unsigned(2, 0), 1);
  }

  /**
   * Two uses of a sum are one rounding of it apart, and no further where its roundings alone are
   * allowed.
   */
  final Value use(String name, Value value, String quantity, Value... parts) {
    int places = budget.lsbs(quantity);
    if (places == 0) {
      return value;
    }
    return places > roundings.lsbs(quantity)
        ? b.allow(name, value, 2 * places, working)
        : b.allowUnlessExact(name, value, 1, working, parts);
  }

  final Value times(String name, String suffix, Value value, Value factor) {
    return b.multiply(name + "_times" + suffix, value, factor);
  }

  final Value square(String suffix, Value along) {
    return fine("square" + suffix, b.multiply("square_full" + suffix, along, along));
  }

  /** What the working format holds where it holds the value's square. */
  final Value half(String name, Value value) {
    int bits = working.fractionBits();
    return b.scale(name, value, Math.floorDiv(bits, 2) - bits);
  }

  /** A value of which even the square has no rounding to speak of, as far as two words hold it. */
  final Value sharp(String name, Value value) {
    return rounded(name, value, Math.max(fine, 62 - value.format().integerBits()));
  }

  /** A value with no more fraction bits than the reference itself needs. */
  final Value fine(String name, Value value) {
    return rounded(name, value, fine);
  }

  final Value rounded(String name, Value value, int fractionBits) {
    Format format = value.format();
    int dropped = format.fractionBits() - fractionBits;
    return dropped <= 0
        ? value
        : b.convert(
            name,
            value,
            new Format(true, Math.max(format.width() - dropped, 1) + 2, fractionBits),
            Rounding.HALF_CEILING,
            Overflow.SATURATE);
  }

  /**
   * The sum of exact parts, which stands in the value: each goes to a neighbour of the working
   * format or of a finer one, unless the budget is less than that or more.
   */
  final Value summed(String name, Value value, String quantity, Value... parts) {
    if (!byParts(quantity, parts)) {
      return allow(name, value, quantity, parts);
    }
    Value[] near = new Value[parts.length];
    for (int k = 0; k < parts.length; k++) {
      near[k] = rounded(name + "_near_" + k, parts[k], working.fractionBits());
    }
    return near.length == 1 ? near[0] : vectors.sum(name, near);
  }

  final boolean byParts(String quantity, Value... parts) {
    int places = budget.lsbs(quantity);
    return places <= roundings.lsbs(quantity) && 2 * places >= parts.length;
  }

  /**
   * What the budget allows a quantity. What roundings alone make is withheld where the working
   * format holds every part of it.
   */
  final Value allow(String name, Value value, String quantity, Value... parts) {
    int places = budget.lsbs(quantity);
    if (places == 0) {
      return value;
    }
    return places > roundings.lsbs(quantity)
        ? b.allow(name, value, places, working)
        : b.allowUnlessExact(name, value, places, working, parts);
  }
}
