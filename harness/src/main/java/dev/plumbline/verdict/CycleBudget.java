package dev.plumbline.verdict;

import java.util.Objects;

/**
 * Cycles that something may take, and what it took.
 *
 * @param of what takes them, such as a ray or a frame
 * @param promised cycles that are promised or allowed, in words
 * @param measured cycles that were taken, in words; empty where a mismatch left them open
 */
public record CycleBudget(String of, String promised, String measured) {
  /** Refuses what lacks a part, as a ledger that somebody has changed may. */
  public CycleBudget {
    Objects.requireNonNull(of, "of");
    Objects.requireNonNull(promised, "promised");
    Objects.requireNonNull(measured, "measured");
  }

  /** On one line. */
  @Override
  public String toString() {
    return "cycles of "
        + of
        + ": promised "
        + promised
        + (measured.isEmpty() ? "" : ", measured " + measured);
  }
}
