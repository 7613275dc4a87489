package dev.plumbline.verdict;

import java.nio.file.Path;
import java.util.Optional;

/** Keeps verdicts, with the evidence of those that need some; safe for several threads. */
@FunctionalInterface
public interface Recorder {
  /** Keeps nothing. */
  Recorder NONE = verdict -> Optional.empty();

  /**
   * Keeps a verdict.
   *
   * @param verdict what a bench found
   * @return the folder with its evidence, when there is any
   */
  Optional<Path> record(Verdict verdict);

  /**
   * Is told as a bench goes on how far it is, about every 65,536 cases, by any thread.
   *
   * @param cases how many were compared so far
   * @param of how many there are to be
   */
  default void checked(long cases, long of) {}

  /**
   * Is told that a bench is red, before what is known of it is gathered, which takes longer than
   * the run.
   *
   * @param bench its name
   */
  default void turnsRed(String bench) {}

  /**
   * Keeps a verdict and goes on as it says; what was found outlives a failure to keep it.
   *
   * @param verdict what a bench found
   * @param ended what the DUT threw when it ended by itself; null when it did not
   * @return the verdict with its evidence folder; where it could not be kept, one that says so
   * @throws RuntimeException {@code ended}, with the folder of its evidence, or why its verdict
   *     could not be kept, as suppressed; or that a pass could not be kept
   */
  default Verdict keep(Verdict verdict, Throwable ended) {
    Verdict kept = verdict;
    try {
      kept = record(verdict).map(verdict::withEvidenceFolder).orElse(verdict);
      if (ended != null && kept.evidenceFolder().isPresent()) {
        ended.addSuppressed(new RowsKept(kept.evidenceFolder().get()));
      }
    } catch (RuntimeException e) {
      if (ended != null) {
        ended.addSuppressed(e);
      } else if (verdict.isPass()) {
        throw e;
      }
      kept = verdict.withRemark("Not kept: " + e.getMessage());
    }
    if (ended instanceof RuntimeException exception) {
      throw exception;
    }
    if (ended instanceof Error error) {
      throw error;
    }
    return kept;
  }

  /**
   * Where it remembers passes, so that a bench on which nothing bears that has changed since need
   * not run again.
   *
   * @return empty unless it says otherwise: every bench runs
   */
  default Optional<Passes> passes() {
    return Optional.empty();
  }

  /**
   * Whether it keeps what is inside a DUT that mismatches; only then is that looked at, which takes
   * a build of its own.
   *
   * @return false unless it says otherwise
   */
  default boolean keepsInside() {
    return false;
  }

  /**
   * Keeps nothing.
   *
   * @return a recorder for benches that only answer their caller
   */
  static Recorder none() {
    return NONE;
  }

  /**
   * Whether it keeps nothing, so that nothing need be found out for it.
   *
   * @return true for {@link #none}
   */
  default boolean keepsNothing() {
    return this == NONE;
  }
}
