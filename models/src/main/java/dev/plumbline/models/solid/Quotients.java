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
 * @param ways in which hardware may have come to a root; what any of them gives is allowed
 */
record Quotients(Value sure, Value along, Value c, Value uses, List<Way> ways) {
  /**
   * One way.
   *
   * @param ratio how far two uses of the length may part, null where it is 1
   */
  record Way(Value root, Value ratio) {}

  /** A distance within what the quotients say it is. */
  Value confined(BudgetedSphere sphere, String name, Value distance, boolean entry) {
    Value allowed = null;
    for (Way way : ways) {
      String each = allowed == null ? name : name + "_other";
      Value one = allowed(sphere, each, way, entry);
      allowed = allowed == null ? one : sphere.b.either(name + "_any", allowed, one);
    }
    Value as = sphere.b.select(name + "_as", sure, allowed, distance);
    return sphere.b.confine(name + "_confined", distance, as);
  }

  private Value allowed(BudgetedSphere sphere, String name, Way way, boolean entry) {
    Value under =
        entry
            ? sphere.b.add(name + "_beside", along, way.root())
            : sphere.b.subtract(name + "_between", along, way.root());
    Value crossing = sphere.b.divide(name + "_quotient", c, under, sphere.quotients());
    Value off = uses;
    if (way.ratio() != null) {
      Value owing = sphere.b.multiply(name + "_ratio_off", crossing, way.ratio());
      off = sphere.b.add(name + "_owing", off, sphere.fine(name + "_ratio_fine", owing));
    }
    return sphere.b.add(name + "_allowed", crossing, off);
  }
}
