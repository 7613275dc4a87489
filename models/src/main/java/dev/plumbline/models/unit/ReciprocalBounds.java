package dev.plumbline.models.unit;

import dev.plumbline.models.datapath.Unit;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.rows.RowCode;
import dev.plumbline.models.rows.ToldBounds;

/**
 * The bounds of reciprocals by integer division: both neighbours of 1/x, and one code either way
 * where 1/x is a code or saturates to one.
 *
 * <p>Contract of {@link Reciprocal}: fraction bits of 62 together and words of 63 bits at most, so
 * that dividend, quotients and their neighbours are signed words.
 */
final class ReciprocalBounds implements Unit.CodeBounds, ToldBounds {
  /**
   * Of one and of operands, as whole numbers that a double holds: a quotient that is none lies
   * farther below the next one up than its double is off, so that towards zero both are the same.
   */
  private static final int BRIEF = 52;

  private final long one;
  private final double real; // the same
  private final boolean isBrief;
  private final long min;
  private final long max;
  private final long leastAtNought;
  private final long greatestAtNought;

  private ReciprocalBounds(Format input, Format output, long leastAtNought, long greatestAtNought) {
    this.one = 1L << (input.fractionBits() + output.fractionBits());
    this.real = one;
    this.isBrief = input.fractionBits() + output.fractionBits() <= BRIEF && input.width() <= BRIEF;
    this.min = output.minCode().longValueExact();
    this.max = output.maxCode().longValueExact();
    this.leastAtNought = Math.max(leastAtNought, min);
    this.greatestAtNought = Math.min(greatestAtNought, max);
  }

  /** Within a code of what an operand of zero is declared to give. */
  static ReciprocalBounds of(Format input, Format output, Reciprocal.AtZero atZero) {
    long code = atZero == Reciprocal.AtZero.ZERO ? 0 : output.maxCode().longValueExact();
    return new ReciprocalBounds(input, output, code - 1, Math.max(code, code + 1));
  }

  /** Anything at an operand of zero. */
  static ReciprocalBounds openAtZero(Format input, Format output) {
    return new ReciprocalBounds(input, output, Long.MIN_VALUE, Long.MAX_VALUE);
  }

  @Override
  public void tell(long[] least, long[] greatest, long[] low, long[] high, int count) {
    if (least == greatest) {
      points(least, low, high, count);
    } else {
      intervals(least, greatest, low, high, count);
    }
  }

  private void points(long[] x, long[] low, long[] high, int count) {
    for (int i = 0; i < count; i++) {
      long code = x[i];
      if (code == 0) {
        low[i] = leastAtNought;
        high[i] = greatestAtNought;
      } else {
        low[i] = low(code);
        high[i] = high(code);
      }
    }
  }

  private void intervals(long[] least, long[] greatest, long[] low, long[] high, int count) {
    for (int i = 0; i < count; i++) {
      long a = least[i];
      long b = greatest[i];
      if ((-a | b) < 0) { // positive throughout, or negative: one branch, which is foreseen
        low[i] = low(b);
        high[i] = high(a);
      } else {
        low[i] = a < 0 ? min : b > 0 ? Math.min(low(b), leastAtNought) : leastAtNought;
        high[i] = b > 0 ? max : a < 0 ? Math.max(high(a), greatestAtNought) : greatestAtNought;
      }
    }
  }

  @Override
  public void tell(RowCode code, long[] least, long[] greatest, long[] low, long[] high) {
    if (!isBrief) {
      code.cannotSay();
      return;
    }
    long[] ofLeast = {};
    long[] ofGreatest = {};
    String below = "greatest(least($0 - 1 + ($1 & ~srl($2, 63)), $3), $4)";
    String above = "least(greatest($0 + 1 - ($1 & srl($2, 63)), $3), $4)";
    tellEnd(code, greatest, below, max - 1, min, ofGreatest);
    tellEnd(code, least, above, min + 1, max, ofLeast);
    Object[] belowParts = {least, greatest, ofGreatest, min, leastAtNought};
    Object[] aboveParts = {least, greatest, ofLeast, max, greatestAtNought};
    if (least == greatest) {
      code.set(low, "chosen($0 == 0, $4, $2)", belowParts);
      code.set(high, "chosen($0 == 0, $4, $2)", aboveParts);
      return;
    }
    String sure = "chosen((-$0 | $1) < 0, $2, ";
    code.set(low, sure + "chosen($0 < 0, $3, chosen($1 > 0, least($2, $4), $4)))", belowParts);
    code.set(high, sure + "chosen($1 > 0, $3, chosen($0 < 0, greatest($2, $4), $4)))", aboveParts);
  }

  private void tellEnd(RowCode code, long[] x, String end, long nearly, long last, long[] out) {
    long[] quotient = {};
    long[] inexact = {};
    code.set(quotient, "codes($0 / reals($1))", real, x);
    code.set(inexact, "($0 - $1 * $2 != 0) & 1", one, quotient, x);
    code.set(out, end, quotient, inexact, x, nearly, last);
  }

  /** Towards zero. A processor divides doubles in a fraction of the time that longs take. */
  private long quotient(long code) {
    return isBrief ? (long) (real / code) : one / code;
  }

  // Division goes towards zero: it drops what is left of a positive quotient, and of a negative one
  // it adds that. Signs and remainders of rays follow no pattern, so neither is a branch.

  private long low(long code) {
    long quotient = quotient(code);
    return clampedLow(quotient - 1 + (inexact(quotient, code) & ~(code >>> 63)));
  }

  private long high(long code) {
    long quotient = quotient(code);
    return clampedHigh(quotient + 1 - (inexact(quotient, code) & (code >>> 63)));
  }

  /** 1 where something is left, else 0. */
  private long inexact(long quotient, long code) {
    long rest = one - quotient * code;
    return (rest | -rest) >>> 63;
  }

  // A quotient beyond an end is that end, and like every code it may be one off.

  private long clampedLow(long code) {
    return Math.max(Math.min(code, max - 1), min);
  }

  private long clampedHigh(long code) {
    return Math.min(Math.max(code, min + 1), max);
  }
}
