package dev.plumbline.explain;

import dev.plumbline.drive.Feed;
import dev.plumbline.judge.Checker;
import dev.plumbline.judge.ContractRunner;

/** Runs a segment up to a row, that included. */
record Until(long last) implements ContractRunner.Watcher {
  @Override
  public void block(long firstRow, Feed feed, Checker checker) {
    // the tally is all that is wanted
  }

  @Override
  public boolean wantsMore(long rowsSoFar) {
    return rowsSoFar <= last;
  }
}
