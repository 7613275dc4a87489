package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;

/**
 * The slabs of a box whose faces may be crossed, the minimum above the maximum: hardware may put
 * them in order, as it does by comparing distances, or take the box for empty, as it does by
 * choosing faces by the direction's sign.
 */
final class CrossedSlabSteps extends BudgetedSlabSteps {
  private final Value none;

  CrossedSlabSteps(
      Datapath.Builder b,
      Format word,
      BoxSlab.OnFace onFace,
      int margin,
      Budget budget,
      boolean givenInverses) {
    super(b, word, onFace, margin, budget, givenInverses);
    this.none = b.constant("no", Format.bit(), 0);
  }

  @Override
  Value inside(Axis axis) {
    Value declared = super.inside(axis);
    Value swapped = between("swapped_", axis.suffix(), axis.toMax(), axis.toMin());
    Value ordered = b.or("ordered_inside" + axis.suffix(), declared, swapped);
    return b.either("either_inside" + axis.suffix(), declared, ordered);
  }

  @Override
  Span span(Slab slab, Value nearer, Value farther) {
    String suffix = slab.suffix();
    Value swapped = b.either("swapped" + suffix, none, slab.crossed());
    return super.span(
        slab,
        b.select("either_nearer" + suffix, swapped, farther, nearer),
        b.select("either_farther" + suffix, swapped, nearer, farther));
  }

  @Override
  Value outOfOrder(Slab slab) {
    return none;
  }
}
