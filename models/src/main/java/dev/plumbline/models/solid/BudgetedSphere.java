package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.models.solid.Quotients.Direct;
import dev.plumbline.models.solid.Quotients.Way;
import java.util.List;

/**
 * Decisions and distances as the declared formula gives them within a budget, or as any of three
 * does, and everything between them.
 *
 * <p>What hardware may be off is kept apart from the value it is off from wherever an interval
 * would otherwise count it twice: the square of the perpendicular does not change, to first order,
 * with an error of the projection, and intervals alone do not know that. An allowance that stands
 * for roundings is withheld where the working format holds every product; each of three products
 * that are summed goes to a neighbour. The reference's own roundings are {@value #GUARD} bits finer
 * than an LSB of the working format.
 */
final class BudgetedSphere extends BudgetedSphereSteps {
  /** Lengths of which a crossing is found in one way alone are below 2 to the power of -4. */
  private static final int SHORT = 4;

  // What all formulas begin with.
  private final Value[] offset;
  private final Value[] dots;
  private final Value dot;
  private final Value foot;
  private final Value projection;
  private final Value[] reaches;
  private final Value reach;
  private final Value squaredRadius;
  private final Value[] squares;
  private final Value length;

  BudgetedSphere(Sphere sphere, Budget budget) {
    super(sphere, budget);
    Value[] apart = vectors.subtract("apart", centre, origin);
    this.offset =
        isCoarse()
            ? vectors.each("offset", (name, k) -> allow(name, apart[k], "offset", apart[k]))
            : apart;
    this.dots = vectors.products("dot", offset, direction);
    this.dot = vectors.sum("dot", dots);
    this.foot = fine("foot", dot);
    this.projection = summed("projection", foot, "projection", dots);
    this.reaches = vectors.products("reach", offset, offset);
    this.squaredRadius = b.multiply("squared_radius", radius, radius);
    this.reach = vectors.sum("reach", reaches);
    this.squares = vectors.products("squared_length", direction, direction);
    this.length = vectors.sum("squared_length", squares);
  }

  /** Whether offsets are rounded before anything is made of them. */
  private boolean isCoarse() {
    return working.fractionBits() < word.fractionBits();
  }

  Datapath describe() {
    return switch (sphere.formula()) {
      case LENGTH -> finish(byLength("", measured()), offset);
      case SQUARES -> finish(bySquares(), offset);
      case PERPENDICULAR -> finish(byPerpendicular(""), offset);
      case ANY -> {
        // The first is the ideal one. A length of 1 makes it the second.
        SquaredLength measured = measured();
        Value either = b.either("length_or_one", measured.value(), one);
        Value own = b.either("own_length_or_one", measured.own(), one);
        Crossing two = byLength("_a", new SquaredLength(either, own, measured.inverse()));
        yield finish(either(two, byPerpendicular("_c")), offset);
      }
    };
  }

  /** The direction's squared length as hardware has it, and its inverse, null where not allowed. */
  private record SquaredLength(Value value, Value own, Value inverse) {}

  /**
   * An inverse that is off by so much is that of another length, wherever it is used. Hardware may
   * take that of 2a, which is rounded to two LSB of what it is of a.
   */
  private SquaredLength measured() {
    Value full = summed("length_full", length, "length", squares);
    Value value = b.maximum("length", full, zero);
    int places = budget.lsbs("inverse");
    if (places == 0) {
      return new SquaredLength(value, value, null);
    }
    Value exact = b.divide("inverse_full", one, value, Format.signed(63 - fine, fine));
    Value inverse =
        places <= roundings.lsbs("inverse")
            ? rounded("inverse_length", exact, working.fractionBits() - (places - 1))
            : b.allow("inverse_length", exact, places, working);
    // At worst the inverse is half of what it should be, or nothing at all.
    int whole = value.format().integerBits() + 2;
    int bits = Math.min(Math.max(value.format().fractionBits(), fine), 63 - whole);
    Value back = b.divide("inverted_back", one, inverse, Format.signed(whole, bits));
    return new SquaredLength(b.either("length_or_inverse", value, back), value, inverse);
  }

  /**
   * (b^2 - a c) / a, where what c is rounded by counts the length. Where there is an inverse, b and
   * c may have been multiplied by it at first, and it counts the length, or its square, as often.
   */
  private Crossing byLength(String suffix, SquaredLength measured) {
    Value excess = excess(suffix);
    int most = WIDEST - excess.format().width() - measured.value().format().integerBits();
    Value a = rounded("held" + suffix, measured.value(), most);
    Value full = b.multiply("scaled_full" + suffix, a, excess);
    Value scaled = fine("scaled" + suffix, full);
    Value[] parts = {half("half_foot" + suffix, projection), squaredRadius, full};
    Value times = b.maximum("times" + suffix, a, one);
    if (measured.inverse() == null) {
      Value less = b.subtract("less" + suffix, square(suffix, projection), scaled);
      Value off = allow("own" + suffix, nothing, "discriminant", parts);
      Value discriminant = owing(suffix, less, times("owned", suffix, off, times));
      Value root = root(suffix, fullRoot(suffix, discriminant), null);
      return over(suffix, projection, root, a, discriminant, null);
    }
    // A whole inverse drops no bit of a product with it.
    Value whole = b.scale("whole" + suffix, measured.inverse(), -working.fractionBits());
    Value slip = b.allowUnlessExact("slip" + suffix, nothing, 1, working, whole);
    Value along =
        b.add("along" + suffix, projection, fine("slid" + suffix, times("slip", suffix, slip, a)));
    Value less = b.subtract("less" + suffix, square(suffix, along), scaled);
    Value off = allow("own" + suffix, nothing, "discriminant", parts[0], parts[1], parts[2], whole);
    Value twice = times("owned", suffix, times("own_times", suffix, off, times), times);
    Value discriminant = owing(suffix, less, twice);
    Value fullRoot = fullRoot(suffix, discriminant);
    Value lateRoot = lateRoot(suffix, ownLength(suffix, measured, a.format()), excess, twice);
    Value inverse = inverse(suffix, measured.inverse());
    Value growth = b.maximum("growth" + suffix, inverse, one);
    Value counted = fine("counted" + suffix, times);
    // Where an inverse is multiplied by at the end alone, the length under the root is another.
    Value slips = allow("inverse_slip" + suffix, nothing, "inverse", measured.inverse());
    Value divergent = use("length_use" + suffix, nothing, "length", squares);
    Value ratio =
        b.add(
            "ratio_full" + suffix,
            times("inverse_slip", suffix, slips, counted),
            times("length_use", suffix, divergent, growth));
    Value share = fine("share" + suffix, times("share", suffix, counted, growth));
    Value debt = fine("debt" + suffix, times("debt", suffix, off, share));
    Value c = b.subtract("c" + suffix, fine("excess_fine" + suffix, excess), debt);
    Value uses = fine("uses_grown" + suffix, times("uses", suffix, uses(suffix, fullRoot), growth));
    Value lowest = b.constant("short" + suffix, new Format(false, 1, SHORT), 1);
    Value sure =
        b.and(
            "sure" + suffix,
            b.lessThan("long" + suffix, lowest, a),
            b.atMost("real" + suffix, zero, discriminant));
    Value parted = fine("ratio" + suffix, ratio);
    Value beside = root("_late" + suffix, lateRoot, null);
    Way late = new Way(projection, lateRoot, parted, new Direct(projection, beside, a));
    Value grown = times("own_grown", suffix, b.add("own_more" + suffix, off, slip), growth);
    Way first = new Way(along, fullRoot, null, first(suffix, inverse, excess, grown));
    Quotients quotients = new Quotients(sure, c, uses, List.of(late, first));
    return over(suffix, along, root(suffix, fullRoot, times), a, discriminant, quotients);
  }

  private Value ownLength(String suffix, SquaredLength measured, Format format) {
    return b.convert(
        "held_own" + suffix, measured.own(), format, Rounding.HALF_CEILING, Overflow.SATURATE);
  }

  /** The root where an inverse is multiplied by at the end alone: of the length itself. */
  private Value lateRoot(String suffix, Value own, Value excess, Value off) {
    String late = "_late" + suffix;
    Value square = square(late, projection);
    Value scaled = fine("scaled" + late, b.multiply("scaled_full" + late, own, excess));
    return fullRoot(late, owing(late, b.subtract("less" + late, square, scaled), off));
  }

  /** The inverse over lengths above {@link #SHORT}. */
  private Value inverse(String suffix, Value inverse) {
    Value fine = fine("inverse_fine" + suffix, inverse);
    int bits = fine.format().fractionBits();
    Format format = new Format(true, SHORT + 2 + bits, bits);
    return b.convert("growing" + suffix, fine, format, Rounding.HALF_CEILING, Overflow.SATURATE);
  }

  /** b &#177; root of hardware that multiplies b and c by the inverse at first. */
  private Direct first(String suffix, Value inverse, Value excess, Value off) {
    String first = "_first" + suffix;
    Value product = b.multiply("along_full" + first, projection, inverse);
    Value along = rounded("along" + first, product, working.fractionBits());
    Value c = fine("c" + first, b.multiply("c_full" + first, excess, inverse));
    Value less = b.subtract("less" + first, square(first, along), c);
    return new Direct(along, root(first, fullRoot(first, owing(first, less, off)), null), null);
  }

  /** The root's own error, and that of b where it is rounded for each of its two uses by itself. */
  private Value uses(String suffix, Value root) {
    boolean less = sphere.roots() == Sphere.Roots.ANY && budget.lsbs("root") > 0;
    Value off =
        less
            ? b.allow("root_use" + suffix, nothing, budget.lsbs("root"), working)
            : allow("root_use" + suffix, nothing, "root", root);
    return use("uses" + suffix, off, "projection", dots);
  }

  /** Both distances over the squared length. */
  private Crossing over(
      String suffix, Value along, Value root, Value a, Value discriminant, Quotients q) {
    Value entry = quotient("entry" + suffix, b.subtract("to_entry" + suffix, along, root), a);
    Value exit = quotient("exit" + suffix, b.add("to_exit" + suffix, along, root), a);
    return crossing(suffix, discriminant, entry, exit, q);
  }

  private Crossing crossing(
      String suffix, Value discriminant, Value entry, Value exit, Quotients q) {
    Value near = entry;
    Value far = exit;
    if (q != null) {
      near = q.confined(this, true, "entry" + suffix, entry);
      far = q.confined(this, false, "exit" + suffix, exit);
    }
    return decide(
        suffix, discriminant, distance("entry" + suffix, near), distance("exit" + suffix, far));
  }

  Value quotient(String name, Value along, Value a) {
    int shift = quotients().fractionBits() - along.format().fractionBits();
    Value divisor = rounded(name + "_under", a, WIDEST - along.format().width() - shift);
    return b.divide(name + "_over", along, divisor, quotients());
  }

  /** Two bits beyond the word; what saturates here does so there. */
  Format quotients() {
    int whole = word.integerBits() + 2;
    return Format.signed(whole, Math.min(fine, 63 - whole));
  }

  /** b^2 - c. */
  private Crossing bySquares() {
    Value own = allow("own", nothing, "discriminant", half("half_foot", projection), squaredRadius);
    Value c = b.subtract("c", fine("excess_fine", excess("")), own);
    Value discriminant = b.subtract("discriminant", square("", projection), c);
    Value full = fullRoot("", discriminant);
    Value sure = b.atMost("real", zero, discriminant);
    Way way = new Way(projection, full, null, null);
    Quotients quotients = new Quotients(sure, c, uses("", full), List.of(way));
    return plain("", discriminant, full, quotients);
  }

  private Crossing byPerpendicular(String suffix) {
    Value discriminant = discriminant(suffix, across(), squaredRadius);
    return plain(suffix, discriminant, fullRoot(suffix, discriminant), null);
  }

  /** Root, distances and decisions of a formula that takes the length to be 1. */
  private Crossing plain(String suffix, Value discriminant, Value full, Quotients q) {
    Value root = root(suffix, full, null);
    Value entry = b.subtract("to_entry" + suffix, projection, root);
    Value exit = b.add("to_exit" + suffix, projection, root);
    return crossing(suffix, discriminant, entry, exit, q);
  }

  private Value owing(String suffix, Value full, Value off) {
    Value rounded = fine("discriminant_rounded" + suffix, full);
    return b.add("discriminant" + suffix, rounded, fine("owing" + suffix, off));
  }

  private Value discriminant(String suffix, Value full, Value... parts) {
    Value rounded = fine("discriminant_rounded" + suffix, full);
    return allow("discriminant" + suffix, rounded, "discriminant", parts);
  }

  private Value excess(String suffix) {
    Value reach = summed("reach_full" + suffix, this.reach, "squared_distance", reaches);
    return b.subtract("excess" + suffix, reach, squaredRadius);
  }

  /**
   * The squared radius less the square of offset - foot * direction: that is, foot^2 - foot^2 *
   * (length - 1) - excess, less what errors of the foot and of each component make of it.
   */
  private Value across() {
    Value sharp = sharp("foot_sharp", dot);
    Value full = b.multiply("foot_square_full", sharp, sharp);
    // Where components are exact the foot is, and its square with twice as many bits.
    int room = WIDEST - 3 - full.format().integerBits() - length.format().width();
    int bits = Math.max(fine, Math.min(2 * working.fractionBits(), room));
    Value square = rounded("foot_square", full, bits);
    Value surplus = b.subtract("surplus", length, one);
    Value bent = fine("bent", b.multiply("bent_full", square, surplus));
    Value excess = b.subtract("excess_full", reach, squaredRadius);
    Value exact = b.subtract("exact", b.subtract("straight", square, bent), excess);
    // An error s of the foot adds 2 s foot (length - 1) + s^2 length.
    Value slip = slip();
    Value tilt = b.multiply("tilt_full", b.multiply("slipped", slip, foot), surplus);
    Value slide = b.multiply("slide_full", b.multiply("slip_square", slip, slip), length);
    Value ofFoot = b.add("of_foot", fine("tilt", b.scale("tilts", tilt, 1)), fine("slide", slide));
    // An error s of a component adds 2 s component + s^2.
    Value[] halves = new Value[dots.length];
    Value[] terms =
        vectors.each(
            "nudged",
            (name, axis) -> {
              Value product = b.multiply(name + "_full", projection, direction[axis]);
              Value along = fine(name + "_along", product);
              Value component = b.subtract(name + "_across", offset[axis], along);
              halves[axis] = half(name + "_half", component);
              Value nudge = allow(name + "_nudge", nothing, "offset", product);
              Value twice =
                  b.scale(name + "_twice", b.multiply(name + "_part", nudge, component), 1);
              return b.add(name, twice, b.multiply(name + "_square", nudge, nudge));
            });
    Value ofComponents = vectors.sum("of_components", terms);
    Value off = b.add("off", ofFoot, fine("off_components", ofComponents));
    return allow("across", b.subtract("across_full", exact, off), "squared_distance", halves);
  }

  /**
   * How far the projection is off: the one way or the other, as the roundings of its parts go. Of
   * offsets that are rounded themselves it is not known which way.
   */
  private Value slip() {
    if (isCoarse() || !byParts("projection", dots)) {
      return allow("foot_slip", nothing, "projection", dots);
    }
    int width = 2 + Integer.SIZE - Integer.numberOfLeadingZeros(dots.length) + GUARD;
    Value full = b.subtract("foot_slip_full", projection, dot);
    return b.convert(
        "foot_slip", full, new Format(true, width, fine), Rounding.FLOOR, Overflow.SATURATE);
  }

  private Value fullRoot(String suffix, Value discriminant) {
    Value positive = b.maximum("positive" + suffix, discriminant, zero);
    int fraction = Math.max(2 * (fine - GUARD / 2), positive.format().fractionBits());
    Value radicand = b.extend("radicand" + suffix, positive, fraction);
    return b.squareRoot("root_full" + suffix, radicand, Rounding.FLOOR);
  }

  /**
   * The root within its budget, which counts a factor as often; exact where it is, or so much less
   * by way of its inverse.
   */
  private Value root(String suffix, Value root, Value factor) {
    Value off;
    if (factor == null) {
      off = summed("root_off" + suffix, root, "root", root);
    } else {
      Value nudge = allow("root_nudge" + suffix, nothing, "root", root);
      off =
          b.add(
              "root_off" + suffix,
              root,
              fine("root_owing" + suffix, times("root", suffix, nudge, factor)));
    }
    if (sphere.roots() == Sphere.Roots.ANY && budget.lsbs("root") > 0) {
      off = b.either("root_or_less" + suffix, off, less(suffix, root, factor == null));
    }
    return b.maximum("root" + suffix, off, zero);
  }

  /** One LSB below a root that is a code; any other goes down to its neighbour all the same. */
  private Value less(String suffix, Value root, boolean toNeighbour) {
    Format format = root.format();
    int bits = toNeighbour ? format.fractionBits() : working.fractionBits();
    Value last = b.constant("last" + suffix, new Format(false, 1, bits), 1);
    Value less = b.subtract("root_less" + suffix, root, last);
    return toNeighbour ? rounded("root_below" + suffix, less, working.fractionBits()) : less;
  }

  /** Within the budget of a distance, as a word. */
  @Override
  Value distance(String name, Value full) {
    return super.distance(name, allow(name + "_off", full, "distance", full));
  }

  @Override
  Value reach(String name, Value product) {
    return allow(name, product, "offset", product);
  }

  @Override
  Value ratio(String name, Value product) {
    return b.allow(name, product, budget.lsbs("normal"), working);
  }
}
