package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.datapath.Vectors;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.models.unit.Reciprocal;

/**
 * The steps of one cut by a plane, which {@link HalfSpace} and {@link Hull} share.
 *
 * <p>Choices are written so that each branch knows its signs ({@code behind}, {@code ahead} and the
 * like change no bit): in bounds a branch is then no wider than its own case, and a decision that
 * is the same in every branch is decided.
 */
class PlaneSteps {
  static final int GUARD_BITS = 4;

  final Datapath.Builder b;
  final Format word;
  final Reciprocal reciprocal;
  private final Value zero;
  private final Value lowest;
  private final Value highest;

  PlaneSteps(Datapath.Builder b, Format word, Reciprocal reciprocal) {
    this.b = b;
    this.word = word;
    this.reciprocal = reciprocal;
    this.zero = b.constant("zero", word, 0);
    this.lowest = b.constant("lowest", word, word.minCode());
    this.highest = b.constant("highest", word, word.maxCode());
  }

  final Value lowest() {
    return lowest;
  }

  final Value highest() {
    return highest;
  }

  /** What one plane says of a ray. */
  record Cut(Value inside, Value leaving, Value parallel, Value entry, Value exit) {}

  /**
   * Cuts a ray by the half-space {@code normal . x <= level}.
   *
   * @param suffix of every step's name
   */
  final Cut cut(String suffix, Value[] origins, Value[] directions, Value[] normals, Value level) {
    Value height = height(suffix, origins, normals, level);
    Value slope = slope(suffix, directions, normals);
    int finest = normals[0].format().fractionBits() + directions[0].format().fractionBits();
    Value inverse = inverse(suffix, slope, finest);
    Value distance = distance(suffix, depth(suffix, height), inverse);
    Value nought = b.constant("nought" + suffix, slope.format(), 0);
    Value inside = b.atMost("inside" + suffix, zero, height);
    Value parallel = b.equal("parallel" + suffix, slope, nought);
    Value leaving = b.lessThan("leaving" + suffix, nought, slope);
    Value entering = b.lessThan("entering" + suffix, slope, nought);
    Value behind = b.minimum("behind" + suffix, distance, zero);
    Value ahead = b.maximum("ahead" + suffix, distance, zero);
    Value into = b.select("into" + suffix, inside, behind, ahead);
    Value out = b.select("out" + suffix, inside, ahead, behind);
    Value parallelEntry = b.select("parallel_entry" + suffix, inside, lowest, highest);
    Value parallelExit = b.select("parallel_exit" + suffix, inside, highest, lowest);
    Value notIn = b.select("not_in" + suffix, leaving, lowest, parallelEntry);
    Value notOut = b.select("not_out" + suffix, entering, highest, parallelExit);
    return new Cut(
        inside,
        leaving,
        parallel,
        b.select("entry" + suffix, entering, into, notIn),
        b.select("exit" + suffix, leaving, out, notOut));
  }

  /** Whether the part between entry and exit exists and reaches the ray's start or beyond. */
  final Value hit(Value entry, Value exit) {
    return b.and("hit", b.atMost("in_order", entry, exit), b.atMost("reaches", zero, exit));
  }

  /** The same for several planes. */
  Value hitAll(Value entry, Value exit) {
    return hit(entry, exit);
  }

  /** Whether either of two faces at one distance may be named. */
  boolean tiesEitherWay() {
    return false;
  }

  /** Exact: inside where it is not negative. */
  Value height(String suffix, Value[] origins, Value[] normals, Value level) {
    return b.subtract("height" + suffix, level, dot("reach" + suffix, normals, origins));
  }

  /** Rounded to the reciprocal unit's operand. */
  Value slope(String suffix, Value[] directions, Value[] normals) {
    Value full = dot("slope_full" + suffix, normals, directions);
    return near("slope" + suffix, full, reciprocal.input());
  }

  /**
   * One over the slope.
   *
   * @param finest the fraction bits of the exact slope
   */
  Value inverse(String suffix, Value slope, int finest) {
    return b.unit("inverse" + suffix, reciprocal.unit(), slope);
  }

  Value depth(String suffix, Value height) {
    int fraction = word.fractionBits() + GUARD_BITS;
    return near("depth" + suffix, height, Format.signed(word.integerBits() + 3, fraction));
  }

  Value distance(String suffix, Value depth, Value inverse) {
    return near("distance" + suffix, b.multiply("product" + suffix, depth, inverse), word);
  }

  final Value dot(String name, Value[] a, Value[] c) {
    Value[] terms = new Value[Vectors.COUNT];
    for (int i = 0; i < terms.length; i++) {
      terms[i] = term(name + Vectors.suffix(i), a[i], c[i]);
    }
    return new Vectors(b).sum(name, terms);
  }

  Value term(String name, Value a, Value c) {
    return b.multiply(name, a, c);
  }

  final Value near(String name, Value value, Format format) {
    return b.convert(name, value, format, Rounding.HALF_CEILING, Overflow.SATURATE);
  }
}
