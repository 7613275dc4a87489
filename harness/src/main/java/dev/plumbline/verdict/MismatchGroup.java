package dev.plumbline.verdict;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Mismatches of one kind on one signal, and what is known of all of them together.
 *
 * @param words what went wrong, and where
 * @param count how many rows of the segment show it
 * @param smallest the smallest case found that still shows it; empty when there is none
 * @param size how large that is, in words; empty when there is none
 * @param likely what would explain every one that was looked at, most likely first
 * @param tried how many explanations were tried
 */
public record MismatchGroup(
    String words,
    long count,
    Optional<KeptCase> smallest,
    String size,
    List<Hypothesis> likely,
    int tried) {
  /** How a line begins that says what would explain a group. */
  static final String LIKELY = "likely ";

  public MismatchGroup {
    likely = List.copyOf(likely);
  }

  /** What kind of fault it is, in the words of the trade. */
  public enum LikelyKind {
    /** Results come late or early. */
    TIMING("results late or early"),
    /** A step takes what belongs to a neighbouring cycle. */
    NEIGHBOUR("operand of a neighbouring cycle"),
    /** Another rounding. */
    ROUNDING("another rounding"),
    /** Wrapped for saturated, or the reverse, or a limit that is missing. */
    OVERFLOW("wrapped for saturated, or the reverse"),
    /** A sign that is lost, or one where there is none. */
    SIGN("sign or zero extension"),
    /** One value taken for another. */
    EXCHANGED("operands exchanged"),
    /** A constant that is off by one, or a wrong entry of a table. */
    CONSTANT("constant off"),
    /** A comparison, or what it decides, is another. */
    DECISION("another decision"),
    /** High bits lost, or shifted by one place. */
    WIDTH("bits lost or shifted"),
    /** A bit that never changes. */
    STUCK_BIT("stuck bit"),
    /** What comes out depends on the state before the reset. */
    INITIAL_STATE("depends on the initial state"),
    /** What comes out depends on the bubbles between the cases. */
    GAP("depends on the gap between inputs"),
    /** A reset does not end what it should, or ends what it should not. */
    RESET("depends on a reset in mid-stream"),
    /** What is left over from an earlier case. */
    LEFT_OVER("left over from a case before"),
    /** What comes out depends on the cases before, though the reference has no state. */
    HISTORY("depends on the cases before"),
    /** There is room for fewer or more than declared. */
    CAPACITY("room for fewer or more than declared"),
    /** Results, or the work for them, in another order; lost or repeated. */
    ORDER("another order"),
    /** What comes out depends on a consumer that is not ready. */
    STALL("depends on a result that has to wait");

    private final String words;

    LikelyKind(String words) {
      this.words = words;
    }

    @Override
    public String toString() {
      return words;
    }
  }

  /**
   * A change of the reference under which everything agrees that was looked at, or what nearly all
   * that is wrong has in common.
   *
   * @param kind what kind of fault it is
   * @param words the change
   * @param explained how many wrong results it explains: all of them under a changed reference
   * @param wrong how many there are
   * @param near how many right results near them it leaves right: all
   */
  public record Hypothesis(LikelyKind kind, String words, int explained, int wrong, int near) {
    /**
     * One that explains all.
     *
     * @param kind what kind of fault it is
     * @param words the change
     * @param explained how many wrong results there are
     * @param near how many right results there are near them
     */
    public Hypothesis(LikelyKind kind, String words, int explained, int near) {
      this(kind, words, explained, explained, near);
    }

    @Override
    public String toString() {
      return kind
          + ": "
          + words
          + " (explains "
          + explained
          + " of "
          + wrong
          + " wrong results, and "
          + near
          + " of "
          + near
          + " right ones near them)";
    }
  }

  /**
   * What is reported of it.
   *
   * @param number of the group, from 1, which names the file of its smallest case
   * @return one line or more
   */
  public List<String> lines(int number) {
    List<String> lines = new ArrayList<>();
    lines.add(words + ": " + count + (count == 1 ? " row" : " rows"));
    likely.forEach(one -> lines.add(LIKELY + one));
    if (likely.isEmpty() && tried > 0) {
      lines.add("none of " + tried + " explanations that were tried fits");
    }
    if (smallest.isPresent()) {
      lines.add("smallest case: case-" + number + ".csv, " + size);
    }
    return lines;
  }
}
