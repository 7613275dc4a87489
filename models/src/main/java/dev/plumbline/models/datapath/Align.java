package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;

/** The same value with more fraction bits, or in a wider format: exact. */
final class Align extends Step {
  private final int bits;
  private final Format format;

  /** Takes the smallest format that holds the range, or the declared one when not null. */
  Align(Value value, int fractionBits, Format declared) {
    super(value.range().shiftedLeft(fractionBits - value.fractionBits()), fractionBits, value);
    this.bits = fractionBits - value.fractionBits();
    this.format = declared;
  }

  @Override
  Format declaredFormat() {
    return format;
  }

  @Override
  boolean balanced() {
    return operand(0).balanced();
  }

  @Override
  Loop bits(Columns columns, Value result) {
    return loop(columns.lane(operand(0)), bits, columns.lane(result));
  }

  @Override
  Loop bounds(BoundColumns columns, Value result) {
    Value x = operand(0);
    return Loop.all(
        loop(columns.low(x), bits, columns.low(result)),
        loop(columns.high(x), bits, columns.high(result)));
  }

  static Loop loop(Lane x, int bits, Lane out) {
    if (!out.wide()) {
      return Loop.of(n -> narrow(x.low, bits, out.low, n), out.low, "$0 << $1", x.low, bits);
    }
    if (bits > 63) {
      return n -> wide(x, bits, out, n);
    }
    long[] high = x.upper();
    if (bits == 0) {
      return Loop.of(
          n -> wide(x, bits, out, n),
          code -> {
            x.extended().tell(code);
            code.set(out.high, "$0", high);
            code.set(out.low, "$0", x.low);
          });
    }
    return Loop.all(
        x.extended(),
        Loop.of(
            n -> wideWithinWord(x.low, high, bits, out.low, out.high, n),
            code -> {
              code.set(out.high, "($0 << $1) | srl($2, $3)", high, bits, x.low, 64 - bits);
              code.set(out.low, "$0 << $1", x.low, bits);
            }));
  }

  private static void narrow(long[] x, int bits, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = x[i] << bits;
    }
  }

  private static void wideWithinWord(
      long[] x, long[] high, int bits, long[] out, long[] outHigh, int count) {
    for (int i = 0; i < count; i++) {
      long code = x[i];
      outHigh[i] = (high[i] << bits) | (code >>> -bits);
      out[i] = code << bits;
    }
  }

  private static void wide(Lane x, int bits, Lane out, int count) {
    for (int i = 0; i < count; i++) {
      long low = x.low[i];
      out.set(i, Wide.leftHigh(x.high(i), low, bits), Wide.leftLow(low, bits));
    }
  }

  @Override
  Loop ideal(IdealColumns columns, Value result) {
    double[] x = columns.of(operand(0));
    double[] out = columns.of(result);
    return count -> System.arraycopy(x, 0, out, 0, count);
  }

  @Override
  String formula() {
    return operand(0).name() + " with " + fractionBits() + " fraction bits";
  }
}
