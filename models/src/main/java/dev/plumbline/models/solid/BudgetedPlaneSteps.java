package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.unit.Reciprocal;

/**
 * A cut by a plane as anybody's hardware may make it, within a budget.
 *
 * <p>Every product may be rounded to the working format, either way, before it is summed: that
 * encloses a rounding of the sum, or of both on a finer grid, and leaves exact what the working
 * format holds. Intermediate results may saturate as in the declared micro-architecture, or not at
 * all.
 */
final class BudgetedPlaneSteps extends PlaneSteps {
  static final String BLOCK = "half-space";
  private static final String HEIGHT = "height";
  private static final String SLOPE = "slope";
  private static final String INVERSE = "inverse";
  private static final String DISTANCE = "distance";

  private final Allowances allowances;

  BudgetedPlaneSteps(Datapath.Builder b, Format word, Reciprocal reciprocal, Budget budget) {
    super(b, word, reciprocal);
    budget.requireBlock(BLOCK);
    this.allowances = new Allowances(b, budget);
  }

  /** Nothing beyond one rounding an operation. */
  static Budget budget(Format working) {
    return Budget.of(BLOCK, working).and(HEIGHT, 0).and(SLOPE, 0).and(INVERSE, 0).and(DISTANCE, 0);
  }

  @Override
  Value height(String suffix, Value[] origins, Value[] normals, Value level) {
    Value height = super.height(suffix, origins, normals, level);
    return allowances.allow("height_allowed" + suffix, height, HEIGHT);
  }

  @Override
  Value depth(String suffix, Value height) {
    return allowances.orSaturated("depth" + suffix, height, word.integerBits() + 3);
  }

  @Override
  Value slope(String suffix, Value[] directions, Value[] normals) {
    Value full = dot("slope_full" + suffix, normals, directions);
    Value slope = allowances.allow("slope_allowed" + suffix, full, SLOPE);
    return allowances.orSaturated("slope" + suffix, slope, reciprocal.input().integerBits());
  }

  @Override
  Value inverse(String suffix, Value slope, int finest) {
    int integerBits = reciprocal.output().integerBits();
    return allowances.inverse(suffix, slope, finest, INVERSE, integerBits);
  }

  @Override
  Value distance(String suffix, Value depth, Value inverse) {
    Value product = b.multiply("product" + suffix, depth, inverse);
    Value rounded = allowances.rounded("product_rounded" + suffix, product);
    Value allowed = allowances.allow("distance_allowed" + suffix, rounded, DISTANCE);
    return near("distance" + suffix, allowed, word);
  }

  @Override
  Value term(String name, Value a, Value c) {
    return allowances.rounded(name + "_rounded", super.term(name, a, c));
  }

  /** Of several planes. */
  @Override
  Value hitAll(Value entry, Value exit) {
    return allowances.orBeyond(hit(entry, exit), entry, highest());
  }

  @Override
  boolean tiesEitherWay() {
    return true;
  }
}
