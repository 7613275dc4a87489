package dev.plumbline.models.datapath;

import java.math.BigInteger;
import java.util.List;

/** The input columns of one evaluation and the check that their codes are legal. */
final class Inputs {
  private final Datapath datapath;
  private final Columns columns;
  private final int capacity;

  Inputs(Datapath datapath, Columns columns) {
    this.datapath = datapath;
    this.columns = columns;
    this.capacity = columns.capacity();
  }

  long[] column(int index, int word) {
    return word(columns.lane(value(datapath.inputValues(), "input", index)), index, word);
  }

  private long[] word(Lane lane, int index, int word) {
    return word(datapath, lane, datapath.inputValues().get(index), word);
  }

  /** One word of a lane as values travel: an unsigned value of 64 bits is a single raw word. */
  static long[] word(Datapath datapath, Lane lane, Value value, int word) {
    if (word < 0 || word >= value.format().words()) {
      throw new DatapathException(
          "word "
              + word
              + " of "
              + value
              + " in "
              + datapath.title()
              + ": it has "
              + value.format().words());
    }
    return word == 0 ? lane.low : lane.high;
  }

  Value value(List<Value> values, String kind, int index) {
    if (index < 0 || index >= values.size()) {
      throw new DatapathException(
          kind
              + " "
              + index
              + " of "
              + datapath.title()
              + ": there are "
              + values.size()
              + ", counted from 0: "
              + values);
    }
    return values.get(index);
  }

  /** Refuses a count beyond the columns and a code outside its operand's range. */
  void check(int count) {
    if (count < 0 || count > capacity) {
      throw new DatapathException(
          "run of "
              + count
              + " cases of "
              + datapath.title()
              + ": the columns hold 0 to "
              + capacity
              + "; ask for an evaluation of that capacity");
    }
    for (Value value : datapath.inputValues()) {
      if (!legal(value, columns.lane(value), count)) {
        throw illegal(value, columns.lane(value), count);
      }
    }
  }

  private static boolean legal(Value value, Lane lane, int count) {
    if (lane.wide() || !value.range().equals(Range.of(value.format()))) {
      return firstIllegal(value, lane, count) < 0;
    }
    return value.format().signed()
        ? signedBits(lane.low, count) >>> (value.format().width() - 1) == 0
        : bits(lane.low, count) >>> value.format().width() == 0;
  }

  /** Every bit in which some code differs from its sign. */
  private static long signedBits(long[] codes, int count) {
    long even = 0;
    long odd = 0;
    for (int i = 0; i + 1 < count; i += 2) {
      even |= codes[i] ^ (codes[i] >> 63);
      odd |= codes[i + 1] ^ (codes[i + 1] >> 63);
    }
    if ((count & 1) != 0) {
      even |= codes[count - 1] ^ (codes[count - 1] >> 63);
    }
    return even | odd;
  }

  private static long bits(long[] codes, int count) {
    long all = 0;
    for (int i = 0; i < count; i++) {
      all |= codes[i];
    }
    return all;
  }

  private static int firstIllegal(Value value, Lane lane, int count) {
    long minHigh = value.min().shiftRight(64).longValue();
    long minLow = value.min().longValue();
    long maxHigh = value.max().shiftRight(64).longValue();
    long maxLow = value.max().longValue();
    for (int i = 0; i < count; i++) {
      long high = lane.high(i);
      long low = lane.low[i];
      if (Wide.less(high, low, minHigh, minLow) || Wide.less(maxHigh, maxLow, high, low)) {
        return i;
      }
    }
    return -1;
  }

  private DatapathException illegal(Value value, Lane lane, int count) {
    int i = firstIllegal(value, lane, count);
    BigInteger low = BigInteger.valueOf(lane.low[i]);
    BigInteger code =
        lane.wide()
            ? BigInteger.valueOf(lane.high[i])
                .shiftLeft(64)
                .add(low.signum() < 0 ? low.add(BigInteger.ONE.shiftLeft(64)) : low)
            : low;
    return new DatapathException(
        "input code "
            + code
            + " of "
            + value
            + " in case "
            + i
            + " of "
            + datapath.title()
            + ": it has to be "
            + value.min()
            + " to "
            + value.max()
            + "; sign-extend signed codes and leave the unused bits of unsigned ones zero");
  }
}
