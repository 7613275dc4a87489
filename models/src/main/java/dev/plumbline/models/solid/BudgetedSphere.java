package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.models.unit.Reciprocal;

/**
 * Decisions and distances as the declared formula gives them within a budget, or as any of three
 * does, and everything between them.
 *
 * <p>What hardware may be off is kept apart from the value it is off from wherever an interval
 * would otherwise count it twice: the square of the perpendicular does not change, to first order,
 * with an error of the projection, and intervals alone do not know that. The reference's own
 * roundings are {@value #GUARD} bits finer than a LSB of the working format.
 */
final class BudgetedSphere extends SphereFrame {
  private static final int GUARD = 8;

  /** Bits of the inverse of a squared length, which is near 1. */
  private static final int INVERSE_WHOLE = 5;

  private static final int INVERSE_FRACTION = 30;

  private final Budget budget;
  private final int fine;
  private final Value nothing;

  // What all formulas begin with; the excess is the squared distance less the squared radius.
  private final Value[] offset;
  private final Value dot;
  private final Value foot;
  private final Value projection;
  private final Value length;
  private final Value excess;

  BudgetedSphere(Sphere sphere, Budget budget) {
    super(sphere, "budgeted_" + Sphere.BLOCK);
    this.budget = budget;
    this.fine = budget.working().fractionBits() + GUARD;
    this.nothing = b.constant("nothing", new Format(true, 1, budget.working().fractionBits()), 0);
    Value[] apart = vectors.subtract("apart", centre, origin);
    boolean coarse = budget.working().fractionBits() < word.fractionBits();
    this.offset =
        coarse ? vectors.each("offset", (name, k) -> allow(name, apart[k], "offset")) : apart;
    this.dot = vectors.dot("dot", offset, direction);
    this.foot = fine("foot", dot);
    this.projection = allow("projection", foot, "projection");
    this.length = vectors.dot("squared_length", direction, direction);
    Value reach = vectors.dot("reach", offset, offset);
    Value full = b.subtract("excess_full", reach, b.multiply("squared_radius", radius, radius));
    this.excess = allow("excess", full, "squared_distance");
  }

  Datapath describe() {
    return switch (sphere.formula()) {
      case LENGTH -> finish(byLength("", square()), offset);
      case SQUARES -> finish(bySquares("", square()), offset);
      case PERPENDICULAR -> finish(byPerpendicular(""), offset);
      case ANY -> {
        // The first is the ideal one.
        Value square = square();
        Crossing two = either("_of_two", byLength("_a", square), bySquares("_b", square));
        yield finish(either("", two, byPerpendicular("_c")), offset);
      }
    };
  }

  /** (b^2 - a c) / a. */
  private Crossing byLength(String suffix, Value square) {
    Value scaled = fine("scaled" + suffix, b.multiply("scaled_full" + suffix, length, excess));
    Value full = b.subtract("discriminant_full" + suffix, square, scaled);
    return crossing(suffix, full, inverse());
  }

  /** b^2 - c. */
  private Crossing bySquares(String suffix, Value square) {
    Value full = b.subtract("discriminant_full" + suffix, square, excess);
    return crossing(suffix, full, null);
  }

  private Crossing byPerpendicular(String suffix) {
    return crossing(suffix, across(), null);
  }

  private Value square() {
    return fine("square", b.multiply("square_full", projection, projection));
  }

  /** Root, distances and decisions of one formula; with an inverse, all over the length. */
  private Crossing crossing(String suffix, Value full, Value inverse) {
    Value rounded = fine("discriminant_rounded" + suffix, full);
    Value discriminant = allow("discriminant" + suffix, rounded, "discriminant");
    Value root = root(suffix, discriminant);
    Value near = b.subtract("to_entry" + suffix, projection, root);
    Value far = b.add("to_exit" + suffix, projection, root);
    Value entry = distance("entry" + suffix, near, inverse);
    Value exit = distance("exit" + suffix, far, inverse);
    return decide(suffix, discriminant, entry, exit);
  }

  /** One formula or another. */
  private Crossing either(String suffix, Crossing first, Crossing other) {
    return new Crossing(
        b.either("meets" + suffix, first.meets(), other.meets()),
        b.either("hit" + suffix, first.hit(), other.hit()),
        b.either("inside" + suffix, first.inside(), other.inside()),
        b.either("entry" + suffix, first.entry(), other.entry()),
        b.either("exit" + suffix, first.exit(), other.exit()));
  }

  /**
   * The squared radius less the square of offset - foot * direction: that is, foot^2 - foot^2 *
   * (length - 1) - excess, less what errors of the foot and of each component make of it.
   */
  private Value across() {
    Value sharp = sharp("foot_sharp", dot);
    Value square = fine("foot_square", b.multiply("foot_square_full", sharp, sharp));
    Value one = b.constant("one", Format.unsigned(2, 0), 1);
    Value surplus = b.subtract("surplus", length, one);
    Value bent = fine("bent", b.multiply("bent_full", square, surplus));
    Value exact = b.subtract("exact", b.subtract("straight", square, bent), excess);
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

  private Value root(String suffix, Value discriminant) {
    Value positive = b.maximum("positive" + suffix, discriminant, zero);
    int fraction = Math.max(2 * (fine - GUARD / 2), positive.format().fractionBits());
    Value radicand = b.extend("radicand" + suffix, positive, fraction);
    Value root = b.squareRoot("root_full" + suffix, radicand, Rounding.FLOOR);
    return b.maximum("root" + suffix, allow("root_off" + suffix, root, "root"), zero);
  }

  /** Within the budget of a distance, as a word. */
  private Value distance(String name, Value along, Value inverse) {
    Value full =
        inverse == null
            ? along
            : fine(name + "_over", b.multiply(name + "_over_full", along, inverse));
    return distance(name, allow(name + "_off", full, "distance"));
  }

  /**
   * One over the squared length a of the direction, as 1 - (a - 1)/a: near 1, where lengths are,
   * the LSB of 1/a then counts for little.
   */
  private Value inverse() {
    int fraction = Math.min(length.format().fractionBits(), 62 - INVERSE_FRACTION);
    Format format = Format.unsigned(length.format().integerBits() + 1, fraction);
    Reciprocal reciprocal =
        Reciprocal.between(format, Format.unsigned(INVERSE_WHOLE, INVERSE_FRACTION));
    Value rounded = b.convert("length", length, format, Rounding.HALF_CEILING, Overflow.SATURATE);
    Value coarse = b.unit("inverse_length", reciprocal.unit(), rounded);
    Value one = b.constant("whole", Format.unsigned(2, 0), 1);
    Value off = b.multiply("length_off", b.subtract("length_less_one", length, one), coarse);
    return b.subtract(
        "over_length", one, rounded("length_off_rounded", off, INVERSE_FRACTION + GUARD));
  }

  /** A value of which even the square has no rounding to speak of, as far as two words hold it. */
  private Value sharp(String name, Value value) {
    return rounded(name, value, Math.max(fine, 62 - value.format().integerBits()));
  }

  /** A value with no more fraction bits than the reference itself needs. */
  private Value fine(String name, Value value) {
    return rounded(name, value, fine);
  }

  private Value rounded(String name, Value value, int fractionBits) {
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

  private Value allow(String name, Value value, String quantity) {
    return b.allow(name, value, budget.lsbs(quantity), budget.working());
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
