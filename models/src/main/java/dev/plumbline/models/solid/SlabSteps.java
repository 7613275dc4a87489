package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.models.unit.Reciprocal;

/** The steps of three pairs of faces, which {@link BoxSlab} and {@link Box} share. */
class SlabSteps {
  final Datapath.Builder b;
  final Format word;
  private final Rounding rounding;
  private final BoxSlab.OnFace onFace;
  private final Value zero;
  private final Value lowest;
  private final Value highest;

  SlabSteps(Datapath.Builder b, Format word, Rounding rounding, BoxSlab.OnFace onFace) {
    this.b = b;
    this.word = word;
    this.rounding = rounding;
    this.onFace = onFace;
    this.zero = b.constant("zero", word, 0);
    this.lowest = b.constant("lowest", word, word.minCode());
    this.highest = b.constant("highest", word, word.maxCode());
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

  /** The distances to the two faces of an axis, and whether the origin lies between them. */
  record Slab(String axis, Value parallel, Value inside, Value toMin, Value toMax) {}

  /** The slabs of the box whose faces are the next inputs. */
  final Slab[] slabs(Value[] origins, Value[] inverses, Value[] parallels) {
    Value[] mins = new Vectors(b).inputs("min", word);
    Value[] maxs = new Vectors(b).inputs("max", word);
    Slab[] slabs = new Slab[Vectors.COUNT];
    for (int i = 0; i < Vectors.COUNT; i++) {
      String axis = Vectors.suffix(i);
      Value toMin = b.subtract("to_min" + axis, mins[i], origins[i]);
      Value toMax = b.subtract("to_max" + axis, maxs[i], origins[i]);
      Value first = distance("min" + axis, toMin, inverses[i]);
      Value second = distance("max" + axis, toMax, inverses[i]);
      slabs[i] = new Slab(axis, parallels[i], inside(axis, toMin, toMax), first, second);
    }
    return slabs;
  }

  /** The nearer distance, or what stands for it on a parallel axis. */
  final Value near(Slab slab, Value nearer) {
    Value along = b.select("parallel_near" + slab.axis, slab.inside, lowest, highest);
    return b.select("near" + slab.axis, slab.parallel, along, nearer);
  }

  /** The farther distance, or what stands for it on a parallel axis. */
  final Value far(Slab slab, Value farther) {
    Value along = b.select("parallel_far" + slab.axis, slab.inside, highest, lowest);
    return b.select("far" + slab.axis, slab.parallel, along, farther);
  }

  /**
   * The distance to a face.
   *
   * @param to the face less the origin, exact
   */
  Value distance(String face, Value to, Value inverse) {
    return word(face, b.multiply("product_" + face, to, inverse));
  }

  final Value word(String face, Value distance) {
    return b.convert("t_" + face, distance, word, rounding, Overflow.SATURATE);
  }

  private Value inside(String axis, Value toMin, Value toMax) {
    String pastMin = "past_min" + axis;
    String beforeMax = "before_max" + axis;
    return onFace == BoxSlab.OnFace.INSIDE
        ? b.and("inside" + axis, b.atMost(pastMin, toMin, zero), b.atMost(beforeMax, zero, toMax))
        : b.and(
            "inside" + axis, b.lessThan(pastMin, toMin, zero), b.lessThan(beforeMax, zero, toMax));
  }

  /** Whether the part between entry and exit exists and reaches the ray's start or beyond. */
  Value hit(Value entry, Value exit) {
    return b.and("hit", b.atMost("in_order", entry, exit), b.atMost("ahead", zero, exit));
  }

  /** Whether either of two faces at one distance may be named. */
  boolean tiesEitherWay() {
    return false;
  }
}
