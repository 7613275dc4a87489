package dev.plumbline.models.datapath;

import java.math.BigInteger;

/** How many bits of a code are one, or whether that is odd. */
final class Ones extends CodeFunction {
  private final boolean parity;

  Ones(Value value, boolean parity) {
    super(
        parity ? Range.BIT : new Range(BigInteger.ZERO, BigInteger.valueOf(value.format().width())),
        0,
        value);
    this.parity = parity;
  }

  @Override
  Loop codes(Lane[] in, Lane out) {
    Lane x = in[0];
    BigInteger all = BigInteger.ONE.shiftLeft(operand(0).format().width());
    long maskLow = all.subtract(BigInteger.ONE).longValue();
    long maskHigh = all.subtract(BigInteger.ONE).shiftRight(64).longValue();
    int kept = parity ? 1 : -1;
    return count -> {
      for (int i = 0; i < count; i++) {
        int ones = Long.bitCount(x.low[i] & maskLow) + Long.bitCount(x.high(i) & maskHigh);
        out.low[i] = ones & kept;
      }
    };
  }

  @Override
  String formula() {
    return (parity ? "parity of " : "ones in ") + operand(0).name();
  }
}
