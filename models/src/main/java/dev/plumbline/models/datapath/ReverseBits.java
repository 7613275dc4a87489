package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;

/** The bits of a code in the other order, as an unsigned integer of as many; up to 127 bits. */
final class ReverseBits extends CodeFunction {
  private final Format format;

  ReverseBits(Value value) {
    super(Range.of(Format.unsigned(value.format().width(), 0)), 0, value);
    this.format = Format.unsigned(value.format().width(), 0);
  }

  @Override
  Format declaredFormat() {
    return format;
  }

  @Override
  Loop codes(Lane[] in, Lane out) {
    Lane x = in[0];
    int unused = 128 - format.width();
    return count -> {
      for (int i = 0; i < count; i++) {
        long high = Long.reverse(x.low[i]);
        long low = Long.reverse(x.high(i));
        // A shift to the right that fills with zeros: one place first, then its sign taken off.
        long halfHigh = high >>> 1;
        long halfLow = (low >>> 1) | (high << 63);
        out.set(
            i, Wide.rightHigh(halfHigh, unused - 1), Wide.rightLow(halfHigh, halfLow, unused - 1));
      }
    };
  }

  @Override
  String formula() {
    return operand(0).name() + " from its last bit to its first";
  }
}
