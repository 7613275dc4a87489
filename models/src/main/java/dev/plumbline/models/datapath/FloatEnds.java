package dev.plumbline.models.datapath;

/** An operand that stands for a real number: the code of a floating-point one, or a fixed one. */
final class FloatEnds {
  private final FloatFormat format; // null: fixed point
  private final double lsb;

  FloatEnds(FloatFormat format, Value value) {
    this.format = format;
    this.lsb = value.format().lsbs();
  }

  /** The number, exact or rounded to odd. */
  double real(Lane lane, int i) {
    return format != null
        ? format.toReal(lane.low[i])
        : FloatOperation.odd(lane.high(i), lane.low[i]) * lsb;
  }

  /** Whether the numbers of an interval of codes lie between those of its ends. */
  boolean ordered(Lane low, Lane high, int i) {
    return format == null
        || (((low.low[i] ^ high.low[i]) & format.sign()) == 0 && !format.isNan(high.low[i]));
  }

  /** The number at an ideal code. */
  double ideal(double value) {
    return format == null ? value : format.atPosition(value);
  }
}
