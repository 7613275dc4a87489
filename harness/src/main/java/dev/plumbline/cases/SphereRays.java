package dev.plumbline.cases;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import java.util.List;

/** Rays at spheres. */
final class SphereRays extends RaySource {
  /** Three whole numbers whose squares add up: legs and hypotenuse. */
  private static final int[][] TRIPLES = {{3, 4, 5}, {5, 12, 13}, {8, 15, 17}, {0, 1, 1}};

  private final int[] centreAt;
  private final int radiusAt;
  private final int[] directionAt;
  private final long[] centre = new long[AXES];
  private long radius;

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
  }

  @Override
  void draw() {
    switch (aim) {
      case HIT -> aimedAt(1.0);
      case MISS -> aimedAt(3.0);
      case GRAZE -> graze();
      case LATTICE -> lattice();
      case DEGENERATE -> degenerate();
      case LIMITS -> limits();
    }
    for (int axis = 0; axis < AXES; axis++) {
      putWord(centreAt[axis], centre[axis]);
    }
    putWord(radiusAt, radius);
  }

  private void sphere() {
    for (int axis = 0; axis < AXES; axis++) {
      centre[axis] = within(span / 2);
      origin[axis] = within(span);
    }
    radius = 1L + chance.below((int) Math.max(1, span / 8));
  }

  /** At a point within so many radii of the centre, on each axis. */
  private void aimedAt(double radii) {
    sphere();
    double reach = radius * radii * (radii > 1 ? 1.0 : 0.57);
    if (oneIn(5)) {
      for (int axis = 0; axis < AXES; axis++) {
        origin[axis] = centre[axis] + (long) (reach * (2 * chance.unit() - 1));
      }
    }
    turnTowards(
        centre[0] - origin[0] + reach * (2 * chance.unit() - 1),
        centre[1] - origin[1] + reach * (2 * chance.unit() - 1),
        centre[2] - origin[2] + reach * (2 * chance.unit() - 1));
    if (oneIn(8)) {
      turnBack();
    }
  }

  /** Along an axis, past the centre by the radius or some LSB off it. */
  private void graze() {
    sphere();
    int along = turnAlongAnAxis();
    int[] triple = TRIPLES[chance.below(TRIPLES.length)];
    long largest = oneIn(3) ? span : span / 8; // the larger, the more an LSB of it counts
    long scale = 1L + chance.below((int) Math.max(1, largest / triple[2]));
    int second = (along + 1 + chance.below(2)) % AXES;
    radius = triple[2] * scale + (oneIn(3) ? 0 : within(lsbs));
    for (int axis = 0; axis < AXES; axis++) {
      if (axis != along) {
        origin[axis] = centre[axis] + sign() * scale * triple[axis == second ? 1 : 0];
      }
    }
  }

  private void lattice() {
    long step = Math.max(1, span / 32);
    for (int axis = 0; axis < AXES; axis++) {
      centre[axis] = step * within(3);
      origin[axis] = step * within(6);
    }
    radius = step * chance.below(6);
    int along = turnAlongAnAxis();
    switch (chance.below(6)) {
      case 0 -> start(along, sign() * radius); // on the surface, straight in or out
      case 1 -> start((along + 1) % AXES, sign() * radius); // on the surface, along it
      case 2 -> { // dead on, at times a point
        radius = oneIn(2) ? 0 : radius;
        start(along, step * within(6));
      }
      default -> {}
    }
  }

  /** Puts the origin beside the centre along one axis. */
  private void start(int axis, long off) {
    System.arraycopy(centre, 0, origin, 0, AXES);
    origin[axis] += off;
  }

  private void degenerate() {
    sphere();
    int along = turnAlongAnAxis();
    switch (chance.below(5)) {
      case 0 -> radius = 0;
      case 1 -> radius = -radius;
      case 2 -> radius = chance.below(3);
      default -> {}
    }
    boolean deadOn = oneIn(2);
    long ahead = sign() * (oneIn(2) ? radius : within(span));
    for (int axis = 0; axis < AXES; axis++) {
      long off = deadOn ? 0 : within(2);
      origin[axis] = centre[axis] + (axis == along ? ahead : off);
    }
    if (oneIn(3)) {
      turnAnywhere();
    }
  }

  private void limits() {
    if (oneIn(2)) {
      ends();
      return;
    }
    originAtLimits();
    for (int axis = 0; axis < AXES; axis++) {
      centre[axis] = limit();
    }
    radius = limit();
    if (oneIn(2)) {
      turnAlongAnAxis();
    } else {
      turnAnywhere();
    }
  }

  /** All operands at their ends at once, where offsets, projections and sums are the largest. */
  private void ends() {
    putAtEnds(origin);
    putAtEnds(centre);
    if (oneIn(4)) { // diagonally across all that the format holds
      for (int axis = 0; axis < AXES; axis++) {
        centre[axis] = -1 - origin[axis];
      }
    }
    radius = oneIn(4) ? end() : top();
    switch (chance.below(4)) {
      case 0 -> turnToEnds(direction);
      case 1 -> turnAlongAnAxis();
      case 2 -> {
        turnFromTo(origin, centre);
        turnBack();
      }
      default -> turnFromTo(origin, centre);
    }
  }

  @Override
  void putDirection() {
    for (int axis = 0; axis < AXES; axis++) {
      put(directionAt[axis], clampDirection(direction[axis]));
    }
  }
}
