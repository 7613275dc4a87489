package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Value;
import java.util.List;

/**
 * Both crossings once more, as c / (b + root) and c / (b - root): there the length counts once, and
 * so does b where its sign is that of the root, while in b - root what an error of b adds to one is
 * taken back by the other.
 *
 * @param sure where nothing under the root may be negative
 * @param uses what each of two uses of b, and the root, may be off a crossing
 * @param ways to a root; what any of them gives is allowed
 */
record Quotients(Value sure, Value c, Value uses, List<Way> ways) {
  /**
   * One way.
   *
   * @param along b
   * @param root without its own error, for which the uses are
   * @param ratio how far two uses of the length may part, null where it is 1
   * @param direct what holds the crossings as well, null where nothing else does
   */
  record Way(Value along, Value root, Value ratio, Direct direct) {}

  /**
   * (b &#177; root) / a.
   *
   * @param root with its own error
   * @param a null where it is 1
   */
  record Direct(Value along, Value root, Value a) {}

  /** A distance within what the quotients say it is. */
  Value confined(BudgetedSphere sphere, boolean entry, String name, Value distance) {
    Value allowed = null;
    for (Way way : ways) {
      String each = allowed == null ? name : name + "_other";
      Value one = allowed(sphere, entry, each, way);
      allowed = allowed == null ? one : sphere.b.either(name + "_any", allowed, one);
    }
    Value as = sphere.b.select(name + "_as", sure, allowed, distance);
    return sphere.b.confine(name + "_confined", distance, as);
  }

  private Value allowed(BudgetedSphere sphere, boolean entry, String name, Way way) {
    Value under =
        entry
            ? sphere.b.add(name + "_beside", way.along(), way.root())
            : sphere.b.subtract(name + "_between", way.along(), way.root());
    Value crossing = sphere.b.divide(name + "_quotient", c, under, sphere.quotients());
    Value off = uses;
    if (way.ratio() != null) {
      Value owing = sphere.b.multiply(name + "_ratio_off", crossing, way.ratio());
      off = sphere.b.add(name + "_owing", off, sphere.fine(name + "_ratio_fine", owing));
    }
    Value allowed = sphere.b.add(name + "_allowed", crossing, off);
    if (way.direct() == null) {
      return allowed;
    }
    return sphere.b.confine(name + "_both", direct(sphere, entry, name, way.direct()), allowed);
  }

  private static Value direct(BudgetedSphere sphere, boolean entry, String name, Direct direct) {
    Value over =
        entry
            ? sphere.b.subtract(name + "_before", direct.along(), direct.root())
            : sphere.b.add(name + "_behind", direct.along(), direct.root());
    return direct.a() == null ? over : sphere.quotient(name + "_direct", over, direct.a());
  }
}
