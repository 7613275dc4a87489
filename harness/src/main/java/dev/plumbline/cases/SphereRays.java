package dev.plumbline.cases;

import static dev.plumbline.cases.ColumnStream.PART;
import static dev.plumbline.cases.ColumnStream.ROWS;
import static dev.plumbline.cases.ColumnStream.column;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import java.util.Arrays;
import java.util.List;

/** Rays at spheres. */
final class SphereRays extends RaySource {
  /** Three whole numbers whose squares add up: legs and hypotenuse. */
  private static final int[][] TRIPLES = {{3, 4, 5}, {5, 12, 13}, {8, 15, 17}, {0, 1, 1}};

  private static final long[][] SIDES = new long[3][TRIPLES.length];

  static {
    for (int side = 0; side < SIDES.length; side++) {
      for (int i = 0; i < TRIPLES.length; i++) {
        SIDES[side][i] = TRIPLES[i][side];
      }
    }
  }

  private static final long SEVENTH = 0x2492_4925L; // of 2^32, near enough

  private final int[] centreAt;
  private final int radiusAt;
  private final int[] directionAt;
  private final long[][] centre = new long[AXES][ROWS];
  private final long[][] ends = new long[AXES][ROWS]; // of directions
  private final long[] radius = column();
  private final long[] along = column();
  private final long[] where = column();
  private final long[] some = column();
  private final long[] kind = column();
  private final long[] place = column();
  private final long[] other = column();
  private final long[] all = column();
  private final long[] ones = column();

  SphereRays(
      Format word,
      Format direction,
      RayCases.Aim aim,
      int lsbs,
      List<Operand> operands,
      long seed) {
    super(word, direction, aim, lsbs, operands, seed);
    centreAt = axes("centre");
    radiusAt = at("radius");
    directionAt = axes("direction");
    Arrays.fill(all, -1);
    Arrays.fill(ones, 1);
  }

  @Override
  void draw() {
    switch (aim) {
      case HIT -> aimedAt(false);
      case MISS -> aimedAt(true);
      case GRAZE -> graze();
      case LATTICE -> lattice();
      case DEGENERATE -> degenerate();
      case LIMITS -> limits();
    }
    for (int axis : EACH) {
      putWord(centreAt[axis], centre[axis]);
    }
    putWord(radiusAt, radius);
  }

  private void sphere() {
    anywhere(span / 2, centre);
    anywhere(span, origin);
    chance.from(1, Math.max(1, span / 8), radius);
  }

  /** At a point within 4/7 of a radius of the centre on each axis, which is inside, or within 3. */
  private void aimedAt(boolean beside) {
    sphere();
    long sevenths = beside ? 21 : 4;
    chance.then(
        () -> reach(radius, sevenths, other),
        other,
        "($0 * $1 * $2) >> 32",
        radius,
        sevenths,
        SEVENTH);
    chance.oneIn(5, where);
    for (int axis : EACH) {
      chance.within(other, place);
      near(where, axis);
      chance.within(other, place);
      chance.then(
          () -> headNear(origin[axis], centre[axis], place, heading[axis]),
          heading[axis],
          "reals($1 - $0 + $2)",
          origin[axis],
          centre[axis],
          place);
    }
    turn();
    chance.oneIn(8, where);
    turnBack(where);
  }

  private static void reach(long[] radius, long sevenths, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] = (radius[i] * sevenths * SEVENTH) >> 32;
    }
  }

  /** The origin at a place beside the centre, where a mask is set. */
  private void near(long[] mask, int axis) {
    chance.then(
        () -> near(mask, centre[axis], place, origin[axis]),
        origin[axis],
        "chosen($0, $1 + $2, $3)",
        mask,
        centre[axis],
        place,
        origin[axis]);
  }

  private static void near(long[] where, long[] point, long[] off, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] = ((point[i] + off[i]) & where[i]) | (out[i] & ~where[i]);
    }
  }

  private static void headNear(long[] from, long[] to, long[] off, double[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] = to[i] - from[i] + off[i];
    }
  }

  /** Along an axis, past the centre by the radius or some LSB off it. */
  private void graze() {
    sphere();
    turnAlongAnAxis(all, along);
    chance.below(TRIPLES.length, kind);
    side(kind, 2, radius);
    chance.oneIn(3, where); // large: the larger, the more an LSB of it counts
    chance.then(
        () -> largest(where, span, radius, other),
        other,
        "greatest(codes(reals(chosen($0, $1, $2)) / reals($3)), whole(1))",
        where,
        span,
        span / 8,
        radius);
    chance.between(ones, other, other); // how large the triple is made
    product(other, radius);
    chance.within(lsbs, place);
    chance.oneIn(3, where);
    clear(where, place);
    addWhere(all, place, radius);
    side(kind, 0, place);
    product(other, place);
    side(kind, 1, some);
    product(other, some);
    chance.below(2, kind); // which leg lies along which of the other axes
    for (int axis : EACH) {
      chance.signs(other);
      String next = "(($0 - $1) & 1) ^ srl($0 - $1, 63) ^ $2";
      chance.then(
          () -> beside(along, kind, axis, place, some, other, centre[axis], origin[axis]),
          origin[axis],
          "chosen($0 != $1, $6 + $5 * chosen(-(" + next + "), $4, $3), $7)",
          (long) axis,
          along,
          kind,
          place,
          some,
          other,
          centre[axis],
          origin[axis]);
    }
  }

  private void side(long[] triples, int side, long[] out) {
    long[] of = SIDES[side];
    chance.then(
        () -> side(triples, of, out),
        out,
        "chosen($0 < 2, chosen($0 < 1, $1, $2), chosen($0 < 3, $3, $4))",
        triples,
        of[0],
        of[1],
        of[2],
        of[3]);
  }

  private static void side(long[] triples, long[] of, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] = of[(int) triples[i]];
    }
  }

  /** How often the hypotenuse goes into the span, or into an eighth of it. */
  private static void largest(long[] whole, long span, long[] hypotenuse, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      long of = (span / 8) ^ ((span ^ (span / 8)) & whole[i]);
      out[i] = Math.max(1, of / hypotenuse[i]);
    }
  }

  /** Off the centre by one leg or the other, on the axes that the ray is not along. */
  private static void beside(
      long[] along,
      long[] turned,
      int axis,
      long[] leg,
      long[] other,
      long[] signs,
      long[] centre,
      long[] out) {
    for (int i = 0; i < ROWS; i++) {
      long after = axis - along[i]; // 1 and -2 for the next axis
      long next = ((after & 1) ^ (after >>> 63)) ^ turned[i];
      long off = signs[i] * (leg[i] ^ ((leg[i] ^ other[i]) & -next));
      long here = ((after | -after) >> 63);
      out[i] ^= (out[i] ^ (centre[i] + off)) & here;
    }
  }

  private void lattice() {
    long step = Math.max(1, span / 32);
    onLattice(step, 3, centre);
    onLattice(step, 6, origin);
    chance.below(6, radius);
    times(step, radius);
    turnAlongAnAxis(all, along);
    chance.below(6, kind);
    onLattice(step, 6, other);
    chance.signs(place);
    chance.then(this::startBeside);
  }

  private void startBeside() {
    for (int i = 0; i < ROWS; i++) {
      long off = place[i] * radius[i];
      switch ((int) kind[i]) {
        case 0 -> start(i, along[i], off); // on the surface, straight in or out
        case 1 -> start(i, along[i] + 1, off); // on the surface, along it
        case 2 -> { // dead on, at times a point
          radius[i] = oneIn(2) ? 0 : radius[i];
          start(i, along[i], other[i]);
        }
        default -> {}
      }
    }
  }

  /** Puts the origin beside the centre along one axis. */
  private void start(int row, long at, long off) {
    for (int axis : EACH) {
      origin[axis][row] = centre[axis][row] + (at % AXES == axis ? off : 0);
    }
  }

  private void degenerate() {
    sphere();
    turnAnywhere();
    chance.oneIn(3, where);
    chance.then(() -> complement(where), where, "~$0", where);
    turnAlongAnAxis(where, along);
    chance.below(5, kind);
    chance.then(() -> odd(kind, radius));
    chance.oneIn(2, where); // dead on
    chance.oneIn(2, some);
    chance.within(span, other);
    chance.choose(some, radius, other, other);
    chance.signs(place);
    product(place, other);
    for (int axis : EACH) {
      chance.within(2, place);
      clear(where, place);
      chance.equal(along, axis, some);
      chance.choose(some, other, place, place);
      near(all, axis);
    }
  }

  private static void complement(long[] mask) {
    for (int i = 0; i < ROWS; i++) {
      mask[i] = ~mask[i];
    }
  }

  /** No radius, a negative one, or the least ones. */
  private void odd(long[] kind, long[] radius) {
    for (int i = 0; i < ROWS; i++) {
      radius[i] =
          switch ((int) kind[i]) {
            case 0 -> 0;
            case 1 -> -radius[i];
            case 2 -> rowChance.below(3);
            default -> radius[i];
          };
    }
  }

  private void product(long[] factors, long[] out) {
    chance.then(() -> multiply(factors, out), out, "$0 * $1", out, factors);
  }

  private static void multiply(long[] factors, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] *= factors[i];
    }
  }

  private void limits() {
    chance.oneIn(2, where); // at the ends
    chance.below(4, kind);
    chance.then(this::endsOrLimits);
    for (int axis : EACH) {
      chance.within(span, place);
      chance.then(
          () -> headTo(kind, origin[axis], centre[axis], place, heading[axis]),
          heading[axis],
          "reals(chosen($0 < 0, $1, $2 - $3))",
          kind,
          place,
          centre[axis],
          origin[axis]);
    }
    turn();
    chance.equal(kind, 2, some);
    turnBack(some);
    chance.equal(kind, 1, some);
    turnAlongAnAxis(some, along);
    chance.equal(kind, 0, some);
    for (int axis : EACH) {
      chance.choose(some, ends[axis], direction[axis], direction[axis]);
    }
  }

  /** What is drawn row by row is drawn part by part too, the ends of directions among it. */
  private void endsOrLimits() {
    for (int part = 0; part < ROWS; part += PART) {
      endsOrLimits(part, part + PART);
      for (int row = part; row < part + PART; row++) {
        if (kind[row] == 0) {
          putAtEnds(directions, ends, row);
        }
      }
    }
  }

  private void endsOrLimits(int from, int to) {
    for (int row = from; row < to; row++) {
      if (where[row] != 0) {
        ends(row);
      } else {
        putAtLimits(words, origin, row);
        putAtLimits(words, centre, row);
        radius[row] = words.draw(rowChance);
        kind[row] = kind[row] < 2 ? 1 : -1; // along an axis, or anywhere
      }
    }
  }

  /** Towards the centre, or somewhere else where the kind is negative. */
  private static void headTo(long[] kind, long[] from, long[] to, long[] anywhere, double[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] = kind[i] < 0 ? anywhere[i] : to[i] - from[i];
    }
  }

  /** All operands at their ends at once, where offsets, projections and sums are the largest. */
  private void ends(int row) {
    putAtEnds(words, origin, row);
    putAtEnds(words, centre, row);
    if (oneIn(4)) { // diagonally across all that the format holds
      for (int axis : EACH) {
        centre[axis][row] = -1 - origin[axis][row];
      }
    }
    radius[row] = oneIn(4) ? words.end(rowChance) : words.top(rowChance);
  }

  @Override
  void putDirection() {
    for (int axis : EACH) {
      putDirection(directionAt[axis], direction[axis]);
    }
  }
}
