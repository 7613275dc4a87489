package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.datapath.Vectors;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.models.unit.Reciprocal;

/**
 * The steps of three pairs of faces, which {@link BoxSlab} and {@link Box} share.
 *
 * <p>Every step is named after its axis. Where a subclass bounds what others build, it widens these
 * steps and decides a hit in its own way.
 */
class SlabSteps {
  final Datapath.Builder b;
  final Format word;
  private final Rounding rounding;
  private final BoxSlab.OnFace onFace;
  private final Value zero;
  private final Value lowest;
  private final Value highest;
  private final Value margin; // or null for none

  /**
   * @param margin LSB of the word that a hit may lie beyond the exit
   */
  SlabSteps(Datapath.Builder b, Format word, Rounding rounding, BoxSlab.OnFace onFace, int margin) {
    this.b = b;
    this.word = word;
    this.rounding = rounding;
    this.onFace = onFace;
    this.zero = b.constant("zero", word, 0);
    this.lowest = b.constant("lowest", word, word.minCode());
    this.highest = b.constant("highest", word, word.maxCode());
    this.margin = margin == 0 ? null : b.constant("margin", marginFormat(margin), margin);
  }

  private Format marginFormat(int lsbs) {
    int bits = Math.max(4, Integer.SIZE - Integer.numberOfLeadingZeros(lsbs));
    return new Format(false, bits, word.fractionBits());
  }

  final Value zero() {
    return zero;
  }

  final Value lowest() {
    return lowest;
  }

  final Value highest() {
    return highest;
  }

  /** One over each component of the direction. */
  Value[] reciprocals(Value[] directions, Reciprocal reciprocal) {
    Value[] values = new Value[Vectors.COUNT];
    for (int i = 0; i < values.length; i++) {
      values[i] = b.unit("inverse" + Vectors.suffix(i), reciprocal.unit(), directions[i]);
    }
    return values;
  }

  final Value[] zeros(Value[] directions) {
    Value nought = b.constant("nought", directions[0].format(), 0);
    Value[] values = new Value[Vectors.COUNT];
    for (int i = 0; i < values.length; i++) {
      values[i] = b.equal("parallel" + Vectors.suffix(i), directions[i], nought);
    }
    return values;
  }

  /** Whether an axis is parallel, or its inverse may stand for any that is too large. */
  final Value parallelOrSaturated(String suffix, Value inverse, Value parallel) {
    Format format = inverse.format();
    Value most = b.constant("greatest_inverse" + suffix, format, format.maxCode());
    Value least = b.constant("least_inverse" + suffix, format, format.minCode());
    Value high = b.equal("inverse_high" + suffix, inverse, most);
    Value low = b.equal("inverse_low" + suffix, inverse, least);
    Value saturated = b.or("saturated" + suffix, high, low);
    return b.or("taken_parallel" + suffix, parallel, saturated);
  }

  /** One axis: its operands, and both faces less the origin, exact. */
  record Axis(
      String suffix,
      Value parallel,
      Value origin,
      Value inverse,
      Value min,
      Value max,
      Value toMin,
      Value toMax) {}

  /**
   * The distances to the two faces of an axis, and whether the origin lies between them; whether
   * they are crossed where somebody asks, else null.
   */
  record Slab(Axis axis, Value inside, Value crossed, Value toMin, Value toMax) {
    String suffix() {
      return axis.suffix;
    }
  }

  /** The distances again as nearer and farther; near and far also know of parallel axes. */
  record Span(Slab slab, Value nearer, Value farther, Value near, Value far) {}

  /** The slabs of the box whose faces are the next inputs. */
  final Slab[] slabs(Value[] origins, Value[] inverses, Value[] parallels) {
    Value[] mins = new Vectors(b).inputs("min", word);
    Value[] maxs = new Vectors(b).inputs("max", word);
    Slab[] slabs = new Slab[Vectors.COUNT];
    for (int i = 0; i < Vectors.COUNT; i++) {
      String suffix = Vectors.suffix(i);
      Value toMin = b.subtract("to_min" + suffix, mins[i], origins[i]);
      Value toMax = b.subtract("to_max" + suffix, maxs[i], origins[i]);
      Axis axis =
          new Axis(suffix, parallels[i], origins[i], inverses[i], mins[i], maxs[i], toMin, toMax);
      slabs[i] = slab(axis);
    }
    return slabs;
  }

  /** Distances rounded once, and saturated. */
  Slab slab(Axis axis) {
    Value toMin = distance("min" + axis.suffix, axis.toMin, axis.inverse);
    Value toMax = distance("max" + axis.suffix, axis.toMax, axis.inverse);
    return new Slab(axis, inside(axis), null, toMin, toMax);
  }

  private Value distance(String face, Value to, Value inverse) {
    return word("t_" + face, b.multiply("product_" + face, to, inverse));
  }

  final Value word(String name, Value distance) {
    return b.convert(name, distance, word, rounding, Overflow.SATURATE);
  }

  Span span(Slab slab, Value nearer, Value farther) {
    return new Span(
        slab,
        nearer,
        farther,
        near("", slab, nearer, lowest, highest),
        far("", slab, farther, lowest, highest));
  }

  /** The nearer distance, or what stands for it on a parallel axis. */
  final Value near(String which, Slab slab, Value nearer, Value least, Value greatest) {
    String suffix = which + slab.suffix();
    Value along = b.select("parallel_near" + suffix, slab.inside, least, greatest);
    return b.select("near" + suffix, slab.axis.parallel, along, nearer);
  }

  /** The farther distance, or what stands for it on a parallel axis. */
  final Value far(String which, Slab slab, Value farther, Value least, Value greatest) {
    String suffix = which + slab.suffix();
    Value along = b.select("parallel_far" + suffix, slab.inside, greatest, least);
    return b.select("far" + suffix, slab.axis.parallel, along, farther);
  }

  Value inside(Axis axis) {
    return between("", axis.suffix, axis.toMin, axis.toMax);
  }

  /** Whether the origin lies above one face and below another, or in them as declared. */
  final Value between(String which, String suffix, Value toLower, Value toUpper) {
    String name = which + "inside" + suffix;
    String pastMin = which + "past_min" + suffix;
    String beforeMax = which + "before_max" + suffix;
    return onFace == BoxSlab.OnFace.INSIDE
        ? b.and(name, b.atMost(pastMin, toLower, zero), b.atMost(beforeMax, zero, toUpper))
        : b.and(name, b.lessThan(pastMin, toLower, zero), b.lessThan(beforeMax, zero, toUpper));
  }

  /** Whether the part between entry and exit exists and reaches the ray's start or beyond. */
  Value hit(Span[] spans, Value entry, Value exit) {
    Value reach = reach("reach", exit);
    return b.and("hit", b.atMost("in_order", entry, reach), b.atMost("ahead", zero, reach));
  }

  /** An exit and the margin beyond it. */
  final Value reach(String name, Value exit) {
    return margin == null ? exit : b.add(name, exit, margin);
  }

  /** Where bounds are to say which plane of an axis may be met first: tells them. */
  void planes(Slab slab) {}

  /** Whether either of two faces at one distance may be named. */
  boolean tiesEitherWay() {
    return false;
  }
}
