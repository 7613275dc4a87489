package dev.plumbline.verdict;

import java.util.Optional;

/**
 * Remembers which benches passed, and on what: a key names all that bears on a verdict. Safe for
 * several threads.
 */
public interface Passes {
  /**
   * A bench that passed.
   *
   * @param run the run in which it did
   * @param date the day, such as {@code 2026-11-28}
   * @param cases results that were compared
   * @param cycles cycles that were run
   */
  record Pass(String run, String date, long cases, long cycles) {}

  /**
   * Looks for an earlier pass.
   *
   * @param bench the bench's name
   * @param key all that bears on its verdict
   * @return the pass; empty where it never passed with that key, or where all is to be run
   */
  Optional<Pass> find(String bench, String key);

  /**
   * Remembers a pass.
   *
   * @param verdict the pass
   * @param key all that bears on it
   */
  void add(Verdict verdict, String key);

  /**
   * Forgets a pass that is none any more.
   *
   * @param bench the bench's name
   * @param key all that bears on its verdict
   */
  void forget(String bench, String key);
}
