package dev.plumbline.cases;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import java.util.List;

/** Rays at planes. */
final class PlaneRays extends RaySource {
  private final int[] normalAt;
  private final int levelAt;
  private final int[] directionAt;
  private final long[] normal = new long[AXES];
  private long level;

  PlaneRays(
      Format word,
      Format direction,
      RayCases.Aim aim,
      int lsbs,
      List<Operand> operands,
      long seed) {
    super(word, direction, aim, lsbs, operands, seed);
    normalAt = axes("normal");
    levelAt = at("level");
    directionAt = axes("direction");
  }

  @Override
  void draw() {
    for (int axis = 0; axis < AXES; axis++) {
      origin[axis] = within(span);
    }
    level = within(span);
    switch (aim) {
      case HIT -> aimed(false);
      case MISS -> aimed(true);
      case GRAZE -> graze();
      case LATTICE -> lattice();
      case DEGENERATE -> degenerate();
      case LIMITS -> limits();
    }
    for (int axis = 0; axis < AXES; axis++) {
      put(normalAt[axis], clampDirection(normal[axis]));
    }
    putWord(levelAt, level);
  }

  private void anyNormal() {
    turnAnywhere();
    System.arraycopy(direction, 0, normal, 0, AXES);
  }

  /** What the origin is above the plane, in codes of the word, about. */
  private double height() {
    double dot = 0;
    for (int axis = 0; axis < AXES; axis++) {
      dot += (double) normal[axis] * origin[axis];
    }
    return dot / one - level;
  }

  private void aimed(boolean away) {
    anyNormal();
    turnAnywhere();
    double slope = 0;
    for (int axis = 0; axis < AXES; axis++) {
      slope += (double) normal[axis] * direction[axis];
    }
    if (slope * height() < 0 == away) {
      turnBack();
    }
  }

  /** Nearly along the plane: the normal lies along an axis and the slope is some LSB. */
  private void graze() {
    int across = turnAlongAnAxis();
    System.arraycopy(direction, 0, normal, 0, AXES);
    turnTowards(across == 0 ? 0 : 3, across == 1 ? 0 : 4, across == 2 ? 0 : 5);
    direction[across] = within(1 + lsbs);
    if (oneIn(2)) {
      origin[across] = (normal[across] > 0 ? level : -level) + within(lsbs);
    }
  }

  private void lattice() {
    long step = Math.max(1, span / 32);
    for (int axis = 0; axis < AXES; axis++) {
      origin[axis] = step * within(6);
    }
    level = step * within(6);
    turnToALattice();
    System.arraycopy(direction, 0, normal, 0, AXES);
    turnToALattice();
  }

  private void degenerate() {
    int along = turnAlongAnAxis();
    System.arraycopy(direction, 0, normal, 0, AXES);
    origin[along] = (normal[along] > 0 ? level : -level) + (oneIn(2) ? 0 : within(2));
    if (oneIn(8)) {
      normal[along] = 0;
      level = within(2);
    }
    if (oneIn(2)) {
      turnToALattice();
    } else {
      turnAnywhere();
    }
    if (oneIn(3)) {
      direction[along] = 0;
    }
    if ((direction[0] | direction[1] | direction[2]) == 0) {
      direction[(along + 1) % AXES] = one;
    }
  }

  private void limits() {
    if (oneIn(2)) {
      ends();
      return;
    }
    originAtLimits();
    level = limit();
    anyNormal();
    if (oneIn(3)) {
      normal[chance.below(AXES)] = directionLimit();
    }
    turnAnywhere();
  }

  /** All operands at their ends at once, where heights, slopes and products are the largest. */
  private void ends() {
    putAtEnds(origin);
    turnToEnds(normal);
    level = end();
    if (oneIn(2)) { // as far from the plane as can be
      long side = sign();
      for (int axis = 0; axis < AXES; axis++) {
        normal[axis] = clampDirection(Long.MIN_VALUE);
        origin[axis] = side > 0 ? top() : -1 - top();
      }
      level = side > 0 ? top() : -1 - top();
    }
    switch (chance.below(3)) {
      case 0 -> turnToEnds(direction);
      case 1 -> {
        for (int axis = 0; axis < AXES; axis++) {
          direction[axis] = within(1); // nearly parallel: the largest inverse
        }
        if ((direction[0] | direction[1] | direction[2]) == 0) {
          direction[0] = 1;
        }
      }
      default -> turnAnywhere();
    }
  }

  @Override
  void putDirection() {
    for (int axis = 0; axis < AXES; axis++) {
      put(directionAt[axis], clampDirection(direction[axis]));
    }
  }
}
