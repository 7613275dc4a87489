package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;

/**
 * Shift, round and clamp in one loop. Bits are dropped where {@code drop} is positive and appended
 * where it is negative; the result is clamped to a range, or wrapped into a format by a second
 * loop.
 */
final class ConvertLoops {
  /** Bits of limits between which the difference of a code and a limit fits a word. */
  private static final int FITTING = 62;

  private ConvertLoops() {}

  /**
   * Rounds and clamps.
   *
   * @param between the range after rounding and before the clamp; given again as the clamp where
   *     nothing is to be clamped
   */
  static Loop rounded(Lane x, int drop, Addend addend, Range between, Range clamp, Lane out) {
    boolean clamps = !between.within(clamp);
    if (x.wide() && drop > 0 && drop < 64 && addend.constant() && (!clamps || !out.wide())) {
      Loop quick = wideDown(x, drop, addend, between, clamps ? clamp : null, out);
      if (quick != null) {
        return quick;
      }
    }
    if (x.wide() || out.wide() || between.columnBits() > 64 || drop > 63) {
      Range limits = clamps ? clamp : between;
      return drop > 0 ? wideDown(x, drop, addend, limits, out) : wideUp(x, -drop, limits, out);
    }
    boolean roomy = between.hull(clamp).roomy();
    if (drop >= 0 && (roomy || !clamps) && addend.constant() && adds(between, drop)) {
      long add = addend.always().longValueExact();
      if (!clamps) {
        return Loop.of(
            n -> drop(x.low, add, drop, out.low, n), out.low, "($0 + $1) >> $2", x.low, add, drop);
      }
      long min = clamp.min().longValueExact();
      long max = clamp.max().longValueExact();
      return Loop.of(
          n -> drop(x.low, add, drop, min, max, out.low, n),
          out.low,
          "limited(($0 + $1) >> $2, $3, $4)",
          x.low,
          add,
          drop,
          min,
          max);
    }
    Loop shifted = drop > 0 ? narrowDown(x.low, drop, addend, out.low) : Align.loop(x, -drop, out);
    return clamps ? Loop.all(shifted, clamped(out.low, clamp, roomy)) : shifted;
  }

  /** Whether anything less than the unit may be added to a code before its low bits are dropped. */
  private static boolean adds(Range between, int drop) {
    Range further = new Range(between.min(), between.max().add(BigInteger.ONE));
    return further.shiftedLeft(drop).columnBits() <= Long.SIZE;
  }

  // The commonest conversions, in a single loop each.

  private static void drop(long[] x, long add, int bits, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = (x[i] + add) >> bits;
    }
  }

  private static void drop(
      long[] x, long add, int bits, long min, long max, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      long code = (x[i] + add) >> bits;
      long above = code - min;
      code -= above & -(above >>> 63);
      long below = max - code;
      out[i] = code + (below & -(below >>> 63));
    }
  }

  private static Loop narrowDown(long[] x, int bits, Addend addend, long[] out) {
    if (addend.nothing()) {
      return Loop.of(n -> drop(x, bits, out, n), out, "$0 >> $1", x, bits);
    }
    long always = addend.always().longValue();
    long whenNegative = addend.whenNegative().longValue();
    long whenOdd = addend.whenOdd().longValue();
    long dropped = (1L << bits) - 1;
    return Loop.of(
        n -> round(x, bits, always, whenNegative, whenOdd, out, n),
        out,
        "($0 >> $1) + srl(($0 & $2) + $3 + (sign($0) & $4) + (($0 >> $1) & $5), $1)",
        x,
        bits,
        dropped,
        always,
        whenNegative,
        whenOdd);
  }

  private static void drop(long[] x, int bits, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = x[i] >> bits;
    }
  }

  private static void round(
      long[] x, int bits, long always, long negative, long odd, long[] out, int count) {
    long dropped = (1L << bits) - 1;
    for (int i = 0; i < count; i++) {
      long code = x[i];
      long kept = code >> bits;
      long sum = (code & dropped) + always + ((code >> 63) & negative) + (kept & odd);
      out[i] = kept + (sum >>> bits);
    }
  }

  private static Loop clamped(long[] codes, Range clamp, boolean roomy) {
    long min = clamp.min().longValueExact();
    long max = clamp.max().longValueExact();
    return Loop.of(
        roomy ? n -> clampByDifference(codes, min, max, n) : n -> clamp(codes, min, max, n),
        codes,
        roomy ? "limited($0, $1, $2)" : "limited_anywhere($0, $1, $2)",
        codes,
        min,
        max);
  }

  private static void clampByDifference(long[] codes, long min, long max, int count) {
    for (int i = 0; i < count; i++) {
      long above = codes[i] - min;
      long code = codes[i] - (above & -(above >>> 63));
      long below = max - code;
      codes[i] = code + (below & -(below >>> 63));
    }
  }

  private static void clamp(long[] codes, long min, long max, int count) {
    for (int i = 0; i < count; i++) {
      codes[i] = Math.min(Math.max(codes[i], min), max);
    }
  }

  /** The same of two words in a loop without branches; null where none holds it. */
  private static Loop wideDown(
      Lane x, int bits, Addend addend, Range between, Range clamp, Lane out) {
    long add = addend.always().longValueExact();
    long dropped = (1L << bits) - 1;
    if (out.wide()) {
      return Loop.of(
          n -> wideRound(x.low, x.high, bits, add, out.low, out.high, n),
          code -> {
            String kept = "(srl($0, $2) | ($1 << $3))";
            String up = "srl(($0 & $4) + $5, $2)";
            Object[] parts = {x.low, x.high, bits, 64 - bits, dropped, add};
            code.set(out.high, "($1 >> $2) + carry(" + kept + ", " + up + ")", parts);
            code.set(out.low, kept + " + " + up, parts);
          });
    }
    if (between.columnBits() <= 64) {
      Loop shifted =
          Loop.of(
              n -> narrowRound(x.low, x.high, bits, add, out.low, n),
              out.low,
              "(srl($0, $2) | ($1 << $3)) + srl(($0 & $4) + $5, $2)",
              x.low,
              x.high,
              bits,
              64 - bits,
              dropped,
              add);
      return clamp == null
          ? shifted
          : Loop.all(shifted, clamped(out.low, clamp, between.hull(clamp).roomy()));
    }
    if (clamp.columnBits() > FITTING) {
      return null;
    }
    long min = clamp.min().longValueExact();
    long max = clamp.max().longValueExact();
    return Loop.of(
        n -> saturatedRound(x.low, x.high, bits, add, min, max, out.low, n),
        out.low,
        "fitted_round($0, $1, $2, $3, $4, $5)",
        x.low,
        x.high,
        bits,
        add,
        min,
        max);
  }

  private static void narrowRound(
      long[] low, long[] high, int bits, long add, long[] out, int count) {
    long dropped = (1L << bits) - 1;
    for (int i = 0; i < count; i++) {
      long up = ((low[i] & dropped) + add) >>> bits;
      out[i] = ((low[i] >>> bits) | (high[i] << -bits)) + up;
    }
  }

  private static void wideRound(
      long[] low, long[] high, int bits, long add, long[] out, long[] outHigh, int count) {
    long dropped = (1L << bits) - 1;
    for (int i = 0; i < count; i++) {
      long up = ((low[i] & dropped) + add) >>> bits;
      long kept = (low[i] >>> bits) | (high[i] << -bits);
      out[i] = kept + up;
      outHigh[i] = (high[i] >> bits) + Wide.carry(kept, up, kept + up);
    }
  }

  private static void saturatedRound(
      long[] low, long[] high, int bits, long add, long min, long max, long[] out, int count) {
    long dropped = (1L << bits) - 1;
    for (int i = 0; i < count; i++) {
      long up = ((low[i] & dropped) + add) >>> bits;
      long kept = (low[i] >>> bits) | (high[i] << -bits);
      long code = kept + up;
      out[i] = fitted(code, (high[i] >> bits) + Wide.carry(kept, up, code), min, max);
    }
  }

  /** A code of two words clamped to limits of {@link #FITTING} bits at most. */
  private static long fitted(long low, long high, long min, long max) {
    long differing = high ^ (low >> (FITTING - 1));
    long beyond = (differing | -differing) >> 63;
    long code = (low & ~beyond) | ((max ^ ((max ^ min) & (high >> 63))) & beyond);
    long above = code - min;
    code -= above & -(above >>> 63);
    long below = max - code;
    return code + (below & -(below >>> 63));
  }

  private static void saturated(
      long[] low, long[] high, long min, long max, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = fitted(low[i], high[i], min, max);
    }
  }

  private static Loop wideDown(Lane x, int bits, Addend addend, Range clamp, Lane out) {
    long alwaysLow = addend.always().longValue();
    long alwaysHigh = addend.always().shiftRight(64).longValue();
    long negativeLow = addend.whenNegative().longValue();
    long negativeHigh = addend.whenNegative().shiftRight(64).longValue();
    long whenOdd = addend.whenOdd().longValue();
    BigInteger mask = BigInteger.ONE.shiftLeft(bits).subtract(BigInteger.ONE);
    long maskLow = mask.longValue();
    long maskHigh = mask.shiftRight(64).longValue();
    Clamp limits = new Clamp(clamp);
    return count -> {
      for (int i = 0; i < count; i++) {
        long high = x.high(i);
        long low = x.low[i];
        long keptLow = Wide.rightLow(high, low, bits);
        long keptHigh = Wide.rightHigh(high, bits);
        long sign = high >> 63;
        // The addend, then the dropped bits on top of it.
        long part = alwaysLow + (keptLow & whenOdd);
        long partHigh = alwaysHigh + Wide.carry(alwaysLow, keptLow & whenOdd, part);
        long added = part + (sign & negativeLow);
        long addedHigh =
            partHigh + (sign & negativeHigh) + Wide.carry(part, sign & negativeLow, added);
        long sum = added + (low & maskLow);
        long sumHigh = addedHigh + (high & maskHigh) + Wide.carry(added, low & maskLow, sum);
        long up = Wide.rightLow(sumHigh, sum, bits) & 1;
        long result = keptLow + up;
        limits.set(out, i, keptHigh + Wide.carry(keptLow, up, result), result);
      }
    };
  }

  private static Loop wideUp(Lane x, int bits, Range clamp, Lane out) {
    if (bits == 0 && x.wide() && !out.wide() && clamp.columnBits() <= FITTING) {
      long min = clamp.min().longValueExact();
      long max = clamp.max().longValueExact();
      return Loop.of(
          n -> saturated(x.low, x.high, min, max, out.low, n),
          out.low,
          "fitted($0, $1, $2, $3)",
          x.low,
          x.high,
          min,
          max);
    }
    Clamp limits = new Clamp(clamp);
    return count -> {
      for (int i = 0; i < count; i++) {
        long low = x.low[i];
        limits.set(out, i, Wide.leftHigh(x.high(i), low, bits), Wide.leftLow(low, bits));
      }
    };
  }

  /** Drops the bits above a format's width, in place; {@code high} words come from {@code from}. */
  static Loop wrapped(Lane from, Format format, Lane out) {
    if (format.width() > 64 || (out.wide() && !format.signed())) {
      return wideWrap(from, format, out);
    }
    int unused = 64 - format.width();
    return format.signed()
        ? Loop.of(
            n -> signedWrap(from.low, unused, out.low, n),
            out.low,
            "($0 << $1) >> $1",
            from.low,
            unused)
        : Loop.of(
            n -> unsignedWrap(from.low, unused, out.low, n),
            out.low,
            "srl($0 << $1, $1)",
            from.low,
            unused);
  }

  private static void signedWrap(long[] x, int unused, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = x[i] << unused >> unused;
    }
  }

  private static void unsignedWrap(long[] x, int unused, long[] out, int count) {
    for (int i = 0; i < count; i++) {
      out[i] = x[i] << unused >>> unused;
    }
  }

  private static Loop wideWrap(Lane from, Format format, Lane out) {
    BigInteger mask = BigInteger.ONE.shiftLeft(format.width()).subtract(BigInteger.ONE);
    long maskHigh = mask.shiftRight(64).longValue();
    int unused = Math.max(0, 128 - format.width());
    boolean signed = format.signed();
    return count -> {
      for (int i = 0; i < count; i++) {
        long high = from.high(i);
        out.set(i, signed ? high << unused >> unused : high & maskHigh, from.low[i]);
      }
    };
  }
}
