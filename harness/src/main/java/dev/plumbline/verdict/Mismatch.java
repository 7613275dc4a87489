package dev.plumbline.verdict;

import java.math.BigInteger;
import java.util.OptionalInt;

/**
 * One place where a DUT diverges from its contract.
 *
 * @param kind what went wrong
 * @param cycles how many cycles early or late a right result came; 0 for other kinds
 * @param cycle the cycle of its segment, reset included, counted from 0
 * @param caseNumber the case whose result was due, counted over the whole run; -1 when none was
 * @param signal the port that shows it
 * @param output index of that port among the layout's outputs; empty when it is a valid or ready
 * @param actual the code the DUT gave
 * @param low the lowest code allowed
 * @param high the highest code allowed
 */
public record Mismatch(
    Kind kind,
    int cycles,
    long cycle,
    long caseNumber,
    String signal,
    OptionalInt output,
    BigInteger actual,
    BigInteger low,
    BigInteger high) {

  /** What can go wrong, in trade words. */
  public enum Kind {
    /** A result came when it was due and lies outside what is allowed. */
    VALUE_WRONG("value wrong"),
    /** The right result came before it was due. */
    EARLY("right result, early"),
    /** The right result came after it was due. */
    LATE("right result, late"),
    /** A result was due and valid was low. */
    VALID_MISSING("valid missing"),
    /** Valid was high and no result was due, as where a reset should have silenced it. */
    VALID_WITHOUT_CASE("valid without a case"),
    /** A result changed while the consumer was not ready for it. */
    CHANGED_WHILE_STALLED("payload changed while stalled"),
    /** Valid fell before the consumer had taken the result. */
    WITHDRAWN_WHILE_STALLED("valid withdrawn while stalled"),
    /** Two results came in each other's place. */
    ORDER_SWAPPED("order swapped"),
    /** A result never came; the next one stands in its place. */
    RESULT_LOST("result lost"),
    /** A result came twice. */
    RESULT_REPEATED("result repeated"),
    /** Cases were offered and not accepted for a long time. */
    NEVER_READY("case never accepted"),
    /** What comes out after a reset depends on the state before it. */
    INITIAL_STATE_SHOWS("output differs between initial states"),
    /**
     * The first results after a reset depend on the state before it and later ones do not: a
     * register that the reset leaves is visible before a case has written it.
     */
    STALE_DATA_SHOWS("stale data in the first results"),
    /** What comes out depends on the initial state, and no reset is driven. */
    INITIAL_STATE_SHOWS_WITHOUT_RESET("output differs between initial states, without a reset");

    private final String words;

    Kind(String words) {
      this.words = words;
    }

    @Override
    public String toString() {
      return words;
    }
  }

  /**
   * What went wrong, with its number of cycles.
   *
   * @return such as "right result, 1 cycle late"
   */
  public String words() {
    if (kind != Kind.EARLY && kind != Kind.LATE) {
      return kind.toString();
    }
    return "right result, "
        + cycles
        + (cycles == 1 ? " cycle " : " cycles ")
        + (kind == Kind.EARLY ? "early" : "late");
  }

  /**
   * How far the actual code lies outside the allowed range.
   *
   * @return codes above the highest (positive) or below the lowest (negative); 0 when inside
   */
  public BigInteger difference() {
    if (actual.compareTo(high) > 0) {
      return actual.subtract(high);
    }
    return actual.compareTo(low) < 0 ? actual.subtract(low) : BigInteger.ZERO;
  }
}
