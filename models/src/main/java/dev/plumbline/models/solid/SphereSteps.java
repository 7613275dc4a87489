package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;

/**
 * The perpendicular form with four guard bits: robust where b^2 - c cancels, since the square of
 * what lies across the ray is never larger than what it is compared with near a tangent.
 */
final class SphereSteps extends SphereFrame {
  private static final int GUARD = 4;

  private final int whole;
  private final int fine;

  SphereSteps(Sphere sphere) {
    super(sphere, Sphere.BLOCK);
    whole = word.integerBits();
    fine = word.fractionBits() + GUARD;
  }

  Datapath describe() {
    Value[] offset = vectors.subtract("offset", centre, origin);
    Value dot = vectors.dot("dot", offset, direction);
    Value projection = near("projection", dot, Format.signed(whole + 2, fine));
    Value[] along =
        vectors.each(
            "along",
            (name, axis) -> reach(name, b.multiply(name + "_full", projection, direction[axis])));
    // A component that saturates is longer than any radius, so that the decision stands.
    Value[] across =
        vectors.each(
            "across",
            (name, axis) ->
                near(
                    name,
                    b.subtract(name + "_full", offset[axis], along[axis]),
                    Format.signed(whole, fine)));
    Value squaredDistance = vectors.dot("squared_distance", across, across);
    Value squaredRadius = b.multiply("squared_radius", radius, radius);
    Value discriminant = b.subtract("discriminant", squaredRadius, squaredDistance);
    Value root = b.squareRoot("root", radicand(discriminant), Rounding.FLOOR);
    Value entry = distance("entry", b.subtract("entry_full", projection, root));
    Value exit = distance("exit", b.add("exit_full", projection, root));
    return finish(decide("", discriminant, entry, exit), offset);
  }

  /** The discriminant where it is positive, without the guard bits. */
  private Value radicand(Value discriminant) {
    Value positive = b.maximum("positive", discriminant, zero);
    int dropped = 2 * GUARD;
    Format full = positive.format();
    Format format = new Format(false, full.width() - dropped + 1, full.fractionBits() - dropped);
    return b.convert("radicand", positive, format, Rounding.FLOOR, Overflow.SATURATE);
  }

  private Value near(String name, Value value, Format format) {
    return b.convert(name, value, format, Rounding.HALF_CEILING, Overflow.SATURATE);
  }

  /** Rounded to the guard bits at full width. */
  @Override
  Value reach(String name, Value product) {
    int dropped = product.format().fractionBits() - fine;
    return near(name, product, new Format(true, product.format().width() - dropped + 1, fine));
  }

  @Override
  Value ratio(String name, Value product) {
    return product;
  }
}
