package dev.plumbline.models.datapath;

import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/** Refuses input codes outside their range; allocates nothing unless it does. */
final class InputCheck {
  private final Datapath datapath;
  private final Columns columns;

  // Inputs of one column, where the difference to the least code decides; its sign marks a case.
  private final Lane[] narrow;
  private final long[] least;
  private final long[] span;
  private final long[] outside;

  // All others.
  private final Lane[] wide;
  private final Clamp[] legal;

  InputCheck(Datapath datapath, Columns columns) {
    this.datapath = datapath;
    this.columns = columns;
    List<Value> simple = new ArrayList<>();
    List<Value> others = new ArrayList<>();
    for (Value value : datapath.inputValues()) {
      if (!anyWordIsLegal(value)) {
        (value.wide() || !value.range().roomy() ? others : simple).add(value);
      }
    }
    narrow = simple.stream().map(columns::lane).toArray(Lane[]::new);
    least = simple.stream().mapToLong(v -> v.min().longValue()).toArray();
    span = simple.stream().mapToLong(v -> v.max().subtract(v.min()).longValue()).toArray();
    outside = new long[columns.capacity()];
    wide = others.stream().map(columns::lane).toArray(Lane[]::new);
    legal = others.stream().map(v -> new Clamp(v.range())).toArray(Clamp[]::new);
  }

  private static boolean anyWordIsLegal(Value value) {
    return value.format().width() % 64 == 0 && value.range().equals(Range.of(value.format()));
  }

  void check(int count) {
    Arrays.fill(outside, 0, count, 0);
    for (int i = 0; i < narrow.length; i++) {
      markOutside(narrow[i].low, least[i], span[i], outside, count);
    }
    long marks = 0;
    for (int i = 0; i < count; i++) {
      marks |= outside[i];
    }
    boolean illegal = marks < 0;
    for (int i = 0; i < wide.length; i++) {
      illegal |= firstIllegal(wide[i], legal[i], count) >= 0;
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

  private static int firstIllegal(Lane lane, Clamp legal, int count) {
    for (int i = 0; i < count; i++) {
      if (legal.below(lane.high(i), lane.low[i]) || legal.above(lane.high(i), lane.low[i])) {
        return i;
      }
    }
    return -1;
  }

  private DatapathException illegal(int count) {
    for (Value value : datapath.inputValues()) {
      int i = firstIllegal(columns.lane(value), new Clamp(value.range()), count);
      if (i >= 0) {
        return illegal(value, i);
      }
    }
    throw new AssertionError("an input was marked illegal and none is");
  }

  private DatapathException illegal(Value value, int i) {
    Lane lane = columns.lane(value);
    BigInteger low = BigInteger.valueOf(lane.low[i]);
    BigInteger code =
        lane.wide()
            ? BigInteger.valueOf(lane.high[i])
                .shiftLeft(64)
                .add(low.signum() < 0 ? low.add(BigInteger.ONE.shiftLeft(64)) : low)
            : low;
    return new DatapathException(
        "Input code "
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
