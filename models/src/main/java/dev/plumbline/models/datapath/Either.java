package dev.plumbline.models.datapath;

/** The first of two aligned values in bits and reals; in bounds whatever lies between them. */
final class Either extends Step {
  Either(Value first, Value other) {
    super(first.range().hull(other.range()), first.fractionBits(), first, other);
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
    return Loop.all(
        Extremum.smaller(columns.low(a), columns.low(b), range(), columns.low(result)),
        Extremum.larger(columns.high(a), columns.high(b), range(), columns.high(result)));
  }

  @Override
  Loop ideal(IdealColumns columns, Value result) {
    double[] first = columns.of(operand(0));
    double[] out = columns.of(result);
    return count -> System.arraycopy(first, 0, out, 0, count);
  }

  @Override
  String formula() {
    return operand(0).name() + ", or up to " + operand(1).name();
  }
}
