package dev.plumbline.models.traversal;

import java.util.Arrays;

/**
 * Predicts whether a skip is taken, by one of several policies (J. E. Smith, "A Study of Branch
 * Prediction Strategies", ISCA 1981).
 *
 * <p>Tables are indexed by the lowest bits of the skip's address and start at 0, not taken.
 */
public final class Predictor {
  /** How a prediction comes about. */
  public enum Policy {
    /** There is none: what follows waits until the skip is known. */
    NONE,
    /** Always taken. */
    ALWAYS,
    /** Never taken. */
    NEVER,
    /** As last time: a table of bits. */
    ONE_BIT,
    /** A table of counters 0 to 3 that saturate; taken from 2 on. */
    TWO_BIT
  }

  private final Policy policy;
  private final int[] table;

  private Predictor(Policy policy, int indexBits) {
    this.policy = policy;
    this.table = new int[1 << indexBits];
  }

  /**
   * A predictor just reset.
   *
   * @param policy how it predicts
   * @param indexBits the table has two to the power of it entries; 0 to 20
   * @return a predictor
   * @throws IllegalArgumentException when the table would be too large
   */
  public static Predictor of(Policy policy, int indexBits) {
    if (indexBits < 0 || indexBits > 20) {
      throw new IllegalArgumentException(
          "Predictor with " + indexBits + " index bits: 0 to 20 are allowed.");
    }
    return new Predictor(policy, indexBits);
  }

  /** Forgets everything. */
  public void reset() {
    Arrays.fill(table, 0);
  }

  /**
   * Whether a skip is predicted taken.
   *
   * @param address of the skip
   * @return never with {@link Policy#NONE}
   */
  public boolean predict(int address) {
    int state = table[address & (table.length - 1)];
    return switch (policy) {
      case NONE, NEVER -> false;
      case ALWAYS -> true;
      case ONE_BIT -> state > 0;
      case TWO_BIT -> state >= 2;
    };
  }

  /**
   * Learns what a skip did.
   *
   * @param address of the skip
   * @param taken whether its box was missed
   */
  public void update(int address, boolean taken) {
    int most = policy == Policy.ONE_BIT ? 1 : 3;
    int index = address & (table.length - 1);
    table[index] = Math.max(0, Math.min(most, table[index] + (taken ? 1 : -1)));
  }

  /**
   * The state of a skip's entry.
   *
   * @param address of the skip
   * @return 0 to 3, or 0 to 1
   */
  public int state(int address) {
    return table[address & (table.length - 1)];
  }

  /**
   * Sets the state of a skip's entry.
   *
   * @param address of the skip
   * @param state 0 to 3, or 0 to 1
   */
  public void setState(int address, int state) {
    table[address & (table.length - 1)] = state;
  }

  /**
   * All entries.
   *
   * @return a copy of the table
   */
  public int[] states() {
    return table.clone();
  }

  /**
   * Sets all entries.
   *
   * @param states as {@link #states} gave them
   */
  public void setStates(int[] states) {
    System.arraycopy(states, 0, table, 0, table.length);
  }

  Policy policy() {
    return policy;
  }
}
