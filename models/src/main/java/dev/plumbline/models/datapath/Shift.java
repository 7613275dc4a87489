package dev.plumbline.models.datapath;

import java.math.BigInteger;

/**
 * A shift by a number of places that is itself a value: exact to the left; to the right the code
 * keeps its LSB and the bits below are dropped.
 */
final class Shift extends Step {
  private final boolean left;

  Shift(Value value, Value places, boolean left) {
    super(range(value.range(), places.range(), left), value.fractionBits(), value, places);
    this.left = left;
  }

  boolean left() {
    return left;
  }

  /** A loop that shifts by one place more or less, and never by less than none; narrow lanes. */
  Loop by(Columns columns, Value result, int more) {
    long[] x = columns.lane(operand(0)).low;
    long[] places = columns.lane(operand(1)).low;
    long[] out = columns.lane(result).low;
    return count -> {
      for (int i = 0; i < count; i++) {
        long by = Math.max(0, Math.min(places[i] + more, 63));
        out[i] = result.format().extend(left ? x[i] << by : x[i] >> by);
      }
    };
  }

  private static Range range(Range value, Range places, boolean left) {
    int least = clamp(places.min());
    int most = clamp(places.max());
    return left
        ? value.shiftedLeft(least).hull(value.shiftedLeft(most))
        : value.rounded(least).hull(value.rounded(most));
  }

  /** Beyond 127 places nothing is left of 128 bits, or nothing fits them. */
  private static int clamp(BigInteger places) {
    return places.min(BigInteger.valueOf(127)).intValue();
  }

  @Override
  boolean exact() {
    return left;
  }

  @Override
  Loop bits(Columns columns, Value result) {
    Lane x = columns.lane(operand(0));
    long[] places = columns.lane(operand(1)).low;
    Lane out = columns.lane(result);
    if (Lane.anyWide(x, out)) {
      return left ? n -> wideLeft(x, places, out, n) : n -> wideRight(x, places, out, n);
    }
    return left ? n -> left(x.low, places, out.low, n) : n -> right(x.low, places, out.low, n);
  }

  private static void left(long[] x, long[] places, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = x[i] << places[i];
    }
  }

  private static void right(long[] x, long[] places, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = x[i] >> Math.min(places[i], 63);
    }
  }

  private static void wideLeft(Lane x, long[] places, Lane out, int count) {
    for (int i = 0; i < count; i++) {
      int bits = (int) Math.min(places[i], 127);
      long low = x.low[i];
      out.set(i, Wide.leftHigh(x.high(i), low, bits), Wide.leftLow(low, bits));
    }
  }

  private static void wideRight(Lane x, long[] places, Lane out, int count) {
    for (int i = 0; i < count; i++) {
      int bits = (int) Math.min(places[i], 127);
      long high = x.high(i);
      out.set(i, Wide.rightHigh(high, bits), Wide.rightLow(high, x.low[i], bits));
    }
  }

  @Override
  Loop bounds(BoundColumns columns, Value result) {
    Value x = operand(0);
    long[] least = columns.low(operand(1)).low;
    long[] most = columns.high(operand(1)).low;
    Lane low = columns.low(x);
    Lane high = columns.high(x);
    Lane outLow = columns.low(result);
    Lane outHigh = columns.high(result);
    return left
        ? count -> {
          for (int i = 0; i < count; i++) {
            end(low, low.high(i) < 0 ? most : least, outLow, i);
            end(high, high.high(i) < 0 ? least : most, outHigh, i);
          }
        }
        : count -> {
          for (int i = 0; i < count; i++) {
            floor(low, low.high(i) < 0 ? least : most, outLow, i);
            ceiling(high, high.high(i) < 0 ? most : least, outHigh, i);
          }
        };
  }

  private static void end(Lane x, long[] places, Lane out, int i) {
    int bits = (int) Math.min(places[i], 127);
    long low = x.low[i];
    out.set(i, Wide.leftHigh(x.high(i), low, bits), Wide.leftLow(low, bits));
  }

  private static void floor(Lane x, long[] places, Lane out, int i) {
    int bits = (int) Math.min(places[i], 127);
    long high = x.high(i);
    out.set(i, Wide.rightHigh(high, bits), Wide.rightLow(high, x.low[i], bits));
  }

  private static void ceiling(Lane x, long[] places, Lane out, int i) {
    int bits = (int) Math.min(places[i], 127);
    long high = x.high(i);
    long low = x.low[i];
    long keptHigh = Wide.rightHigh(high, bits);
    long kept = Wide.rightLow(high, low, bits);
    boolean whole = Wide.leftLow(kept, bits) == low && Wide.leftHigh(keptHigh, kept, bits) == high;
    long up = whole ? 0 : 1;
    long result = kept + up;
    out.set(i, keptHigh + Wide.carry(kept, up, result), result);
  }

  @Override
  Loop ideal(IdealColumns columns, Value result) {
    double[] x = columns.of(operand(0));
    double[] places = columns.of(operand(1));
    double[] out = columns.of(result);
    double sign = left ? 1 : -1;
    return count -> {
      for (int i = 0; i < count; i++) {
        out[i] = x[i] * Math.pow(2, sign * places[i]);
      }
    };
  }

  @Override
  String formula() {
    return operand(0).name() + (left ? " << " : " >> ") + operand(1).name();
  }
}
