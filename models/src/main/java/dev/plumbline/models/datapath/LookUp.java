package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;
import java.util.Arrays;

/** A look-up: the index's code picks an entry. */
final class LookUp extends BitsOnlyStep {
  private final Format format;
  private final long[] entries;

  LookUp(Value index, Format format, long[] entries) {
    super(
        new Range(
            BigInteger.valueOf(Arrays.stream(entries).min().getAsLong()),
            BigInteger.valueOf(Arrays.stream(entries).max().getAsLong())),
        format.fractionBits(),
        index);
    this.format = format;
    this.entries = entries.clone();
  }

  int size() {
    return entries.length;
  }

  @Override
  Format declaredFormat() {
    return format;
  }

  @Override
  Loop bits(Columns columns, Value result) {
    long[] index = columns.lane(operand(0)).low;
    Lane out = columns.lane(result);
    return count -> {
      for (int i = 0; i < count; i++) {
        long entry = entries[(int) index[i]];
        out.set(i, entry >> 63, entry);
      }
    };
  }

  @Override
  String formula() {
    return "table of " + entries.length + " at " + operand(0).name();
  }
}
