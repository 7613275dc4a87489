package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;

/** Times a power of two by moving the point: the same codes under another format. */
final class Scale extends Step {
  private final int exponent;

  Scale(Value value, int exponent) {
    super(value.range(), value.fractionBits() - exponent, value);
    this.exponent = exponent;
  }

  @Override
  Format declaredFormat() {
    Format format = operand(0).format();
    return new Format(format.signed(), format.width(), fractionBits());
  }

  @Override
  Value sameColumns() {
    return operand(0);
  }

  @Override
  boolean balanced() {
    return operand(0).balanced();
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
    double[] x = columns.of(operand(0));
    double[] out = columns.of(result);
    double factor = Math.scalb(1.0, exponent);
    return count -> {
      for (int i = 0; i < count; i++) {
        out[i] = x[i] * factor;
      }
    };
  }

  @Override
  String formula() {
    return operand(0).name() + " * 2^" + exponent;
  }
}
