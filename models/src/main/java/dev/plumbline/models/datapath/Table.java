package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.math.BigInteger;
import java.util.Arrays;
import java.util.function.DoubleUnaryOperator;

/**
 * A table that stands for itself, or for the function that it was filled by: what a code picks, and
 * in bounds everything that the codes of an interval may pick, each entry rounded either way.
 */
final class Table extends Step {
  private final Format format;
  private final long first;
  private final long[] entries;
  private final long[] least;
  private final long[] most;
  private final DoubleUnaryOperator function; // or null: the entry under the real code

  private Table(
      Value index,
      Format format,
      long[] entries,
      long[] least,
      long[] most,
      DoubleUnaryOperator function) {
    super(
        new Range(
            BigInteger.valueOf(Arrays.stream(least).min().getAsLong()),
            BigInteger.valueOf(Arrays.stream(most).max().getAsLong())),
        format.fractionBits(),
        index);
    this.format = format;
    this.first = function == null ? 0 : index.min().longValueExact();
    this.entries = entries;
    this.least = least;
    this.most = most;
    this.function = function;
  }

  /** Entries for codes from 0 on. */
  static Table of(Value index, Format format, long[] entries) {
    long[] own = entries.clone();
    return new Table(index, format, own, own, own, null);
  }

  /** An entry for each code of the index; the function was asked whether it has them all. */
  static Table of(Value index, Format format, Rounding rounding, DoubleUnaryOperator function) {
    int size = index.max().subtract(index.min()).intValueExact() + 1;
    long[] entries = new long[size];
    long[] least = new long[size];
    long[] most = new long[size];
    for (int i = 0; i < size; i++) {
      double value = at(index, i, function);
      entries[i] = format.toCode(value, rounding, Overflow.SATURATE).longValueExact();
      least[i] = format.toCode(value, Rounding.FLOOR, Overflow.SATURATE).longValueExact();
      boolean whole = format.toReal(least[i]) >= value || least[i] == max(format);
      most[i] = least[i] + (whole ? 0 : 1);
    }
    return new Table(index, format, entries, least, most, function);
  }

  private static long max(Format format) {
    return format.maxCode().longValueExact();
  }

  /** The function at a code of the index, counted from its least one. */
  static double at(Value index, int i, DoubleUnaryOperator function) {
    BigInteger code = index.min().add(BigInteger.valueOf(i));
    return function.applyAsDouble(index.format().toReal(code));
  }

  int size() {
    return entries.length;
  }

  long first() {
    return first;
  }

  @Override
  Format declaredFormat() {
    return format;
  }

  /** One filled by a function is rounded. */
  @Override
  boolean exact() {
    return function == null;
  }

  @Override
  Loop bits(Columns columns, Value result) {
    long[] index = columns.lane(operand(0)).low;
    long[] out = columns.lane(result).low;
    return count -> {
      for (int i = 0; i < count; i++) {
        out[i] = entries[(int) (index[i] - first)];
      }
    };
  }

  @Override
  Loop bounds(BoundColumns columns, Value result) {
    long[] from = columns.low(operand(0)).low;
    long[] to = columns.high(operand(0)).low;
    long[] low = columns.low(result).low;
    long[] high = columns.high(result).low;
    return count -> {
      for (int i = 0; i < count; i++) {
        long lowest = Long.MAX_VALUE;
        long highest = Long.MIN_VALUE;
        for (int k = (int) (from[i] - first); k <= to[i] - first; k++) {
          lowest = Math.min(lowest, least[k]);
          highest = Math.max(highest, most[k]);
        }
        low[i] = lowest;
        high[i] = highest;
      }
    };
  }

  @Override
  Loop ideal(IdealColumns columns, Value result) {
    double[] x = columns.of(operand(0));
    double[] out = columns.of(result);
    double lsb = operand(0).format().lsbs();
    double outLsb = format.lsbs();
    if (function == null) {
      return count -> {
        for (int i = 0; i < count; i++) {
          out[i] = Double.isNaN(x[i]) ? Double.NaN : entries[(int) Math.floor(x[i] / lsb)] * outLsb;
        }
      };
    }
    double min = format.toReal(format.minCode());
    double max = format.toReal(format.maxCode());
    return count -> {
      for (int i = 0; i < count; i++) {
        out[i] = Math.min(Math.max(function.applyAsDouble(x[i]), min), max);
      }
    };
  }

  @Override
  String formula() {
    return "table of "
        + entries.length
        + (function == null ? "" : " of a function")
        + " at "
        + operand(0).name();
  }
}
