package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;

/** The bits of a code moved round within its format, by a value; up to 127 bits. */
final class Rotate extends CodeFunction {
  private final boolean left;
  private final Format format;

  Rotate(Value value, Value places, boolean left) {
    super(Range.of(value.format()), value.fractionBits(), value, places);
    this.left = left;
    this.format = value.format();
  }

  boolean left() {
    return left;
  }

  @Override
  Format declaredFormat() {
    return format;
  }

  @Override
  Loop codes(Lane[] in, Lane out) {
    Lane x = in[0];
    long[] places = in[1].low;
    int width = format.width();
    BigInteger mask = BigInteger.ONE.shiftLeft(width).subtract(BigInteger.ONE);
    long maskLow = mask.longValue();
    long maskHigh = mask.shiftRight(64).longValue();
    Loop turned =
        count -> {
          for (int i = 0; i < count; i++) {
            int by = (int) (places[i] % width);
            int up = left ? by : (width - by) % width;
            long low = x.low[i] & maskLow;
            long high = x.high(i) & maskHigh;
            // Never a shift by the whole width: that is none at all.
            int down = up == 0 ? 0 : width - up;
            long turnedLow = Wide.leftLow(low, up) | Wide.rightLow(high, low, down);
            long turnedHigh = Wide.leftHigh(high, low, up) | Wide.rightHigh(high, down);
            out.set(i, turnedHigh & maskHigh, turnedLow & maskLow);
          }
        };
    return Loop.all(turned, ConvertLoops.wrapped(out, format, out));
  }

  @Override
  String formula() {
    return operand(0).name()
        + " turned to the "
        + (left ? "left" : "right")
        + " by "
        + operand(1).name();
  }
}
