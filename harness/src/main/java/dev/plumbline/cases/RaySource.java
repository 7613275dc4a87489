package dev.plumbline.cases;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.stimulus.Stimulus;
import java.util.List;

/**
 * Draws a ray and a solid a case, in codes; solids differ in {@link #draw}. Doubles only choose
 * where to aim: what they choose is a code, the same on every JDK.
 */
abstract class RaySource implements Stimulus.Source {
  static final int AXES = 3;

  final RandomStream chance;
  final RayCases.Aim aim;
  final int lsbs;
  final long span; // how far from the middle things are, in codes of the word
  final long one; // the length 1, in codes of the direction
  final long[] origin = new long[AXES];
  final long[] direction = new long[AXES];
  private final Limits words;
  private final Limits directions;
  private final List<Operand> operands;
  private final int[] originAt;
  private final long[][] columns; // the lower words, which are all that a code has
  private int row;

  RaySource(
      Format word,
      Format direction,
      RayCases.Aim aim,
      int lsbs,
      List<Operand> operands,
      long seed) {
    this.chance = RandomStream.of(seed);
    this.aim = aim;
    this.lsbs = lsbs;
    this.operands = operands;
    this.columns = new long[operands.size()][];
    this.words = new Limits(word);
    this.directions = new Limits(direction);
    int range = word.width() - 3; // a quarter of what the word holds
    this.span = 1L << Math.max(0, Math.min(30, Math.min(range, word.fractionBits() + 5)));
    this.one = 1L << Math.max(0, Math.min(direction.fractionBits(), direction.width() - 1));
    this.originAt = axes("origin");
  }

  /** Chooses origin, direction and solid; calls {@link #put} for the solid. */
  abstract void draw();

  /** Stores the direction, in whatever form the block takes it. */
  abstract void putDirection();

  @Override
  public final void fill(long[][][] target, int from, int to) {
    for (int operand = 0; operand < columns.length; operand++) {
      columns[operand] = target[operand][0];
    }
    for (row = from; row < to; row++) {
      draw();
      for (int axis = 0; axis < AXES; axis++) {
        put(originAt[axis], words.clamp(origin[axis]));
      }
      putDirection();
    }
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

  final void put(int operand, long code) {
    columns[operand][row] = code;
  }

  /** Stores a word, saturated. */
  final void putWord(int operand, long code) {
    put(operand, words.clamp(code));
  }

  final long clampDirection(long code) {
    return directions.clamp(code);
  }

  /** An origin at corners of the word's format. */
  final void originAtLimits() {
    for (int axis = 0; axis < AXES; axis++) {
      origin[axis] = limit();
    }
  }

  /** A point at the ends of the word's format along every axis. */
  final void putAtEnds(long[] point) {
    for (int axis = 0; axis < AXES; axis++) {
      point[axis] = words.end(chance);
    }
  }

  /** A vector at the ends of the direction's format along every axis. */
  final void turnToEnds(long[] vector) {
    for (int axis = 0; axis < AXES; axis++) {
      vector[axis] = directions.end(chance);
    }
  }

  /** The highest code of a word, or the lowest, or one beside them. */
  final long end() {
    return words.end(chance);
  }

  /** The highest code of a word, or the one below it. */
  final long top() {
    return words.top(chance);
  }

  /** A corner of the word's format. */
  final long limit() {
    return words.draw(chance);
  }

  final long directionLimit() {
    return directions.draw(chance);
  }

  /** From -most to most. */
  final long within(long most) {
    int bound = (int) Math.min(Integer.MAX_VALUE - 1, 2 * most + 1);
    return chance.below(bound) - most;
  }

  final boolean oneIn(int times) {
    return chance.below(times) == 0;
  }

  /** 1 or -1. */
  final long sign() {
    return 1L - 2L * chance.below(2);
  }

  /** Turns the direction towards a point, at unit length as near as its format goes. */
  final void turnTowards(double x, double y, double z) {
    double length = Math.sqrt(x * x + y * y + z * z);
    double scale = length > 0 ? one / length : 0;
    direction[0] = (long) Math.rint(x * scale);
    direction[1] = (long) Math.rint(y * scale);
    direction[2] = (long) Math.rint(z * scale);
    if ((direction[0] | direction[1] | direction[2]) == 0) {
      direction[chance.below(AXES)] = one;
    }
  }

  /** Turns the direction from one point to another. */
  final void turnFromTo(long[] from, long[] to) {
    turnTowards((double) (to[0] - from[0]), (double) (to[1] - from[1]), (double) (to[2] - from[2]));
  }

  final void turnAnywhere() {
    turnTowards((double) within(span), (double) within(span), (double) within(span));
  }

  /** A direction along one axis, exactly. */
  final int turnAlongAnAxis() {
    int axis = chance.below(AXES);
    for (int i = 0; i < AXES; i++) {
      direction[i] = i == axis ? sign() * one : 0;
    }
    return axis;
  }

  /** Directions whose components are 0, 1/4, 1/2 or 1, not all 0; of unit length only by chance. */
  final void turnToALattice() {
    for (int axis = 0; axis < AXES; axis++) {
      int place = chance.below(4);
      direction[axis] = place == 3 ? 0 : sign() * (one >> place);
    }
    if ((direction[0] | direction[1] | direction[2]) == 0) {
      direction[chance.below(AXES)] = sign() * one;
    }
  }

  final void turnBack() {
    for (int axis = 0; axis < AXES; axis++) {
      direction[axis] = -direction[axis];
    }
  }
}
