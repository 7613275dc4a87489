package dev.plumbline.models.solid;

import dev.plumbline.models.fixed.Format;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Objects;
import java.util.Set;

/**
 * How precise somebody's hardware promises to be: for each named quantity of a block, how many LSB
 * of a working format it may be off.
 *
 * <pre>{@code
 * Sphere sphere = Sphere.of(Format.signed(16, 16), Format.signed(2, 16));
 * Budget budget = sphere.budget(Format.signed(20, 20)).with("root", 2);
 * }</pre>
 *
 * <p>A block gives its default budget, which follows from the formats alone: it covers every order
 * of evaluation that rounds once an operation, whichever way. Of the working format only the LSB
 * counts; its whole part is taken to be wide enough for every intermediate result. Instances are
 * immutable.
 */
public final class Budget {
  private final String block;
  private final Format working;
  private final Map<String, Integer> lsbs;

  private Budget(String block, Format working, Map<String, Integer> lsbs) {
    this.block = block;
    this.working = Objects.requireNonNull(working, "working");
    this.lsbs = Collections.unmodifiableMap(lsbs);
  }

  /** A budget without any quantity yet; a block adds its own. */
  static Budget of(String block, Format working) {
    return new Budget(block, working, new LinkedHashMap<>());
  }

  /** The same budget with one more quantity. */
  Budget and(String quantity, int places) {
    Map<String, Integer> more = new LinkedHashMap<>(lsbs);
    more.put(quantity, checked(quantity, places));
    return new Budget(block, working, more);
  }

  /**
   * The same budget with another allowance for one quantity.
   *
   * @param quantity one of {@link #quantities()}
   * @param places LSB of the working format that it may be off either way, 0 or more; 0 is exact
   * @return a new budget
   * @throws IllegalArgumentException when the block has no such quantity or the places are negative
   */
  public Budget with(String quantity, int places) {
    lsbs(quantity);
    return and(quantity, places);
  }

  /**
   * The format whose LSB are counted.
   *
   * @return as declared
   */
  public Format working() {
    return working;
  }

  /**
   * The quantities of the block.
   *
   * @return their names, unmodifiable, in the order in which the block computes them
   */
  public Set<String> quantities() {
    return lsbs.keySet();
  }

  /**
   * What a quantity is allowed.
   *
   * @param quantity one of {@link #quantities()}
   * @return LSB of the working format, 0 or more
   * @throws IllegalArgumentException when the block has no such quantity
   */
  public int lsbs(String quantity) {
    Integer places = lsbs.get(quantity);
    if (places == null) {
      throw new IllegalArgumentException(
          "Budget of \""
              + quantity
              + "\" for a "
              + block
              + ": its quantities are "
              + quantities()
              + "; name one of these.");
    }
    return places;
  }

  /**
   * Whether some quantity may be more LSB off than another budget allows it, or an LSB is larger.
   *
   * @param other a budget of the same block
   * @return true where something is wider
   * @throws IllegalArgumentException when the other is another block's
   */
  public boolean isWiderThan(Budget other) {
    other.requireBlock(block);
    return working.fractionBits() < other.working.fractionBits()
        || lsbs.entrySet().stream()
            .anyMatch(entry -> entry.getValue() > other.lsbs(entry.getKey()));
  }

  /** The block, the working format and every allowance. */
  @Override
  public String toString() {
    return block + " in LSB of " + working + ": " + lsbs;
  }

  /** Refuses a budget that was made for another block. */
  void requireBlock(String wanted) {
    if (!block.equals(wanted)) {
      throw new IllegalArgumentException(
          "Budget of a " + block + " for a " + wanted + ": take that block's own default budget.");
    }
  }

  private int checked(String quantity, int places) {
    if (places < 0) {
      throw new IllegalArgumentException(
          "Budget of "
              + places
              + " LSB for \""
              + quantity
              + "\" of a "
              + block
              + ": it has to be 0 or more.");
    }
    return places;
  }
}
