package dev.plumbline.cases;

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
  private final long[] low = new long[AXES];
  private final long[] high = new long[AXES];
  private final long[] target = new long[AXES];

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
    for (int axis = 0; axis < AXES; axis++) {
      putWord(minAt[axis], low[axis]);
      putWord(maxAt[axis], high[axis]);
    }
  }

  private void box() {
    for (int axis = 0; axis < AXES; axis++) {
      long centre = within(span / 2);
      long half = 1L + chance.below((int) Math.max(1, span / 8));
      low[axis] = centre - half;
      high[axis] = centre + half;
    }
  }

  private void hit() {
    box();
    boolean inside = oneIn(5);
    for (int axis = 0; axis < AXES; axis++) {
      origin[axis] = inside ? between(axis) : within(span);
      target[axis] = between(axis);
    }
    turn();
    flatten();
    if (!inside && oneIn(8)) {
      turnBack();
    }
  }

  private void miss() {
    box();
    int beside = chance.below(AXES);
    for (int axis = 0; axis < AXES; axis++) {
      origin[axis] = within(span);
      target[axis] = between(axis);
      if (axis == beside) {
        long off = 1L + chance.below((int) Math.max(1, span / 8));
        target[axis] = oneIn(2) ? high[axis] + off : low[axis] - off;
      }
    }
    turn();
    flatten();
  }

  /** A point of an edge or a corner, or some LSB off it, on a ray without rounding. */
  private void graze() {
    box();
    turnToALattice();
    int free = oneIn(3) ? -1 : chance.below(AXES); // -1: a corner
    long steps = 4L * within(span / 4);
    for (int axis = 0; axis < AXES; axis++) {
      target[axis] = axis == free ? between(axis) : oneIn(2) ? low[axis] : high[axis];
      if (axis != free && oneIn(2)) {
        target[axis] += within(lsbs);
      }
      origin[axis] = target[axis] - (long) ((double) direction[axis] / one * steps);
    }
  }

  private void lattice() {
    long step = Math.max(1, span / 32);
    for (int axis = 0; axis < AXES; axis++) {
      origin[axis] = step * within(6);
      low[axis] = step * within(4);
      high[axis] = low[axis] + step * chance.below(5);
    }
    turnToALattice();
  }

  private void degenerate() {
    box();
    for (int axis = 0; axis < AXES; axis++) {
      int kind = chance.below(6);
      if (kind == 0) {
        high[axis] = low[axis]; // flat
      } else if (kind == 1) {
        long swapped = high[axis];
        high[axis] = low[axis];
        low[axis] = swapped;
      }
      target[axis] = low[axis] + (high[axis] - low[axis]) / 2;
      origin[axis] = oneIn(2) ? within(span) : oneIn(2) ? low[axis] : high[axis];
    }
    turn();
    if (oneIn(2)) {
      flatten();
    } else if (oneIn(2)) {
      turnAlongAnAxis();
    }
  }

  private void limits() {
    originAtLimits();
    for (int axis = 0; axis < AXES; axis++) {
      low[axis] = limit();
      high[axis] = limit();
      direction[axis] = directionLimit();
    }
    if ((direction[0] | direction[1] | direction[2]) == 0) {
      direction[0] = one;
    }
  }

  private long between(int axis) {
    long low = this.low[axis];
    return low + chance.below((int) (high[axis] - low + 1));
  }

  private void turn() {
    turnFromTo(origin, target);
  }

  /** Makes the ray parallel to some faces, mostly between them and at times exactly in one. */
  private void flatten() {
    if (!oneIn(3)) {
      return;
    }
    int zeros = 1 + chance.below(6); // every pattern but none and all
    for (int axis = 0; axis < AXES; axis++) {
      if ((zeros >> axis & 1) != 0) {
        direction[axis] = 0;
        origin[axis] =
            oneIn(4) ? (oneIn(2) ? low[axis] : high[axis]) : oneIn(6) ? origin[axis] : target[axis];
      }
    }
    if ((direction[0] | direction[1] | direction[2]) == 0) {
      for (int axis = 0; axis < AXES; axis++) {
        direction[axis] = (zeros >> axis & 1) == 0 ? sign() * one : 0;
      }
    }
  }

  @Override
  void putDirection() {
    for (int axis = 0; axis < AXES; axis++) {
      if (directionAt != null) {
        put(directionAt[axis], clampDirection(direction[axis]));
      } else {
        put(inverseAt[axis], inverse(direction[axis]));
        if (parallelAt != null) {
          put(parallelAt[axis], direction[axis] == 0 ? 1 : 0);
        }
      }
    }
  }

  private long inverse(long component) {
    if (aim == RayCases.Aim.LIMITS) {
      return inverses.draw(chance);
    }
    return component == 0
        ? inverses.clamp(Long.MAX_VALUE)
        : inverses.clamp((long) (inverseScale / component));
  }
}
