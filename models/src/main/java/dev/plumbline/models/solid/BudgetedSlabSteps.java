package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.models.unit.Reciprocal;

/** The slabs of a box as anybody's hardware may cut them, within a budget. */
final class BudgetedSlabSteps extends SlabSteps {
  private static final String BLOCK = "box";
  private static final String INVERSE = "inverse";
  private static final String DISTANCE = "distance";

  private final Allowances allowances;

  BudgetedSlabSteps(Datapath.Builder b, Format word, Budget budget) {
    super(b, word, Rounding.FLOOR, BoxSlab.OnFace.INSIDE);
    budget.requireBlock(BLOCK);
    this.allowances = new Allowances(b, budget);
  }

  /**
   * Two products rounded and subtracted may be one LSB farther off than their difference rounded.
   */
  static Budget budget(Format working) {
    return Budget.of(BLOCK, working).and(INVERSE, 0).and(DISTANCE, 1);
  }

  @Override
  Value[] reciprocals(Value[] directions, Reciprocal reciprocal) {
    Value[] values = new Value[Vectors.COUNT];
    for (int i = 0; i < values.length; i++) {
      int finest = directions[i].format().fractionBits();
      int integerBits = reciprocal.output().integerBits();
      values[i] =
          allowances.inverse(Vectors.suffix(i), directions[i], finest, INVERSE, integerBits);
    }
    return values;
  }

  @Override
  Value distance(String face, Value to, Value inverse) {
    Value product = b.multiply("product_" + face, to, inverse);
    Value rounded = allowances.rounded("rounded_" + face, product);
    return word(face, allowances.allow("allowed_" + face, rounded, DISTANCE));
  }

  @Override
  Value hit(Value entry, Value exit) {
    return allowances.orBeyond(super.hit(entry, exit), entry, highest());
  }

  @Override
  boolean tiesEitherWay() {
    return true;
  }
}
