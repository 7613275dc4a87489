package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;
import java.util.Arrays;

/** A code that never changes; its columns are filled once, when an evaluation is made. */
final class Constant extends Step {
  private final Format format;

  Constant(Format format, BigInteger code) {
    super(new Range(code, code), format.fractionBits());
    this.format = format;
  }

  BigInteger code() {
    return range().min();
  }

  @Override
  Format declaredFormat() {
    return format;
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
    Arrays.fill(columns.of(result), format.toReal(code()));
    return Loop.NOTHING;
  }

  @Override
  String formula() {
    return format.toDecimal(code()).toPlainString();
  }
}
