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
 * @param entries ways in which hardware may have come to the root of an entry; what any of them
 *     gives is allowed
 * @param exit one that takes in all of them
 */
record Quotients(Value sure, Value along, Value c, Value uses, List<Way> entries, Way exit) {
  /**
   * One way.
   *
   * @param ratio how far two uses of the length may part, null where it is 1
   */
  record Way(Value root, Value ratio) {}

  /** An entry within what the quotients say it is. */
  Value entry(BudgetedSphere sphere, String name, Value distance) {
    Value allowed = null;
    for (Way way : entries) {
      String each = allowed == null ? name : name + "_other";
      Value under = sphere.b.add(each + "_beside", along, way.root());
      Value one = allowed(sphere, each, under, way.ratio());
      allowed = allowed == null ? one : sphere.b.either(name + "_any", allowed, one);
    }
    return confined(sphere, name, distance, allowed);
  }

  /** An exit within what its quotient says it is. */
  Value exit(BudgetedSphere sphere, String name, Value distance) {
    Value under = sphere.b.subtract(name + "_between", along, exit.root());
    return confined(sphere, name, distance, allowed(sphere, name, under, exit.ratio()));
  }

  private Value confined(BudgetedSphere sphere, String name, Value distance, Value allowed) {
    Value as = sphere.b.select(name + "_as", sure, allowed, distance);
    return sphere.b.confine(name + "_confined", distance, as);
  }

  private Value allowed(BudgetedSphere sphere, String name, Value under, Value ratio) {
    Value crossing = sphere.b.divide(name + "_quotient", c, under, sphere.quotients());
    Value off = uses;
    if (ratio != null) {
      Value owing = sphere.b.multiply(name + "_ratio_off", crossing, ratio);
      off = sphere.b.add(name + "_owing", off, sphere.fine(name + "_ratio_fine", owing));
    }
    return sphere.b.add(name + "_allowed", crossing, off);
  }
}
