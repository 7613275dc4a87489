package dev.plumbline.cases;

import static dev.plumbline.cases.ColumnStream.ROWS;
import static dev.plumbline.cases.ColumnStream.column;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import java.util.Arrays;
import java.util.List;

/** Rays at planes. */
final class PlaneRays extends RaySource {
  private final int[] normalAt;
  private final int levelAt;
  private final int[] directionAt;
  private final long[][] normal = new long[AXES][ROWS];
  private final double[][] away = new double[AXES][ROWS]; // the normal, as it was drawn
  private final double[] heights = new double[ROWS];
  private final double[] slopes = new double[ROWS];
  private final double[] reals = new double[ROWS];
  private final long[][] others = new long[AXES][ROWS];
  private final long[] level = column();
  private final long[] along = column();
  private final long[] where = column();
  private final long[] some = column();
  private final long[] place = column();
  private final long[] all = column();

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
    Arrays.fill(all, -1);
  }

  @Override
  void draw() {
    anywhere(span, origin);
    chance.within(span, level);
    switch (aim) {
      case HIT -> aimed(-1);
      case MISS -> aimed(0);
      case GRAZE -> graze();
      case LATTICE -> lattice();
      case DEGENERATE -> degenerate();
      case LIMITS -> limits();
    }
    for (int axis : EACH) {
      putDirection(normalAt[axis], normal[axis]);
    }
    putWord(levelAt, level);
  }

  private void directionAsNormal() {
    for (int axis : EACH) {
      copy(direction[axis], normal[axis]);
    }
  }

  /** From where the slope and the height are of one sign to where they are not, or back for 0. */
  private void aimed(long towards) {
    turnAnywhere();
    directionAsNormal();
    for (int axis : EACH) {
      double[] whole = heading[axis]; // by now
      double[] to = away[axis];
      chance.then(() -> System.arraycopy(whole, 0, to, 0, ROWS), to, "$0", whole);
    }
    turnAnywhere();
    chance.then(() -> Arrays.fill(heights, 0), heights, "$0", 0.0);
    chance.then(() -> Arrays.fill(slopes, 0), slopes, "$0", 0.0);
    for (int axis : EACH) {
      addTo(slopes, away[axis], heading[axis]);
      real(origin[axis], reals);
      addTo(heights, away[axis], reals);
    }
    real(level, reals);
    chance.then(
        () -> leads(slopes, heights, 1.0 / one, reals, towards, where),
        where,
        "sign(bits($0 * ($1 * $2 - $3))) ^ $4",
        slopes,
        heights,
        1.0 / one,
        reals,
        towards);
    turnBack(where);
  }

  private void addTo(double[] sums, double[] a, double[] b) {
    chance.then(() -> addProduct(a, b, sums), sums, "$0 + $1 * $2", sums, a, b);
  }

  private void copy(long[] from, long[] to) {
    chance.then(() -> System.arraycopy(from, 0, to, 0, ROWS), to, "$0", from);
  }

  private static void addProduct(double[] a, double[] b, double[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] += a[i] * b[i];
    }
  }

  /**
   * A mask of where a ray along the slope leads away from the plane, or to it where 0 is asked for.
   * What the origin is above the plane is a dot product in codes of the word, less the level.
   */
  private static void leads(
      double[] slopes, double[] dots, double scale, double[] levels, long asked, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      double height = dots[i] * scale - levels[i];
      out[i] = (Double.doubleToRawLongBits(slopes[i] * height) >> 63) ^ asked;
    }
  }

  /** Nearly along the plane: the normal lies along an axis and the slope is some LSB. */
  private void graze() {
    turnAlongAnAxis(all, along);
    directionAsNormal();
    for (int axis : EACH) {
      chance.then(
          () -> across(along, axis, 3.0 + axis, heading[axis]),
          heading[axis],
          "$0 == $1 ? real(0) : $2",
          along,
          (long) axis,
          3.0 + axis);
    }
    turn();
    chance.within(1 + lsbs, place);
    for (int axis : EACH) {
      chance.equal(along, axis, where);
      chance.choose(where, place, direction[axis], direction[axis]);
    }
    chance.within(lsbs, place);
    chance.oneIn(2, some);
    startOnThePlane();
  }

  /** Nothing along one axis, and a length on the others. */
  private static void across(long[] axes, int axis, double length, double[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] = axes[i] == axis ? 0 : length;
    }
  }

  /**
   * Puts the origin as far off the plane as the places are, along the normal, where it is asked.
   */
  private void startOnThePlane() {
    for (int axis : EACH) {
      chance.then(
          () -> onThePlane(some, along, axis, normal[axis], level, place, origin[axis]),
          origin[axis],
          "chosen($0 & ($1 == $2), turned($3 < 1, $4) + $5, $6)",
          some,
          along,
          (long) axis,
          normal[axis],
          level,
          place,
          origin[axis]);
    }
  }

  private static void onThePlane(
      long[] where, long[] axes, int axis, long[] normal, long[] level, long[] off, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      long here = where[i] & (((axes[i] ^ axis) - 1) >> 63);
      long back = (normal[i] - 1) >> 63;
      long point = ((level[i] ^ back) - back) + off[i];
      out[i] = (point & here) | (out[i] & ~here);
    }
  }

  private void lattice() {
    long step = Math.max(1, span / 32);
    onLattice(step, 6, origin);
    onLattice(step, 6, level);
    turnToALattice();
    directionAsNormal();
    turnToALattice();
  }

  private void degenerate() {
    turnAlongAnAxis(all, along);
    directionAsNormal();
    chance.within(2, place);
    chance.oneIn(2, where);
    clear(where, place);
    copy(all, some);
    startOnThePlane();
    chance.oneIn(8, where); // no normal at all
    chance.within(2, place);
    chance.choose(where, place, level, level);
    for (int axis : EACH) {
      clear(where, normal[axis]);
    }
    turnToALattice();
    for (int axis : EACH) {
      copy(direction[axis], others[axis]);
    }
    turnAnywhere();
    chance.oneIn(2, some);
    chance.oneIn(3, where);
    for (int axis : EACH) {
      chance.choose(some, others[axis], direction[axis], direction[axis]);
      chance.equal(along, axis, place);
      chance.then(() -> within(where, place), place, "$0 & $1", place, where);
      clear(place, direction[axis]);
    }
    chance.then(
        this::mendDirections,
        code -> {
          code.set(place, "($0 | $1 | $2) == 0", direction[0], direction[1], direction[2]);
          for (int axis : EACH) {
            // After the axis along which the ray may have been.
            int before = (axis + AXES - 1) % AXES;
            String mended = "chosen($0 & ($1 == $2), $3, $4)";
            code.set(direction[axis], mended, place, along, (long) before, one, direction[axis]);
          }
        });
  }

  private void mendDirections() {
    for (int row = 0; row < ROWS; row++) {
      if ((direction[0][row] | direction[1][row] | direction[2][row]) == 0) {
        direction[(int) (along[row] + 1) % AXES][row] = one;
      }
    }
  }

  private static void within(long[] where, long[] mask) {
    for (int i = 0; i < ROWS; i++) {
      mask[i] &= where[i];
    }
  }

  private void limits() {
    turnAnywhere();
    directionAsNormal();
    turnAnywhere();
    chance.then(this::endsOrLimits);
  }

  private void endsOrLimits() {
    for (int row = 0; row < ROWS; row++) {
      if (oneIn(2)) {
        ends(row);
        continue;
      }
      putAtLimits(words, origin, row);
      level[row] = words.draw(rowChance);
      if (oneIn(3)) {
        normal[rowChance.below(AXES)][row] = directions.draw(rowChance);
      }
    }
  }

  /** All operands at their ends at once, where heights, slopes and products are the largest. */
  private void ends(int row) {
    putAtEnds(words, origin, row);
    putAtEnds(directions, normal, row);
    level[row] = words.end(rowChance);
    if (oneIn(2)) { // as far from the plane as can be
      boolean above = oneIn(2);
      for (int axis : EACH) {
        normal[axis][row] = directions.least();
        origin[axis][row] = top(above);
      }
      level[row] = top(above);
    }
    switch (rowChance.below(3)) {
      case 0 -> putAtEnds(directions, direction, row);
      case 1 -> {
        for (int axis : EACH) {
          direction[axis][row] = rowChance.below(3) - 1L; // nearly parallel: the largest inverse
        }
        if ((direction[0][row] | direction[1][row] | direction[2][row]) == 0) {
          direction[0][row] = 1;
        }
      }
      default -> {} // anywhere
    }
  }

  private long top(boolean above) {
    long top = words.top(rowChance);
    return above ? top : -1 - top;
  }

  @Override
  void putDirection() {
    for (int axis : EACH) {
      putDirection(directionAt[axis], direction[axis]);
    }
  }
}
