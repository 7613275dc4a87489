package dev.plumbline.cases;

import static dev.plumbline.cases.ColumnStream.ROWS;
import static dev.plumbline.cases.ColumnStream.column;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import java.util.List;

/** Rays at boxes, by direction or by inverse. */
final class BoxRays extends RaySource {
  /** Fraction bits of the direction that an inverse is made of. */
  private static final Format FINE = Format.signed(4, 24);

  private final int[] minAt;
  private final int[] maxAt;
  private final int[] directionAt; // null by inverse
  private final int[] inverseAt; // null by direction
  private final int[] parallelAt; // null where there is none
  private final Limits inverses;
  private final double inverseScale;
  private final long[][] low = new long[AXES][ROWS];
  private final long[][] high = new long[AXES][ROWS];
  private final long[][] target = new long[AXES][ROWS];
  private final long[] where = column();
  private final long[] some = column();
  private final long[] kind = column();
  private final long[] place = column();
  private final long[] other = column();
  private final long[] flat = column();
  private final long[] parallels = column();
  private final double[] quotient = new double[ROWS];

  BoxRays(
      Format word,
      Format direction,
      RayCases.Aim aim,
      int lsbs,
      List<Operand> operands,
      long seed) {
    super(word, hasInverse(operands) ? FINE : direction, aim, lsbs, operands, seed);
    minAt = axes("min");
    maxAt = axes("max");
    inverseAt = find("inverse_x") < 0 ? null : axes("inverse");
    directionAt = inverseAt == null ? axes("direction") : null;
    parallelAt = find("parallel_x") < 0 ? null : axes("parallel");
    inverses = new Limits(direction);
    inverseScale = one * Math.scalb(1.0, direction.fractionBits());
  }

  private static boolean hasInverse(List<Operand> operands) {
    return operands.stream().anyMatch(operand -> operand.name().equals("inverse_x"));
  }

  @Override
  void draw() {
    switch (aim) {
      case HIT -> hit();
      case MISS -> miss();
      case GRAZE -> graze();
      case LATTICE -> lattice();
      case DEGENERATE -> degenerate();
      case LIMITS -> limits();
    }
    for (int axis : EACH) {
      putWord(minAt[axis], low[axis]);
      putWord(maxAt[axis], high[axis]);
    }
  }

  private void box() {
    for (int axis : EACH) {
      chance.within(span / 2, place);
      chance.from(1, Math.max(1, span / 8), other);
      chance.then(
          () -> around(place, other, low[axis], high[axis]),
          code -> {
            code.set(low[axis], "$0 - $1", place, other);
            code.set(high[axis], "$0 + $1", place, other);
          });
    }
  }

  private static void around(long[] centre, long[] half, long[] low, long[] high) {
    for (int i = 0; i < ROWS; i++) {
      low[i] = centre[i] - half[i];
      high[i] = centre[i] + half[i];
    }
  }

  private void hit() {
    box();
    chance.oneIn(5, where); // inside
    for (int axis : EACH) {
      between(axis, target[axis]);
      between(axis, place);
      chance.within(span, other);
      chance.choose(where, place, other, origin[axis]);
    }
    turnFromTo(origin, target);
    chance.oneIn(3, parallels);
    flatten(parallels);
    turnOver(where);
    chance.oneIn(8, where, some);
    turnBack(some);
  }

  private void turnOver(long[] mask) {
    chance.then(() -> outside(mask), mask, "~$0", mask);
  }

  private static void outside(long[] mask) {
    for (int i = 0; i < ROWS; i++) {
      mask[i] = ~mask[i];
    }
  }

  private void miss() {
    box();
    anywhere(span, origin);
    chance.below(AXES, kind);
    chance.below(Math.max(1, span / 8), other);
    chance.oneIn(2, where);
    for (int axis : EACH) {
      between(axis, target[axis]);
      chance.then(
          () -> beside(kind, axis, where, other, low[axis], high[axis], target[axis]),
          target[axis],
          "chosen($0 == $1, chosen($2, $5 + 1 + $3, $4 - 1 - $3), $6)",
          kind,
          (long) axis,
          where,
          other,
          low[axis],
          high[axis],
          target[axis]);
    }
    turnFromTo(origin, target);
    chance.oneIn(3, parallels);
    flatten(parallels);
  }

  /** Beyond the high face where a mask is set, else below the low one; of one axis alone. */
  private static void beside(
      long[] axes, int axis, long[] where, long[] less, long[] low, long[] high, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      long here = ((axes[i] ^ axis) - 1) >> 63;
      long beside = ((high[i] + 1 + less[i]) & where[i]) | ((low[i] - 1 - less[i]) & ~where[i]);
      out[i] = (beside & here) | (out[i] & ~here);
    }
  }

  /** A point of an edge or a corner, or some LSB off it, on a ray without rounding. */
  private void graze() {
    box();
    turnToALattice();
    chance.oneIn(3, where); // a corner
    chance.below(AXES, kind);
    onLattice(4, (int) (span / 4), place);
    for (int axis : EACH) {
      between(axis, target[axis]);
      chance.oneIn(2, some);
      chance.choose(some, low[axis], high[axis], other);
      chance.then(
          () -> bound(where, kind, axis, some), some, "$0 | ($1 != $2)", where, kind, (long) axis);
      chance.choose(some, other, target[axis], target[axis]);
      chance.oneIn(2, some, some);
      chance.within(lsbs, other);
      addWhere(some, other, target[axis]);
      int unit = Long.numberOfTrailingZeros(one);
      chance.then(
          () -> before(target[axis], direction[axis], place, unit, origin[axis]),
          origin[axis],
          "$0 - (($1 * $2) >> $3)",
          target[axis],
          direction[axis],
          place,
          unit);
    }
  }

  /** A mask of where a point lies in a face: everywhere in a corner, else on all axes but one. */
  private static void bound(long[] corner, long[] free, int axis, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] = corner[i] | ~(((free[i] ^ axis) - 1) >> 63);
    }
  }

  /** So many times the direction before a point: a multiple of 4, and parts of a unit no finer. */
  private static void before(long[] point, long[] along, long[] steps, int unit, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] = point[i] - ((along[i] * steps[i]) >> unit);
    }
  }

  private void lattice() {
    long step = Math.max(1, span / 32);
    onLattice(step, 6, origin);
    onLattice(step, 4, low);
    for (int axis : EACH) {
      chance.below(5, place);
      times(step, place);
      chance.then(() -> sum(low[axis], place, high[axis]), high[axis], "$0 + $1", low[axis], place);
    }
    turnToALattice();
  }

  private static void sum(long[] a, long[] b, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] = a[i] + b[i];
    }
  }

  private void degenerate() {
    box();
    for (int axis : EACH) {
      chance.below(6, kind);
      chance.then(
          () -> flatOrCrossed(kind, low[axis], high[axis]),
          code -> {
            code.set(place, "$0 ^ $1", low[axis], high[axis]);
            code.set(high[axis], "$0 ^ ($1 & ($2 < 2))", high[axis], place, kind);
            code.set(low[axis], "$0 ^ ($1 & ($2 == 1))", low[axis], place, kind);
          });
      chance.then(
          () -> middle(low[axis], high[axis], target[axis]),
          target[axis],
          "$0 + (($1 - $0) >> 1)",
          low[axis],
          high[axis]);
      chance.oneIn(2, where);
      chance.choose(where, low[axis], high[axis], place);
      chance.within(span, other);
      chance.oneIn(2, where);
      chance.choose(where, other, place, origin[axis]);
    }
    turnFromTo(origin, target);
    chance.oneIn(2, where);
    chance.oneIn(3, where, parallels);
    flatten(parallels);
    turnOver(where);
    chance.oneIn(2, where, some);
    turnAlongAnAxis(some, place);
  }

  /** Flat where the kind is 0, crossed where it is 1. */
  private static void flatOrCrossed(long[] kind, long[] low, long[] high) {
    for (int i = 0; i < ROWS; i++) {
      long flat = (kind[i] - 1) >> 63;
      long crossed = ((kind[i] - 2) >> 63) & ~flat;
      long apart = low[i] ^ high[i];
      high[i] ^= apart & (flat | crossed);
      low[i] ^= apart & crossed;
    }
  }

  private static void middle(long[] low, long[] high, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] = low[i] + ((high[i] - low[i]) >> 1);
    }
  }

  private void limits() {
    for (int axis : EACH) {
      words.draw(chance, kind, place, origin[axis]);
      words.draw(chance, kind, place, low[axis]);
      words.draw(chance, kind, place, high[axis]);
      directions.draw(chance, kind, place, direction[axis]);
    }
    blank(where);
    chance.from(one, 1, other);
    chance.choose(where, other, direction[0], direction[0]);
  }

  private void between(int axis, long[] out) {
    chance.between(low[axis], high[axis], out);
  }

  /**
   * Makes the ray parallel to some faces where a mask is set, mostly between them and at times
   * exactly in one.
   */
  private void flatten(long[] mask) {
    chance.from(1, 6, kind); // every pattern but none and all
    for (int axis : EACH) {
      chance.then(
          () -> parallel(mask, kind, axis, place),
          place,
          "$0 & -(($1 >> $2) & 1)",
          mask,
          kind,
          axis);
      chance.below(48, some);
      chance.then(
          () -> start(place, some, low[axis], high[axis], target[axis], origin[axis]),
          origin[axis],
          "chosen($0, chosen($1 < 12, chosen(-($1 & 1), $3, $2), chosen($1 < 18, $5, $4)), $5)",
          place,
          some,
          low[axis],
          high[axis],
          target[axis],
          origin[axis]);
      clear(place, direction[axis]);
    }
    blank(flat);
    for (int axis : EACH) {
      chance.signs(other);
      chance.then(
          () -> straight(flat, kind, axis, one, other, direction[axis]),
          direction[axis],
          "$5 | ($4 * $3 & $0 & ((($1 >> $2) & 1) - 1))",
          flat,
          kind,
          axis,
          one,
          other,
          direction[axis]);
    }
  }

  /** A mask of where the direction is to have no component of an axis. */
  private static void parallel(long[] mask, long[] kind, int axis, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] = mask[i] & -((kind[i] >> axis) & 1);
    }
  }

  /**
   * Where a mask is set: in a face once in four times, else where it is or mostly at the target.
   */
  private static void start(
      long[] mask, long[] kind, long[] low, long[] high, long[] target, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      long face = low[i] ^ ((low[i] ^ high[i]) & -(kind[i] & 1));
      long point = target[i] ^ ((target[i] ^ out[i]) & ((kind[i] - 18) >> 63));
      point ^= (point ^ face) & ((kind[i] - 12) >> 63);
      out[i] ^= (out[i] ^ point) & mask[i];
    }
  }

  private static void straight(
      long[] blank, long[] kind, int axis, long one, long[] signs, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] |= signs[i] * one & blank[i] & (((kind[i] >> axis) & 1) - 1);
    }
  }

  @Override
  void putDirection() {
    for (int axis : EACH) {
      if (directionAt != null) {
        putDirection(directionAt[axis], direction[axis]);
        continue;
      }
      inverse(direction[axis], codes(inverseAt[axis]));
      if (parallelAt != null) {
        chance.then(
            () -> isZero(direction[axis], codes(parallelAt[axis])),
            codes(parallelAt[axis]),
            "($0 == 0) & 1",
            direction[axis]);
      }
    }
  }

  private static void isZero(long[] codes, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] = ((codes[i] | -codes[i]) >>> 63) ^ 1;
    }
  }

  /** That of zero is the highest code. */
  private void inverse(long[] components, long[] out) {
    if (aim == RayCases.Aim.LIMITS) {
      inverses.draw(chance, kind, place, out);
      return;
    }
    real(components, quotient);
    double least = (double) inverses.least();
    double most = (double) inverses.most();
    chance.then(
        () -> divide(inverseScale, least, most, quotient),
        quotient,
        "between($0 / $1, $2, $3)",
        inverseScale,
        quotient,
        least,
        most);
    whole(quotient, inverses.most(), other);
    inverses.clamp(chance, other, out);
  }

  private static void divide(double dividend, double least, double most, double[] divisors) {
    for (int i = 0; i < ROWS; i++) {
      divisors[i] = Math.min(Math.max(dividend / divisors[i], least), most);
    }
  }
}
