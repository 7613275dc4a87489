package dev.plumbline.coverage;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;

/**
 * What a box bench has to reach, decided in whole numbers without rounding.
 *
 * <p>The distance to a face is a fraction: how far the face is, over the direction's component.
 * Fractions with positive denominators are compared by cross products. By inverse the distance is
 * the product itself.
 */
public final class BoxCoverage {
  private static final String[] SIDES = {"low", "high"};

  private final Bits s;
  private final Value[] pace; // positive; the denominators of the distances, null by inverse
  private final Value[] parallel;
  private final Value[] backwards;
  private final Value[] near = new Value[3];
  private final Value[] far = new Value[3];
  private final Value[] between = new Value[3];

  private BoxCoverage(Bits s, Value[] pace, Value[] parallel, Value[] backwards) {
    this.s = s;
    this.pace = pace;
    this.parallel = parallel;
    this.backwards = backwards;
  }

  /**
   * By direction.
   *
   * @param grazes whether a ray that only touches an edge is asked for: within the precision of a
   *     reciprocal nobody can tell whether it does, only to the bit
   * @param leaves whether a distance of exactly 0 at the exit is asked for: hardware that subtracts
   *     two rounded products may miss there
   */
  public static Datapath byDirection(
      Format word, Format direction, boolean grazes, boolean leaves) {
    Bits s = new Bits("box coverage points");
    Value[] origin = s.vector("origin", word);
    Value[] d = s.vector("direction", direction);
    Value[] pace = new Value[3];
    Value[] parallel = new Value[3];
    Value[] backwards = new Value[3];
    for (int i = 0; i < 3; i++) {
      pace[i] = s.absolute(d[i]);
      parallel[i] = s.equal(d[i], s.zero);
      backwards[i] = s.less(d[i], s.zero);
    }
    return new BoxCoverage(s, pace, parallel, backwards).points(origin, null, word, grazes, leaves);
  }

  public static Datapath byInverse(Format word, Format inverse, boolean flags) {
    Bits s = new Bits("box coverage points");
    Value[] origin = s.vector("origin", word);
    Value[] inverses = s.vector("inverse", inverse);
    Value[] parallel = flags ? s.vector("parallel", Format.bit()) : null;
    Value[] pace = new Value[3];
    Value[] backwards = new Value[3];
    for (int i = 0; i < 3; i++) {
      pace[i] = s.absolute(inverses[i]);
      backwards[i] = s.less(inverses[i], s.zero);
    }
    return new BoxCoverage(s, null, parallel, backwards).points(origin, pace, word, true, true);
  }

  private Datapath points(
      Value[] origin, Value[] factor, Format word, boolean grazes, boolean leaves) {
    Value[] min = s.vector("min", word);
    Value[] max = s.vector("max", word);
    for (int i = 0; i < 3; i++) {
      Value toLow = s.subtract(s.b.minimum(s.name(), min[i], max[i]), origin[i]);
      Value toHigh = s.subtract(s.b.maximum(s.name(), min[i], max[i]), origin[i]);
      between[i] =
          s.and(
              s.atMost(s.subtract(min[i], origin[i]), s.zero),
              s.atMost(s.zero, s.subtract(max[i], origin[i])));
      near[i] = scaled(s.select(backwards[i], s.negate(toHigh), toLow), factor, i);
      far[i] = scaled(s.select(backwards[i], s.negate(toLow), toHigh), factor, i);
    }
    if (parallel != null) {
      patterns();
    }
    Value line = line();
    Value ahead = ahead(true);
    Value hit = s.and(line, ahead);
    s.point("hit", hit);
    s.point("missed", s.not(line));
    Value notBehind = ahead(false);
    s.point("behind", line, s.not(notBehind));
    if (leaves) {
      s.point("leaves_at_the_origin", line, notBehind, s.not(ahead));
    }
    s.point("inside", between);
    Value[] last = {enters(0), enters(1), enters(2)};
    Value outside = s.not(s.and(between));
    for (int i = 0; i < 3; i++) {
      for (int side = 0; side < 2; side++) {
        Value first = s.and(last[i], s.not(last[(i + 1) % 3]), s.not(last[(i + 2) % 3]));
        s.point(
            "enters_" + Axes.NAMES.get(i) + "_" + SIDES[side],
            hit,
            outside,
            first,
            side == 0 ? s.not(backwards[i]) : backwards[i]);
      }
    }
    s.point(
        "edge",
        hit,
        outside,
        s.or(s.and(last[0], last[1]), s.and(last[1], last[2]), s.and(last[2], last[0])),
        s.not(s.and(last)));
    s.point("corner", hit, outside, s.and(last));
    if (grazes) {
      s.point("touches_an_edge", hit, touches());
    }
    Value[] crossed = {s.less(max[0], min[0]), s.less(max[1], min[1]), s.less(max[2], min[2])};
    s.point("crossed_faces", s.or(crossed));
    s.point(
        "flat", s.or(s.equal(min[0], max[0]), s.equal(min[1], max[1]), s.equal(min[2], max[2])));
    return s.b.build();
  }

  private Value scaled(Value to, Value[] factor, int axis) {
    return factor == null ? to : s.multiply(to, factor[axis]);
  }

  /** Each pattern of zero components but that of all. */
  private void patterns() {
    for (int pattern = 0; pattern < 7; pattern++) {
      Value[] bits = new Value[3];
      StringBuilder axes = new StringBuilder();
      for (int i = 0; i < 3; i++) {
        boolean zero = (pattern >> i & 1) != 0;
        bits[i] = zero ? parallel[i] : s.not(parallel[i]);
        axes.append(zero ? "_" + Axes.NAMES.get(i) : "");
      }
      s.point(pattern == 0 ? "no_zero_component" : "zero_component" + axes, bits);
    }
  }

  /** Whether one distance is at most another, of axes that are not parallel. */
  private Value atMost(Value left, int i, Value right, int j) {
    return pace == null
        ? s.atMost(left, right)
        : s.atMost(s.multiply(left, pace[j]), s.multiply(right, pace[i]));
  }

  private Value orParallel(int i, Value otherwise) {
    return parallel == null ? otherwise : s.or(parallel[i], otherwise);
  }

  /** Whether the whole line meets the box. */
  private Value line() {
    Value all = null;
    for (int i = 0; i < 3; i++) {
      if (parallel != null) {
        Value here = s.or(s.not(parallel[i]), between[i]);
        all = all == null ? here : s.and(all, here);
      }
      for (int j = 0; j < 3; j++) {
        if (i != j) {
          Value here = orParallel(i, orParallel(j, atMost(near[i], i, far[j], j)));
          all = all == null ? here : s.and(all, here);
        }
      }
    }
    return all;
  }

  /** Whether the ray leaves the box after its origin, or at it. */
  private Value ahead(boolean strictly) {
    Value[] each = new Value[3];
    for (int i = 0; i < 3; i++) {
      each[i] = orParallel(i, strictly ? s.less(s.zero, far[i]) : s.atMost(s.zero, far[i]));
    }
    return s.and(each);
  }

  /** Whether an axis is the last whose nearer face the ray passes, alone or with others. */
  private Value enters(int i) {
    Value all = parallel == null ? s.equal(s.zero, s.zero) : s.not(parallel[i]);
    for (int j = 0; j < 3; j++) {
      if (i != j) {
        all = s.and(all, orParallel(j, atMost(near[j], j, near[i], i)));
      }
    }
    return all;
  }

  /** Whether the ray leaves one slab exactly where it enters another. */
  private Value touches() {
    Value any = null;
    for (int i = 0; i < 3; i++) {
      for (int j = 0; j < 3; j++) {
        if (i != j) {
          Value same = s.and(atMost(near[i], i, far[j], j), atMost(far[j], j, near[i], i));
          Value here =
              parallel == null ? same : s.and(same, s.not(parallel[i]), s.not(parallel[j]));
          any = any == null ? here : s.or(any, here);
        }
      }
    }
    return any;
  }
}
