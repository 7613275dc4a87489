package dev.plumbline.models.datapath;

/** Both ends of a range as words, to hold codes of two words against. */
final class Clamp {
  private final long minHigh;
  private final long minLow;
  private final long maxHigh;
  private final long maxLow;
  private final double min;
  private final double max;

  Clamp(Range range) {
    minHigh = range.min().shiftRight(64).longValueExact();
    minLow = range.min().longValue();
    maxHigh = range.max().shiftRight(64).longValueExact();
    maxLow = range.max().longValue();
    min = range.min().doubleValue();
    max = range.max().doubleValue();
  }

  boolean below(long high, long low) {
    return Wide.less(high, low, minHigh, minLow);
  }

  boolean above(long high, long low) {
    return Wide.less(maxHigh, maxLow, high, low);
  }

  void setMin(Lane out, int i) {
    out.set(i, minHigh, minLow);
  }

  void setMax(Lane out, int i) {
    out.set(i, maxHigh, maxLow);
  }

  /** Sets a code, or the end that it is beyond. */
  void set(Lane out, int i, long high, long low) {
    if (below(high, low)) {
      setMin(out, i);
    } else if (above(high, low)) {
      setMax(out, i);
    } else {
      out.set(i, high, low);
    }
  }

  /** A real code brought into the range; NaN stays. */
  double clamped(double code) {
    return Math.min(Math.max(code, min), max);
  }

  /** Sets a whole real code, or the end that it is beyond. */
  void set(Lane out, int i, double code) {
    if (code <= min) {
      setMin(out, i);
    } else if (code >= max) {
      setMax(out, i);
    } else if (Math.abs(code) < 0x1p63) {
      long low = (long) code;
      set(out, i, low >> 63, low);
    } else {
      // From here on a double's LSB is 2^11 or more, so that both words come out exact.
      double high = Math.floor(code * 0x1p-64);
      double low = code - high * 0x1p64;
      // Doubles from 2^63 do not fit a long: take that bit off and put it back.
      boolean top = low >= 0x1p63;
      long bits = (long) (top ? low - 0x1p63 : low);
      set(out, i, (long) high, top ? bits | Long.MIN_VALUE : bits);
    }
  }
}
