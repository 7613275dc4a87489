package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
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
  private static final int MAX_INVERSE_BITS = 63;

  private final Budget budget;
  private final Format working;

  BudgetedPlaneSteps(Datapath.Builder b, Format word, Reciprocal reciprocal, Budget budget) {
    super(b, word, reciprocal);
    budget.requireBlock(BLOCK);
    this.budget = budget;
    this.working = budget.working();
  }

  /** Nothing beyond one rounding an operation. */
  static Budget budget(Format working) {
    return Budget.of(BLOCK, working).and(HEIGHT, 0).and(SLOPE, 0).and(INVERSE, 0).and(DISTANCE, 0);
  }

  @Override
  Value height(String suffix, Value[] origins, Value[] normals, Value level) {
    Value height = super.height(suffix, origins, normals, level);
    return allow("height_allowed" + suffix, height, HEIGHT);
  }

  @Override
  Value depth(String suffix, Value height) {
    return orSaturated("depth" + suffix, height, word.integerBits() + 3);
  }

  @Override
  Value slope(String suffix, Value[] directions, Value[] normals) {
    Value full = dot("slope_full" + suffix, normals, directions);
    Value slope = allow("slope_allowed" + suffix, full, SLOPE);
    return orSaturated("slope" + suffix, slope, reciprocal.input().integerBits());
  }

  /** Wide enough for one over the smallest exact slope; a smaller one is taken for zero. */
  @Override
  Value inverse(String suffix, Value slope, int finest) {
    int fraction = working.fractionBits();
    Format wide = new Format(true, Math.min(finest + fraction + 2, MAX_INVERSE_BITS), fraction);
    Value inverse =
        b.unit("inverse_wide" + suffix, Reciprocal.between(slope.format(), wide).unit(), slope);
    Value allowed = allow("inverse_allowed" + suffix, inverse, INVERSE);
    return orSaturated("inverse" + suffix, allowed, reciprocal.output().integerBits());
  }

  @Override
  Value distance(String suffix, Value depth, Value inverse) {
    Value product = b.multiply("product" + suffix, depth, inverse);
    Value rounded = rounded("product_rounded" + suffix, product);
    return near("distance" + suffix, allow("distance_allowed" + suffix, rounded, DISTANCE), word);
  }

  @Override
  Value term(String name, Value a, Value c) {
    return rounded(name + "_rounded", super.term(name, a, c));
  }

  /** To the working format's last place, either way. */
  private Value rounded(String name, Value value) {
    int drop = value.format().fractionBits() - working.fractionBits();
    if (drop <= 0) {
      return value;
    }
    Format format = new Format(true, value.format().width() - drop + 2, working.fractionBits());
    return b.convert(name, value, format, Rounding.HALF_UP, Overflow.SATURATE);
  }

  private Value allow(String name, Value value, String quantity) {
    int places = budget.lastPlaces(quantity);
    return places == 0 ? value : b.allow(name, value, places, working);
  }

  private Value orSaturated(String name, Value value, int integerBits) {
    int fraction = value.format().fractionBits();
    Format limited = Format.signed(integerBits, fraction);
    if (limited.holds(value.min()) && limited.holds(value.max())) {
      return value;
    }
    return b.either(name, value, near(name + "_saturated", value, limited));
  }
}
