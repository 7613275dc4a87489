package dev.plumbline.verdict;

import dev.plumbline.models.datapath.Operand;
import java.math.BigInteger;
import java.util.Objects;

/**
 * A step of the reference beside the signal that is the same inside the DUT, for the case of the
 * first mismatch.
 *
 * @param step its name and format
 * @param signal hierarchical name of the signal; empty where none was found
 * @param location where the signal is declared, {@code file:line}; empty where none was found
 * @param delay cycles from the one in which the case went in to the one in which the signal has it;
 *     -1 where none was found
 * @param expected code of the step
 * @param actual bits of the signal read by the step's format; null where none was found
 * @param relation how the two compare
 * @param how by what the signal was found, and how sure that is
 */
public record Stage(
    Operand step,
    String signal,
    String location,
    int delay,
    BigInteger expected,
    BigInteger actual,
    Relation relation,
    String how) {
  public Stage {
    Objects.requireNonNull(step, "step");
    Objects.requireNonNull(relation, "relation");
  }

  /** How step and signal compare. */
  public enum Relation {
    /** The same, in this case as in all others. */
    AGREES("agrees"),
    /** Different in this case. */
    DIFFERS("differs"),
    /** Different, and without a part in this case's result, so that it need not be the same. */
    UNUSED("not used"),
    /** No signal is known to be this step. */
    NOT_FOUND("not found");

    private final String words;

    Relation(String words) {
      this.words = words;
    }

    @Override
    public String toString() {
      return words;
    }
  }
}
