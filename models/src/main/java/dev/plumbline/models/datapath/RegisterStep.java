package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;
import java.util.List;

/**
 * What a register holds while a case is evaluated: its initial code in the first case, later what
 * its next value was in the case before. The next value is described after it, so that it is no
 * operand; {@link Sequence} hands it on.
 */
final class RegisterStep extends Step {
  private final Format format;
  private final BigInteger initial;
  private Value next;
  private Value enable;

  RegisterStep(Format format, BigInteger initial) {
    super(Range.of(format), format.fractionBits());
    this.format = format;
    this.initial = initial;
  }

  /** Once, before the datapath is built; no enable is null. */
  void takes(Value value, Value when) {
    next = value;
    enable = when;
  }

  BigInteger initial() {
    return initial;
  }

  Value next() {
    return next;
  }

  /** Null where it takes every next value. */
  Value enable() {
    return enable;
  }

  /** What it takes in a case for the next: values described after it, and so no operands. */
  List<Value> sources() {
    return enable == null ? List.of(next) : List.of(next, enable);
  }

  @Override
  Format declaredFormat() {
    return format;
  }

  /** In a loop both ends of its bounds have lanes of their own. */
  @Override
  boolean exact() {
    return false;
  }

  @Override
  List<Value> handedOn() {
    return List.of(next);
  }

  @Override
  Loop bits(Columns columns, Value result) {
    return Loop.NOTHING;
  }

  @Override
  Loop bounds(BoundColumns columns, Value result) {
    return Loop.NOTHING;
  }

  @Override
  Loop ideal(IdealColumns columns, Value result) {
    return Loop.NOTHING;
  }

  @Override
  String formula() {
    return "register of "
        + (next == null ? "nothing yet" : next.name())
        + (enable == null ? "" : " where " + enable.name())
        + ", at first "
        + format.toDecimal(initial).toPlainString();
  }
}
