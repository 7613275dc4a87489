package dev.plumbline.cases;

import static dev.plumbline.cases.ColumnStream.ROWS;
import static dev.plumbline.cases.ColumnStream.column;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.stimulus.Stimulus;
import java.util.List;

/**
 * Draws a ray and a solid a case, in codes, a block of cases ahead and by columns; solids differ in
 * {@link #draw}. Doubles only choose where to aim: what they choose is a code, the same on every
 * JDK.
 *
 * <p>Cases at the limits, of which there are few, are drawn row by row.
 */
abstract class RaySource implements Stimulus.Source {
  static final int AXES = 3;
  static final int[] EACH = {0, 1, 2};
  private static final int SHORT = 50; // bits of numbers that are easily made whole

  final ColumnStream chance;
  RandomStream rowChance;
  final RayCases.Aim aim;
  final int lsbs;
  final long span; // how far from the middle things are, in codes of the word
  final long one; // the length 1, in codes of the direction
  final Limits words;
  final Limits directions;
  final long[][] origin = new long[AXES][ROWS]; // by axis and row, as all columns
  final long[][] direction = new long[AXES][ROWS];
  final double[][] heading = new double[AXES][ROWS]; // where to turn the direction, of any length
  private final double[] scales = new double[ROWS];
  private final long[] blank = column();
  private final long[] axes = column();
  private final long[] places = column();
  private final List<Operand> operands;
  private final int[] originAt;
  private final long[][] codes; // by operand; null where it is none of the ray or the solid
  private boolean isListed; // whether the steps of a block are
  private int next = ROWS; // row of the block to be taken next

  RaySource(
      Format word,
      Format direction,
      RayCases.Aim aim,
      int lsbs,
      List<Operand> operands,
      long seed) {
    long own = own(seed);
    this.chance = new ColumnStream(own);
    this.rowChance = rowChance(own);
    this.aim = aim;
    this.lsbs = lsbs;
    this.operands = operands;
    this.codes = new long[operands.size()][];
    this.words = new Limits(word);
    this.directions = new Limits(direction);
    int range = word.width() - 3; // a quarter of what the word holds
    this.span = 1L << Math.max(0, Math.min(30, Math.min(range, word.fractionBits() + 5)));
    this.one = 1L << Math.max(0, Math.min(direction.fractionBits(), direction.width() - 1));
    this.originAt = axes("origin");
  }

  /** Lists what chooses origin, direction and solid, and stores the solid. */
  abstract void draw();

  /** Lists what stores the direction, in whatever form the block takes it. */
  abstract void putDirection();

  private static long own(long seed) {
    return RandomStream.derive(seed, 0);
  }

  private static RandomStream rowChance(long own) {
    return RandomStream.of(RandomStream.derive(own, 1));
  }

  @Override
  public final boolean restart(long seed, long firstCase) {
    long own = own(seed);
    chance.restart(own);
    rowChance = rowChance(own);
    next = ROWS;
    return true;
  }

  @Override
  public final void fill(long[][][] target, int from, int to) {
    for (int row = from; row < to; ) {
      if (next == ROWS) {
        if (!isListed) {
          list();
        }
        chance.run();
        next = 0;
      }
      int run = Math.min(ROWS - next, to - row);
      for (int operand = 0; operand < codes.length; operand++) {
        if (codes[operand] != null) {
          System.arraycopy(codes[operand], next, target[operand][0], row, run);
        }
      }
      next += run;
      row += run;
    }
  }

  private void list() {
    isListed = true;
    draw();
    for (int axis : EACH) {
      putWord(originAt[axis], origin[axis]);
    }
    putDirection();
  }

  /** The indexes of an operand's three components. */
  final int[] axes(String operand) {
    return new int[] {at(operand + "_x"), at(operand + "_y"), at(operand + "_z")};
  }

  /** The index of an operand. */
  final int at(String operand) {
    int index = find(operand);
    if (index < 0) {
      throw new IllegalArgumentException(
          "Rays need an operand \"" + operand + "\"; there are " + operands + ".");
    }
    codes[index] = chance.taken(column());
    return index;
  }

  final int find(String operand) {
    for (int i = 0; i < operands.size(); i++) {
      if (operands.get(i).name().equals(operand)) {
        return i;
      }
    }
    return -1;
  }

  /** The column of an operand. */
  final long[] codes(int operand) {
    return codes[operand];
  }

  /** Stores words, saturated. */
  final void putWord(int operand, long[] column) {
    words.clamp(chance, column, codes[operand]);
  }

  /** Stores components of a direction or a normal, saturated. */
  final void putDirection(int operand, long[] column) {
    directions.clamp(chance, column, codes[operand]);
  }

  /** Points anywhere within so many codes of the middle along every axis. */
  final void anywhere(long most, long[][] point) {
    for (int axis : EACH) {
      chance.within(most, point[axis]);
    }
  }

  /** Points on a lattice of so many codes. */
  final void onLattice(long step, int most, long[][] point) {
    for (int axis : EACH) {
      onLattice(step, most, point[axis]);
    }
  }

  final void onLattice(long step, int most, long[] out) {
    chance.within(most, out);
    times(step, out);
  }

  final void times(long factor, long[] out) {
    chance.then(() -> scale(factor, out), out, "$0 * $1", out, factor);
  }

  private static void scale(long factor, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] *= factor;
    }
  }

  /** Turns the direction to where it is headed, at unit length as near as its format goes. */
  final void turn() {
    chance.then(
        () -> scales(heading[0], heading[1], heading[2], (double) one, scales),
        scales,
        "$3 / larger(root($0 * $0 + $1 * $1 + $2 * $2), $4)",
        heading[0],
        heading[1],
        heading[2],
        (double) one,
        Double.MIN_NORMAL);
    for (int axis : EACH) {
      chance.then(
          () -> scaled(heading[axis], scales),
          heading[axis],
          "nearest($0 * $1)",
          heading[axis],
          scales);
      whole(heading[axis], one, direction[axis]);
    }
    chance.below(AXES, axes);
    unlessBlank(one, axes);
  }

  private static void scales(double[] x, double[] y, double[] z, double one, double[] out) {
    for (int i = 0; i < ROWS; i++) {
      double length = Math.sqrt(x[i] * x[i] + y[i] * y[i] + z[i] * z[i]);
      out[i] = one / Math.max(length, Double.MIN_NORMAL);
    }
  }

  private static void scaled(double[] heading, double[] scales) {
    for (int i = 0; i < ROWS; i++) {
      heading[i] = Math.rint(heading[i] * scales[i]);
    }
  }

  /** The whole parts of numbers that are no more than some, or less than one more, either way. */
  final void whole(double[] numbers, long most, long[] out) {
    String codes = most < 1L << SHORT ? "short_codes($0)" : "codes($0)";
    chance.then(() -> toCodes(numbers, out), out, codes, numbers);
  }

  private static void toCodes(double[] numbers, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] = (long) numbers[i];
    }
  }

  /** Has a component of some axis that length where all are zero. */
  private void unlessBlank(long length, long[] axes) {
    blank(blank);
    for (int axis : EACH) {
      chance.then(
          () -> replace(blank, axes, axis, length, direction[axis]),
          direction[axis],
          "chosen(($0 == $1) & $2, $3, $4)",
          axes,
          (long) axis,
          blank,
          length,
          direction[axis]);
    }
  }

  /** A mask of where all components of the direction are zero. */
  final void blank(long[] mask) {
    long[] x = direction[0];
    long[] y = direction[1];
    long[] z = direction[2];
    chance.then(() -> blank(x, y, z, mask), mask, "($0 | $1 | $2) == 0", x, y, z);
  }

  private static void blank(long[] x, long[] y, long[] z, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      long any = x[i] | y[i] | z[i];
      out[i] = ~((any | -any) >> 63);
    }
  }

  /** Sets a component of one axis to a length where a mask is set and the axis is that one. */
  private static void replace(long[] mask, long[] axes, int axis, long length, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      long here = (((axes[i] ^ axis) - 1) >> 63) & mask[i];
      out[i] = (out[i] & ~here) | (length & here);
    }
  }

  /** Turns the direction from one point to another. */
  final void turnFromTo(long[][] from, long[][] to) {
    for (int axis : EACH) {
      chance.then(
          () -> head(from[axis], to[axis], heading[axis]),
          heading[axis],
          "reals($0 - $1)",
          to[axis],
          from[axis]);
    }
    turn();
  }

  static void head(long[] from, long[] to, double[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] = to[i] - from[i];
    }
  }

  final void turnAnywhere() {
    for (int axis : EACH) {
      chance.within(span, places);
      real(places, heading[axis]);
    }
    turn();
  }

  final void real(long[] codes, double[] out) {
    chance.then(() -> toReals(codes, out), out, "reals($0)", codes);
  }

  private static void toReals(long[] codes, double[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] = codes[i];
    }
  }

  /** Directions along one axis, exactly, where a mask is set; chooses axes everywhere. */
  final void turnAlongAnAxis(long[] where, long[] along) {
    chance.below(AXES, along);
    chance.signs(places);
    for (int axis : EACH) {
      chance.then(
          () -> turnAlong(where, along, axis, one, places, direction[axis]),
          direction[axis],
          "chosen($0, $3 * $4 & ($1 == $2), $5)",
          where,
          along,
          (long) axis,
          one,
          places,
          direction[axis]);
    }
  }

  private static void turnAlong(
      long[] where, long[] along, int axis, long one, long[] signs, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      long here = ((along[i] ^ axis) - 1) >> 63;
      out[i] = (out[i] & ~where[i]) | (one * signs[i] & here & where[i]);
    }
  }

  /** Directions whose components are 0, 1/4, 1/2 or 1, not all 0; of unit length only by chance. */
  final void turnToALattice() {
    for (int axis : EACH) {
      chance.below(4, axes);
      chance.signs(places);
      chance.then(
          () -> part(axes, places, one, direction[axis]),
          direction[axis],
          "($0 >> $1) * $2 & ~(2 < $1)",
          one,
          axes,
          places);
    }
    chance.below(AXES, axes);
    unlessBlank(one, axes);
    chance.signs(places);
    for (int axis : EACH) {
      chance.then(
          () -> signed(blank, places, direction[axis]),
          direction[axis],
          "$2 * chosen($0, $1, whole(1))",
          blank,
          places,
          direction[axis]);
    }
  }

  private static void part(long[] places, long[] signs, long one, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      long none = (2 - places[i]) >> 63;
      out[i] = (one >> places[i]) * signs[i] & ~none;
    }
  }

  private static void signed(long[] mask, long[] signs, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] *= (signs[i] & mask[i]) | (1 & ~mask[i]);
    }
  }

  /** Turns the direction back where a mask is set. */
  final void turnBack(long[] where) {
    for (int axis : EACH) {
      chance.then(
          () -> negate(where, direction[axis]),
          direction[axis],
          "turned($0, $1)",
          where,
          direction[axis]);
    }
  }

  static void negate(long[] where, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] = (out[i] ^ where[i]) - where[i];
    }
  }

  /** Nothing where a mask is set. */
  final void clear(long[] where, long[] out) {
    chance.then(() -> without(where, out), out, "$1 & ~$0", where, out);
  }

  private static void without(long[] where, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] &= ~where[i];
    }
  }

  /** The sum of a code and a number in units of the last place, where a mask is set. */
  final void addWhere(long[] where, long[] more, long[] out) {
    chance.then(() -> add(where, more, out), out, "$2 + ($1 & $0)", where, more, out);
  }

  private static void add(long[] where, long[] more, long[] out) {
    for (int i = 0; i < ROWS; i++) {
      out[i] += more[i] & where[i];
    }
  }

  // Row by row, for cases at the limits.

  final boolean oneIn(int times) {
    return rowChance.below(times) == 0;
  }

  /** A vector at the ends of a format along every axis. */
  final void putAtEnds(Limits limits, long[][] vector, int row) {
    for (int axis : EACH) {
      vector[axis][row] = limits.end(rowChance);
    }
  }

  /** A vector at corners of a format. */
  final void putAtLimits(Limits limits, long[][] vector, int row) {
    for (int axis : EACH) {
      vector[axis][row] = limits.draw(rowChance);
    }
  }
}
