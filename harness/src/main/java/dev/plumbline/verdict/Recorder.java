package dev.plumbline.verdict;

import java.nio.file.Path;
import java.util.Optional;

/** Keeps verdicts, with the evidence of those that need some; safe for several threads. */
@FunctionalInterface
public interface Recorder {
  /**
   * Keeps a verdict.
   *
   * @param verdict what a bench found
   * @return the folder with its evidence, when there is any
   */
  Optional<Path> record(Verdict verdict);

  /**
   * Keeps nothing.
   *
   * @return a recorder for benches that only answer their caller
   */
  static Recorder none() {
    return verdict -> Optional.empty();
  }
}
