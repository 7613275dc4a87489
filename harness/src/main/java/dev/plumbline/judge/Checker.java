package dev.plumbline.judge;

import dev.plumbline.drive.Feed;

/** Holds the blocks of one segment to a contract. */
public interface Checker {
  /** Looks at the block just run. */
  void block(Feed feed);

  /** What was counted so far. */
  Tally tally();

  /** What is allowed, by entry. */
  Expectations expected();

  /** The entry due at a row of the block just looked at; -1 when nothing is. */
  int entry(int row);

  /** How many results are still to come. */
  default long outstanding() {
    return 0;
  }

  /** Whether to give the segment up, because nothing moves any more. */
  default boolean isStuck() {
    return false;
  }
}
