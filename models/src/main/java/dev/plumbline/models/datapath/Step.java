package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import java.util.List;

/**
 * One kind of step: what it does to ranges when it is described, and the loops it runs over columns
 * in each of the three evaluations.
 *
 * <p>A step is immutable and shared by all evaluations. Operands of a step that adds or compares
 * have been brought to the same fraction bits by the builder.
 */
abstract class Step {
  private final List<Value> operands;
  private final Range range;
  private final int fractionBits;

  /** A step whose format follows from its range. */
  Step(Range range, int fractionBits, Value... operands) {
    this.operands = List.of(operands);
    this.range = range;
    this.fractionBits = fractionBits;
  }

  final List<Value> operands() {
    return operands;
  }

  final Value operand(int i) {
    return operands.get(i);
  }

  final Range range() {
    return range;
  }

  final int fractionBits() {
    return fractionBits;
  }

  /** The declared format, or null when it is the smallest one that holds the range. */
  Format declaredFormat() {
    return null;
  }

  /** The operand whose columns are the result's as they stand, or null. */
  Value sameColumns() {
    return null;
  }

  /** The floating-point format whose codes the result is; null in fixed point. */
  FloatFormat floatResult() {
    return null;
  }

  /** The floating-point format whose codes the operands are; null in fixed point. */
  FloatFormat floatOperands() {
    return null;
  }

  /** The values of which the result is one as it stands. */
  List<Value> handedOn() {
    return List.of();
  }

  /** Whether the result is a function of the operands without any rounding or lost high bit. */
  boolean exact() {
    return true;
  }

  /**
   * Whether its bounds lie as far below zero as above it in every case, as those of an allowance on
   * nothing do, and what is made of such.
   */
  boolean balanced() {
    return false;
  }

  /** Whether the step has a meaning in bits alone, so that bounds and ideal need a unit around. */
  boolean bitsOnly() {
    return false;
  }

  abstract Loop bits(Columns columns, Value result);

  /** Never asked of an exact step between points: that one runs its bits. */
  abstract Loop bounds(BoundColumns columns, Value result);

  abstract Loop ideal(IdealColumns columns, Value result);

  /** The right-hand side as the table prints it. */
  abstract String formula();
}
