package dev.plumbline.models.datapath;

/**
 * The first of two aligned values that are accounts of the same one; in bounds what both allow.
 * Where they have nothing in common the first stands.
 */
final class Confine extends Step {
  Confine(Value value, Value other) {
    super(value.range(), value.fractionBits(), value, other);
  }

  @Override
  boolean exact() {
    return false;
  }

  @Override
  Loop bits(Columns columns, Value result) {
    return Align.loop(columns.lane(operand(0)), 0, columns.lane(result));
  }

  @Override
  Loop bounds(BoundColumns columns, Value result) {
    Value a = operand(0);
    Value b = operand(1);
    Range all = a.range().hull(b.range());
    boolean wide = all.columnBits() > 64;
    Lane low = columns.scratch(0, wide);
    Lane high = columns.scratch(1, wide);
    long[] none = columns.scratch(2, false).low;
    return Loop.all(
        Extremum.larger(columns.low(a), columns.low(b), all, low),
        Extremum.smaller(columns.high(a), columns.high(b), all, high),
        Compare.less(high, low, all, none),
        Select.loop(none, columns.low(a), low, columns.low(result)),
        Select.loop(none, columns.high(a), high, columns.high(result)));
  }

  @Override
  Loop ideal(IdealColumns columns, Value result) {
    double[] x = columns.of(operand(0));
    double[] out = columns.of(result);
    return count -> System.arraycopy(x, 0, out, 0, count);
  }

  @Override
  String formula() {
    return operand(0).name() + ", within " + operand(1).name();
  }
}
