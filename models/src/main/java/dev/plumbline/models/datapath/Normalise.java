package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;

/**
 * A code shifted to the left until its first one stands at the top of a width; zero stays. In
 * bounds it is both ends so shifted where both are by as many places, else anything.
 */
final class Normalise extends Step {
  private final int width;
  private final Format format;

  Normalise(Value value, int width) {
    super(range(value, width), value.fractionBits(), value);
    this.width = width;
    this.format = new Format(false, width, value.fractionBits());
  }

  private static Range range(Value value, int width) {
    BigInteger most = BigInteger.ONE.shiftLeft(width).subtract(BigInteger.ONE);
    boolean nothing = value.max().signum() == 0;
    boolean never = value.min().signum() > 0;
    return new Range(
        never ? BigInteger.ONE.shiftLeft(width - 1) : BigInteger.ZERO,
        nothing ? BigInteger.ZERO : most);
  }

  @Override
  Format declaredFormat() {
    return format;
  }

  @Override
  Loop bits(Columns columns, Value result) {
    return loop(columns.lane(operand(0)), columns.lane(result));
  }

  private Loop loop(Lane x, Lane out) {
    return count -> {
      for (int i = 0; i < count; i++) {
        long high = x.high(i);
        long low = x.low[i];
        int places = (high | low) == 0 ? 0 : (int) LeadingZeros.of(high, low, width);
        out.set(i, Wide.leftHigh(high, low, places), Wide.leftLow(low, places));
      }
    };
  }

  @Override
  Loop bounds(BoundColumns columns, Value result) {
    Lane low = columns.low(operand(0));
    Lane high = columns.high(operand(0));
    Lane outLow = columns.low(result);
    Lane outHigh = columns.high(result);
    Clamp whole = new Clamp(range());
    Loop apart =
        count -> {
          for (int i = 0; i < count; i++) {
            if (LeadingZeros.of(low.high(i), low.low[i], width)
                != LeadingZeros.of(high.high(i), high.low[i], width)) {
              whole.setMin(outLow, i);
              whole.setMax(outHigh, i);
            }
          }
        };
    return Loop.all(loop(low, outLow), loop(high, outHigh), apart);
  }

  @Override
  Loop ideal(IdealColumns columns, Value result) {
    double[] x = columns.of(operand(0));
    double[] out = columns.of(result);
    double lsb = format.lsbs();
    double most = range().max().doubleValue();
    return count -> {
      for (int i = 0; i < count; i++) {
        double code = x[i] / lsb;
        int places = Double.isNaN(code) ? 0 : (int) LeadingZeros.of(code, width);
        out[i] = Math.min(Math.scalb(code, places), most) * lsb;
      }
    };
  }

  @Override
  String formula() {
    return operand(0).name() + " shifted until its first one is bit " + (width - 1);
  }
}
