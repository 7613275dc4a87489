package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/** The input columns of one evaluation and the check that their codes are legal. */
final class Inputs {
  private static final Range ANY_WORD = Range.of(Format.signed(64, 0));

  private final Datapath datapath;
  private final Columns columns;
  private final int capacity;
  private final List<Value> checkedSlowly = new ArrayList<>();
  private final Lane[] quick;
  private final long[] least;
  private final long[] span;
  private final long[] outside;

  Inputs(Datapath datapath, Columns columns) {
    this.datapath = datapath;
    this.columns = columns;
    this.capacity = columns.capacity();
    this.outside = new long[capacity];
    List<Value> checkedQuickly = new ArrayList<>();
    for (Value value : datapath.inputValues()) {
      if (!value.range().equals(ANY_WORD)) {
        (value.wide() || !value.range().roomy() ? checkedSlowly : checkedQuickly).add(value);
      }
    }
    this.quick = checkedQuickly.stream().map(columns::lane).toArray(Lane[]::new);
    this.least = checkedQuickly.stream().mapToLong(v -> v.min().longValue()).toArray();
    this.span =
        checkedQuickly.stream().mapToLong(v -> v.max().subtract(v.min()).longValue()).toArray();
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
    Arrays.fill(outside, 0, count, 0);
    for (int i = 0; i < quick.length; i++) {
      markOutside(quick[i].low, least[i], span[i], outside, count);
    }
    long any = 0;
    for (int i = 0; i < count; i++) {
      any |= outside[i];
    }
    boolean illegal = any < 0;
    for (Value value : checkedSlowly) {
      illegal |= firstIllegal(value, count) >= 0;
    }
    if (illegal) {
      throw illegal(count);
    }
  }

  /** Sets the sign where a code is below the least or above it by more than the span. */
  private static void markOutside(long[] codes, long least, long span, long[] outside, int count) {
    for (int i = 0; i < count; i++) {
      long above = codes[i] - least;
      outside[i] |= above | (span - above);
    }
  }

  private int firstIllegal(Value value, int count) {
    Lane lane = columns.lane(value);
    Clamp legal = new Clamp(value.range());
    for (int i = 0; i < count; i++) {
      if (legal.below(lane.high(i), lane.low[i]) || legal.above(lane.high(i), lane.low[i])) {
        return i;
      }
    }
    return -1;
  }

  private DatapathException illegal(int count) {
    Value value =
        datapath.inputValues().stream()
            .filter(v -> firstIllegal(v, count) >= 0)
            .findFirst()
            .orElseThrow();
    Lane lane = columns.lane(value);
    int i = firstIllegal(value, count);
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
