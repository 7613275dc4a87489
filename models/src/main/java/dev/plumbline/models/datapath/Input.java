package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;

/** An input of the datapath; its columns are filled by whoever runs the evaluation. */
final class Input extends Step {
  private final Format format;

  Input(Format format, Range legal) {
    super(legal, format.fractionBits());
    this.format = format;
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

  /** Its doubles are made from the codes by the evaluation itself. */
  @Override
  Loop ideal(IdealColumns columns, Value result) {
    return Loop.NOTHING;
  }

  @Override
  String formula() {
    return "input";
  }
}
