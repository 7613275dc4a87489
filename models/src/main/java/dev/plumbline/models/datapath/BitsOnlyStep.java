package dev.plumbline.models.datapath;

/** A step that looks at bits; no enclosure and no real function belongs to it alone. */
abstract class BitsOnlyStep extends Step {
  BitsOnlyStep(Range range, int fractionBits, Value... operands) {
    super(range, fractionBits, operands);
  }

  @Override
  final boolean bitsOnly() {
    return true;
  }

  @Override
  final Loop bounds(BoundColumns columns, Value result) {
    throw new AssertionError("bounds of a bits-only step: refused before");
  }

  @Override
  final Loop ideal(IdealColumns columns, Value result) {
    throw new AssertionError("ideal of a bits-only step: refused before");
  }
}
