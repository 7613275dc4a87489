package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.models.unit.Reciprocal;

/**
 * The discriminant as three formulas give it within a budget, and everything between them; then one
 * root and both distances.
 *
 * <p>What hardware may be off is kept apart from the value it is off from wherever an interval
 * would otherwise count it twice: the square of the perpendicular does not change, to first order,
 * with an error of the projection, and intervals alone do not know that. The reference's own
 * roundings are {@value #GUARD} bits finer than a last place of the working format.
 */
final class BudgetedSphere extends SphereFrame {
  private static final int GUARD = 8;

  /** Bits of the inverse of a squared length, which is near 1. */
  private static final int INVERSE_WHOLE = 5;

  private static final int INVERSE_FRACTION = 30;

  private final Budget budget;
  private final int fine;
  private final Value nothing;

  BudgetedSphere(Sphere sphere, Budget budget) {
    super(sphere, "budgeted_" + Sphere.BLOCK);
    this.budget = budget;
    this.fine = budget.working().fractionBits() + GUARD;
    this.nothing = b.constant("nothing", new Format(true, 1, budget.working().fractionBits()), 0);
  }

  Datapath describe() {
    Value[] offset = vectors.subtract("apart", centre, origin);
    if (budget.working().fractionBits() < word.fractionBits()) {
      Value[] exact = offset;
      offset = vectors.each("offset", (name, axis) -> allow(name, exact[axis], "offset"));
    }
    Value foot = fine("foot", vectors.dot("dot", offset, direction));
    Value projection = allow("projection", foot, "projection");
    Value length = vectors.dot("squared_length", direction, direction);
    Value discriminant = discriminant(offset, foot, projection, length);
    Value meets = meets(discriminant);
    Value root = root(discriminant);
    Value inverse = inverse(length);
    Value entry = distance("entry", b.subtract("to_entry", projection, root), inverse);
    Value exit = distance("exit", b.add("to_exit", projection, root), inverse);
    return finish(meets, entry, exit, offset);
  }

  /** By the true squared length, or by b^2 - c, or by the perpendicular. */
  private Value discriminant(Value[] offset, Value foot, Value projection, Value length) {
    Value reach = vectors.dot("reach", offset, offset);
    Value excess = b.subtract("excess", reach, b.multiply("squared_radius", radius, radius));
    Value square = fine("square", b.multiply("square_full", projection, projection));
    Value loose = allow("loose", excess, "squared_distance");
    Value scaled = fine("scaled", b.multiply("scaled_full", length, loose));
    Value byLength = fine("by_length", b.subtract("by_length_full", square, scaled));
    Value bySquares = fine("by_squares", b.subtract("by_squares_full", square, loose));
    Value across = fine("by_across", across(offset, foot, projection, length, loose));
    Value two = b.either("two", byLength, bySquares);
    return allow("discriminant", b.either("three", two, across), "discriminant");
  }

  /**
   * The squared radius less the square of offset - foot * direction: that is, foot^2 * (2 - length)
   * - excess, less what errors of the foot and of each component make of it.
   */
  private Value across(Value[] offset, Value foot, Value projection, Value length, Value excess) {
    Value square = fine("foot_square", b.multiply("foot_square_full", foot, foot));
    Value one = b.constant("one", Format.unsigned(2, 0), 1);
    Value surplus = b.subtract("surplus", length, one);
    Value bend = b.subtract("bend", one, surplus);
    Value exact = b.subtract("exact", fine("bent", b.multiply("bent_full", square, bend)), excess);
    // An error s of the foot adds 2 s foot (length - 1) + s^2 length.
    Value slip = allow("slip", nothing, "projection");
    Value tilt = b.multiply("tilt_full", b.multiply("slipped", slip, foot), surplus);
    Value slide = b.multiply("slide_full", b.multiply("slip_square", slip, slip), length);
    Value ofFoot = b.add("of_foot", fine("tilt", b.scale("tilts", tilt, 1)), fine("slide", slide));
    // An error s of a component adds 2 s component + s^2.
    Value[] terms =
        vectors.each(
            "nudged",
            (name, axis) -> {
              Value along =
                  fine(name + "_along", b.multiply(name + "_full", projection, direction[axis]));
              Value component = b.subtract(name + "_across", offset[axis], along);
              Value nudge = allow(name + "_nudge", nothing, "offset");
              Value twice =
                  b.scale(name + "_twice", b.multiply(name + "_part", nudge, component), 1);
              return b.add(name, twice, b.multiply(name + "_square", nudge, nudge));
            });
    Value ofComponents = b.add("of_components", b.add("of_two", terms[0], terms[1]), terms[2]);
    return b.subtract(
        "across_full", exact, b.add("off", ofFoot, fine("off_components", ofComponents)));
  }

  private Value root(Value discriminant) {
    Value positive = b.maximum("positive", discriminant, zero);
    int fraction = Math.max(2 * (fine - GUARD / 2), positive.format().fractionBits());
    Value root = b.squareRoot("root_full", b.extend("radicand", positive, fraction), Rounding.DOWN);
    return b.maximum("root", allow("root_off", root, "root"), zero);
  }

  /** Over the true length or as it stands, then within the budget of a distance, as a word. */
  private Value distance(String name, Value along, Value inverse) {
    Value full = fine(name + "_over", b.multiply(name + "_over_full", along, inverse));
    return distance(name, allow(name + "_off", b.either(name + "_any", full, along), "distance"));
  }

  /** One over the squared length of the direction. */
  private Value inverse(Value length) {
    int fraction = Math.min(length.format().fractionBits(), 62 - INVERSE_FRACTION);
    Format format = Format.unsigned(length.format().integerBits() + 1, fraction);
    Reciprocal reciprocal =
        Reciprocal.between(format, Format.unsigned(INVERSE_WHOLE, INVERSE_FRACTION));
    Value rounded = b.convert("length", length, format, Rounding.HALF_UP, Overflow.SATURATE);
    return b.unit("inverse_length", reciprocal.unit(), rounded);
  }

  /** A value with no more fraction bits than the reference itself needs. */
  private Value fine(String name, Value value) {
    Format format = value.format();
    int dropped = format.fractionBits() - fine;
    return dropped <= 0
        ? value
        : b.convert(
            name,
            value,
            new Format(true, Math.max(format.width() - dropped, 1) + 2, fine),
            Rounding.HALF_UP,
            Overflow.SATURATE);
  }

  private Value allow(String name, Value value, String quantity) {
    return b.allow(name, value, budget.lastPlaces(quantity), budget.working());
  }

  @Override
  Value reach(String name, Value product) {
    return allow(name, product, "offset");
  }

  @Override
  Value ratio(String name, Value product) {
    return allow(name, product, "normal");
  }
}
