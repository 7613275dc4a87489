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
  private Value least; // what stands for parallel axes before saturation, once a distance is known
  private Value greatest;

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

  /** What stands for a parallel axis saturates as a distance does. */
  @Override
  Span span(Slab slab, Value nearer, Value farther) {
    if (least == null) {
      Format wide = wide(nearer.format());
      least = b.constant("least", wide, wide.minCode());
      greatest = b.constant("greatest", wide, wide.maxCode());
    }
    Value near = near("_before", slab, nearer, least, greatest);
    Value far = far("_before", slab, farther, least, greatest);
    return new Span(
        slab, near, far, word("near" + slab.suffix(), near), word("far" + slab.suffix(), far));
  }

  @Override
  Value hit(Span[] spans, Value entry, Value exit) {
    Value[] nears = new Value[Vectors.COUNT];
    Value[] fars = new Value[Vectors.COUNT];
    Value[] own = new Value[Vectors.COUNT];
    Value[] widerNears = new Value[Vectors.COUNT];
    Value[] widerFars = new Value[Vectors.COUNT];
    Value[] widerOwn = new Value[Vectors.COUNT];
    Value crossed = b.constant("none_crossed", Format.bit(), 0);
    for (int i = 0; i < Vectors.COUNT; i++) {
      Span span = spans[i];
      String suffix = span.slab().suffix();
      crossed = b.or("crossed_up_to" + suffix, crossed, span.slab().crossed());
      nears[i] = span.near();
      fars[i] = span.far();
      widerNears[i] = span.nearer();
      widerFars[i] = span.farther();
      widerOwn[i] = b.select("own_before" + suffix, certain(span.slab()), least, span.nearer());
      own[i] = word("own_after" + suffix, widerOwn[i]);
    }
    Value hit =
        b.either(
            "hit_allowed",
            decided("_after", nears, fars, own),
            decided("_before", widerNears, widerFars, widerOwn));
    // Crossed faces make an empty box, whatever their distances round to.
    return b.either("hit_or_empty", hit, b.and("hit_not_empty", hit, b.not("in_order", crossed)));
  }

  /** Room for what stands for parallel axes beyond every distance and the widest margin. */
  private Format wide(Format distance) {
    int fraction = Math.max(distance.fractionBits(), word.fractionBits());
    int width = Math.max(distance.integerBits(), word.integerBits() + 9) + fraction + 1;
    return new Format(true, width, fraction);
  }

  /**
   * Whether all slabs have a part in common, and it reaches the ray's start or beyond: whether that
   * and the nearer distances of the other axes come before each farther one.
   *
   * @param own what has to come before the farther distance of its own axis
   */
  private Value decided(String which, Value[] nears, Value[] fars, Value[] own) {
    Value x = b.maximum("start_x" + which, nears[0], zero());
    Value y = b.maximum("start_y" + which, nears[1], zero());
    Value[] others = {
      b.maximum("others_x" + which, y, nears[2]),
      b.maximum("others_y" + which, x, nears[2]),
      b.maximum("others_z" + which, x, y)
    };
    Value all = null;
    for (int i = 0; i < fars.length; i++) {
      String suffix = which + Vectors.suffix(i);
      Value last = b.maximum("last" + suffix, others[i], own[i]);
      Value here = b.atMost("here" + suffix, last, reach("reach" + suffix, fars[i]));
      all = all == null ? here : b.and("all" + suffix, all, here);
    }
    return all;
  }

  /** Whether an axis has its nearer distance before its farther one for certain. */
  private Value certain(Slab slab) {
    Value open = b.or("open" + slab.suffix(), slab.axis().parallel(), outOfOrder(slab));
    return b.not("certain" + slab.suffix(), open);
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
