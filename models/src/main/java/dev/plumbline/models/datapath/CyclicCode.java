package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;

/**
 * The remainder of a cyclic redundancy check after the bits of a word were shifted into it. The
 * register holds at most 64 bits.
 */
final class CyclicCode extends CodeFunction {
  private final Format format;
  private final long polynomial;
  private final boolean lowestFirst;

  /** The polynomial is written without its highest term, the lowest term in bit 0. */
  CyclicCode(Value register, Value data, long polynomial, boolean lowestFirst) {
    super(Range.of(register.format()), 0, register, data);
    this.format = register.format();
    this.polynomial = polynomial;
    this.lowestFirst = lowestFirst;
  }

  CyclicCode inTheOtherOrder() {
    return new CyclicCode(operand(0), operand(1), polynomial, !lowestFirst);
  }

  @Override
  Format declaredFormat() {
    return format;
  }

  @Override
  Loop codes(Lane[] in, Lane out) {
    Lane register = in[0];
    Lane data = in[1];
    int bits = operand(1).format().width();
    int width = format.width();
    long mask = -1L >>> (64 - width);
    long reversed = Long.reverse(polynomial) >>> (64 - width);
    return lowestFirst
        ? count -> {
          for (int i = 0; i < count; i++) {
            out.set(i, 0, lowestFirst(register.low[i] & mask, data, i, bits, reversed));
          }
        }
        : count -> {
          for (int i = 0; i < count; i++) {
            out.set(i, 0, highestFirst(register.low[i] & mask, data, i, bits, width));
          }
        };
  }

  private static long lowestFirst(long start, Lane data, int i, int bits, long reversed) {
    long register = start;
    for (int bit = 0; bit < bits; bit++) {
      long in = Wide.rightLow(data.high(i), data.low[i], bit);
      register = (register >>> 1) ^ (reversed & -((register ^ in) & 1));
    }
    return register;
  }

  private long highestFirst(long start, Lane data, int i, int bits, int width) {
    long register = start << (64 - width);
    long aligned = polynomial << (64 - width);
    for (int bit = bits - 1; bit >= 0; bit--) {
      long in = Wide.rightLow(data.high(i), data.low[i], bit) << 63;
      register = (register << 1) ^ (aligned & ((register ^ in) >> 63));
    }
    return register >>> (64 - width);
  }

  @Override
  String formula() {
    return "remainder of "
        + operand(0).name()
        + " and "
        + operand(1).name()
        + " by 0x"
        + Long.toHexString(polynomial)
        + (lowestFirst ? ", lowest bit first" : ", highest bit first");
  }
}
