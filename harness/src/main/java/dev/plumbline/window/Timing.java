package dev.plumbline.window;

import dev.plumbline.drive.Binding;
import dev.plumbline.drive.OutputCheck;
import dev.plumbline.judge.ResultOrder;
import dev.plumbline.verdict.Row;
import java.math.BigInteger;
import java.util.HashSet;
import java.util.NavigableMap;
import java.util.Optional;
import java.util.Set;
import java.util.function.Predicate;

/**
 * Whether results under a fixed latency are right at another time than they are due: looked for in
 * the rows from a mismatch on, for each output alone. One agreement is a coincidence; several
 * different values that agree at one shift, where something else stood in their own row, are not.
 */
public final class Timing {
  /** Most cycles that a result is looked for away from where it was due. */
  static final int FARTHEST = 16;

  /** Most results that are looked at. */
  private static final int MOST = 64;

  /** Cycles in which they are looked for, where a case may come in every cycle. */
  private static final int SPAN = 2 * MOST;

  /** Of a design that takes a case in many cycles, so many cycles a case are looked at. */
  private static final int WIDEST = 16;

  /** Different values that have to agree, and what they have to say together. */
  private static final int VALUES = 3;

  private static final int BITS = 24;

  /** Results of up to two bits: how many have to agree, and how many to be wrong in their row. */
  private static final int NARROW = 2;

  private static final int NARROW_RESULTS = 20;
  private static final int NARROW_WRONG = 6;

  /** Agreeing values from which on there is no doubt. */
  private static final int SURE = 8;

  private final Binding binding;
  private final NavigableMap<Long, Row> rows;
  private final Predicate<Row> isValid;
  private final int span;

  Timing(Binding binding, NavigableMap<Long, Row> rows, Predicate<Row> isValid) {
    this.binding = binding;
    this.rows = rows;
    this.isValid = isValid;
    this.span = span(binding);
  }

  private static int span(Binding binding) {
    return SPAN * Math.min(WIDEST, binding.contract().flow().interval());
  }

  /** Rows around a mismatch that are looked at. */
  public static int reach(Binding binding) {
    return FARTHEST + span(binding);
  }

  /**
   * The time at which results are right.
   *
   * @param cycles how many late; below 0 early
   * @param agreed results that are right then
   * @param of so many that were looked at
   * @param values how many different ones of them are wrong where they were due
   * @param sure whether nothing else explains it
   */
  record Shift(int cycles, int agreed, int of, int values, boolean sure) {
    String words() {
      return Lateness.words(cycles)
          + ": "
          + agreed
          + " of "
          + of
          + (of == 1 ? " result agrees" : " results agree")
          + " at that shift, with "
          + values
          + (values == 1 ? " value" : " different values")
          + (sure ? "; sure" : "; likely, not sure");
    }
  }

  /** When the results of an output are right, from a row on; empty at no other time. */
  Optional<Shift> ofOutput(int output, long cycle) {
    Shift best = null;
    int found = 0;
    for (int distance = 1; distance <= FARTHEST; distance++) {
      for (int shift : new int[] {distance, -distance}) {
        Shift one = ofOutput(output, shift > 0 ? cycle : cycle + distance, shift);
        if (one != null) {
          found++;
          best = best == null || one.agreed() * best.of() > best.agreed() * one.of() ? one : best;
        }
      }
    }
    boolean ambiguous = found > 1 && width(output) <= NARROW; // a pattern of bits that comes again
    return ambiguous ? Optional.empty() : Optional.ofNullable(best);
  }

  private Shift ofOutput(int output, long from, int shift) {
    int of = 0;
    int agreed = 0;
    int wrong = 0; // of those that agree: wrong where they were due
    int bits = 0;
    Set<BigInteger> values = new HashSet<>();
    Set<BigInteger> differences = new HashSet<>();
    for (long cycle = from; cycle < from + span && of < MOST; cycle++) {
      Row due = rows.get(cycle);
      Row came = rows.get(cycle + shift);
      if (due == null || came == null) {
        break;
      }
      if (!due.isDue() || isReset(came) || !counts(output, due) || !counts(output, came)) {
        continue;
      }
      of++;
      if (!isInside(output, came, due)) {
        continue;
      }
      agreed++;
      BigInteger difference = difference(output, due);
      if (difference.abs().compareTo(BigInteger.valueOf(width(output) <= NARROW ? 0 : 1))
          > 0) { // 1 is a rounding
        wrong++;
        differences.add(difference);
        if (values.add(due.low().get(output))) {
          bits += informationOf(output, due);
        }
      }
    }
    boolean many = agreed >= VALUES + 1 && 8 * agreed >= 7 * of;
    boolean believed =
        width(output) <= NARROW
            ? agreed == of && of >= NARROW_RESULTS && wrong >= NARROW_WRONG && values.size() > 1
            : many && values.size() >= VALUES && bits >= BITS;
    boolean sure = agreed == of && wrong >= SURE && (values.size() >= SURE || agreed >= MOST / 2);
    return believed
        ? new Shift(shift, agreed, of, values.size(), sure && differences.size() > 1)
        : null;
  }

  /** When valid and all outputs together are right, from a row on; empty at no other time. */
  Optional<Shift> ofValid(long cycle) {
    for (int distance = 1; distance <= FARTHEST; distance++) {
      for (int shift : new int[] {distance, -distance}) {
        Shift one = ofValid(shift > 0 ? cycle : cycle + distance, shift);
        if (one != null) {
          return Optional.of(one);
        }
      }
    }
    return Optional.empty();
  }

  private Shift ofValid(long from, int shift) {
    int of = 0;
    int agreed = 0;
    int odd = 0; // rows whose valid is not what it should be
    int looked = 0;
    int bits = 0;
    Set<Object> values = new HashSet<>();
    for (long cycle = from; cycle < from + span && of < MOST; cycle++) {
      Row due = rows.get(cycle);
      Row came = rows.get(cycle + shift);
      if (due == null || came == null) {
        break;
      }
      if (isReset(came) || isReset(due)) {
        continue;
      }
      looked++;
      odd += due.isDue() == isValid.test(came) ? 0 : 1;
      if (due.isDue()) {
        of++;
        if (isValid.test(came) && isInside(came, due)) {
          agreed++;
          if (values.add(due.low())) {
            for (int c = 0; c < binding.checks().length; c++) {
              bits += informationOf(c, due);
            }
          }
        }
      }
      if (cycle < from + ResultOrder.RUN && (odd > 0 || agreed < of)) {
        return null; // the first ones have to fit without exception
      }
    }
    boolean believed =
        of > 0
            && 8 * odd <= looked
            && 8 * agreed >= 7 * of
            && ((bits >= ResultOrder.BELIEVED_BITS && values.size() >= Math.min(VALUES, of))
                || (agreed >= ResultOrder.BELIEVED_BITS && values.size() > 1));
    boolean sure = odd == 0 && agreed == of && values.size() >= Math.min(SURE, 1 << bits(bits));
    return believed ? new Shift(shift, agreed, of, values.size(), sure && of >= SURE) : null;
  }

  private static int bits(int bits) {
    return Math.min(bits, SURE);
  }

  private static boolean isReset(Row row) {
    return row.verdict().equals("reset");
  }

  private int width(int output) {
    return binding.checks()[output].operand().format().width();
  }

  /** Whether an output stands for its result: where it has a flag, that is 1. */
  private boolean counts(int output, Row row) {
    int flag = binding.checks()[output].flag();
    boolean isLow = binding.checks()[output].flagLow();
    return flag < 0 || (row.outputs().get(flag).signum() == 0) == isLow;
  }

  private static boolean isInside(int output, Row came, Row due) {
    BigInteger code = came.outputs().get(output);
    return code.compareTo(due.low().get(output)) >= 0
        && code.compareTo(due.high().get(output)) <= 0;
  }

  /** Whether the outputs of one row are what another row was due. */
  boolean isInside(Row came, Row due) {
    OutputCheck[] checks = binding.checks();
    for (int c = 0; c < checks.length; c++) {
      if (counts(c, came)) {
        if (!isInside(c, came, due)) {
          return false;
        }
      } else if (checks[c].otherwise() != null
          && !came.outputs().get(c).equals(BigInteger.valueOf(checks[c].otherwise()))) {
        return false;
      }
    }
    return true;
  }

  /** How far what stands in a row lies outside of what is due there. */
  private static BigInteger difference(int output, Row row) {
    BigInteger code = row.outputs().get(output);
    BigInteger below = row.low().get(output).subtract(code).max(BigInteger.ZERO);
    BigInteger above = code.subtract(row.high().get(output)).max(BigInteger.ZERO);
    return above.subtract(below);
  }

  /** Bits that a result inside its bounds says: fewer where these are wide. */
  private int informationOf(int output, Row due) {
    int open = due.high().get(output).subtract(due.low().get(output)).bitLength();
    return Math.max(0, width(output) - open);
  }
}
