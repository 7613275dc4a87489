package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.datapath.Vectors;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.models.unit.Reciprocal;

/**
 * The slabs of a box as anybody's hardware may cut them, within a budget.
 *
 * <p>Distances saturate before they are compared or after: both decisions are made and either is
 * let pass. What hardware computes in whatever order and rounding, it computes the same way for
 * both faces of an axis, so that the nearer distance never exceeds the farther one, however wide
 * their bounds: a flat box is decided by the other axes.
 */
class BudgetedSlabSteps extends SlabSteps {
  private static final String BLOCK = "box";
  private static final String INVERSE = "inverse";
  private static final String DISTANCE = "distance";

  private final Allowances allowances;
  private final int distanceLsbs;
  private final boolean givenInverses;

  /**
   * @param givenInverses whether the inverses are operands, and known to the bit
   */
  BudgetedSlabSteps(
      Datapath.Builder b,
      Format word,
      BoxSlab.OnFace onFace,
      int margin,
      Budget budget,
      boolean givenInverses) {
    super(b, word, Rounding.FLOOR, onFace, margin);
    budget.requireBlock(BLOCK);
    this.allowances = new Allowances(b, budget);
    this.distanceLsbs = budget.lsbs(DISTANCE);
    this.givenInverses = givenInverses;
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

  /** Distances that are not saturated yet. */
  @Override
  Slab slab(Axis axis) {
    String toMin = "min" + axis.suffix();
    String toMax = "max" + axis.suffix();
    Value inside = inside(axis);
    Value crossed = b.lessThan("crossed" + axis.suffix(), axis.toMax(), axis.toMin());
    if (!givenInverses || distanceLsbs == 0) {
      return new Slab(
          axis,
          inside,
          crossed,
          allowances.allow("t_" + toMin, product(toMin, axis.toMin(), axis), DISTANCE),
          allowances.allow("t_" + toMax, product(toMax, axis.toMax(), axis), DISTANCE));
    }
    // Both products, each rounded where it loses a bit: one LSB farther off, but not where none is
    // lost. It encloses their difference rounded once.
    Value origin = product("origin" + axis.suffix(), axis.origin(), axis);
    return new Slab(
        axis,
        inside,
        crossed,
        difference(toMin, product(toMin, axis.min(), axis), origin),
        difference(toMax, product(toMax, axis.max(), axis), origin));
  }

  private Value product(String name, Value factor, Axis axis) {
    Value product = b.multiply("product_" + name, factor, axis.inverse());
    return allowances.rounded("rounded_" + name, product);
  }

  private Value difference(String face, Value product, Value origin) {
    Value distance = b.subtract("t_" + face, product, origin);
    return allowances.allow("allowed_" + face, distance, distanceLsbs - 1);
  }

  @Override
  Span span(Slab slab, Value nearer, Value farther) {
    String suffix = slab.suffix();
    Value nearest = word("nearer_word" + suffix, nearer);
    Value farthest = word("farther_word" + suffix, farther);
    Value near = near("", slab, nearest, lowest(), highest());
    Value far = far("", slab, farthest, lowest(), highest());
    return new Span(slab, nearer, farther, near, far);
  }

  @Override
  Value hit(Span[] spans, Value entry, Value exit) {
    Value[] nears = new Value[Vectors.COUNT];
    Value[] fars = new Value[Vectors.COUNT];
    Value[] widerNears = new Value[Vectors.COUNT];
    Value[] widerFars = new Value[Vectors.COUNT];
    Format wide = wide(spans[0].nearer().format());
    Value least = b.constant("least", wide, wide.minCode());
    Value greatest = b.constant("greatest", wide, wide.maxCode());
    Value crossed = b.constant("none_crossed", Format.bit(), 0);
    for (int i = 0; i < Vectors.COUNT; i++) {
      Span span = spans[i];
      crossed = b.or("crossed_up_to" + span.slab().suffix(), crossed, span.slab().crossed());
      nears[i] = span.near();
      fars[i] = span.far();
      widerNears[i] = near("_before", span.slab(), span.nearer(), least, greatest);
      widerFars[i] = far("_before", span.slab(), span.farther(), least, greatest);
    }
    Value[] certain = certain(spans);
    Value hit =
        b.either(
            "hit_allowed",
            decided("after", certain, nears, fars),
            decided("before", certain, widerNears, widerFars));
    // Crossed faces make an empty box, whatever their distances round to.
    return b.either("hit_or_empty", hit, b.and("hit_not_empty", hit, b.not("in_order", crossed)));
  }

  /** Room for what stands for parallel axes beyond every distance and the widest margin. */
  private Format wide(Format distance) {
    int fraction = Math.max(distance.fractionBits(), word.fractionBits());
    int width = Math.max(distance.integerBits(), word.integerBits() + 9) + fraction + 1;
    return new Format(true, width, fraction);
  }

  /** Whether all slabs have a part in common, and it reaches the ray's start or beyond. */
  private Value decided(String which, Value[] certain, Value[] nears, Value[] fars) {
    Value all = null;
    for (int j = 0; j < fars.length; j++) {
      String suffix = "_" + which + Vectors.suffix(j);
      Value reach = reach("reach" + suffix, fars[j]);
      Value here = b.atMost("ahead" + suffix, zero(), reach);
      for (int i = 0; i < nears.length; i++) {
        String pair = Vectors.suffix(i) + suffix;
        Value order = b.atMost("order" + pair, nears[i], reach);
        Value known = i == j ? b.or("known" + pair, certain[i], order) : order;
        here = b.and("here" + pair, here, known);
      }
      all = all == null ? here : b.and("all" + suffix, all, here);
    }
    return all;
  }

  private Value[] certain(Span[] spans) {
    Value[] certain = new Value[Vectors.COUNT];
    for (int i = 0; i < Vectors.COUNT; i++) {
      Slab slab = spans[i].slab();
      Value open = b.or("open" + slab.suffix(), slab.axis().parallel(), outOfOrder(slab));
      certain[i] = b.not("certain" + slab.suffix(), open);
    }
    return certain;
  }

  /** Whether an axis that is not parallel may have its nearer distance beyond the farther one. */
  Value outOfOrder(Slab slab) {
    return slab.crossed();
  }

  @Override
  void planes(Slab slab) {
    String suffix = slab.suffix();
    Value min = word("min_word" + suffix, slab.toMin());
    Value max = word("max_word" + suffix, slab.toMax());
    b.atMost("min_first" + suffix, min, max);
    b.atMost("max_first" + suffix, max, min);
  }

  @Override
  boolean tiesEitherWay() {
    return true;
  }
}
