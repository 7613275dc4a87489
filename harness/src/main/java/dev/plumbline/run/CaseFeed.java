package dev.plumbline.run;

import java.util.Arrays;

/**
 * Feeds a DUT that says when it takes a case: the engine walks through places of the columns as
 * they are taken, and those left over open the next block. A place holds a case, or one beat of it.
 *
 * <p>Where cases have several beats, a block ends where a reset begins, so that what the reset cuts
 * can be given up before the next.
 */
final class CaseFeed extends Feed {
  private final int beats; // of a case
  private int held; // places filled during the block just run
  private int accepted; // how many of them were taken
  private int first; // the beat at the first place
  private int next; // the beat after the last taken
  private int givenUp;

  CaseFeed(FeedSetup setup) {
    super(setup);
    this.beats = binding().beats().count();
  }

  @Override
  boolean next(long outstanding) {
    boolean offeredBefore = held > accepted && lastRowOffers();
    int span = beats == 1 ? BLOCK : steadyRows(BLOCK);
    plan(span);
    giveUp();
    int pending = held - accepted;
    moveUp(pending);
    first = next;
    draw(Math.min((BLOCK - pending) / beats, left()));
    for (int i = 0; i < dense.length; i++) {
      for (int word = 0; word < dense[i].length; word++) {
        append(dense[i][word], to.inputs[i][word], pending);
      }
    }
    held = pending + beats * cases;
    rows = span;
    if (held == 0) {
      withoutOffers();
      rows = drain(outstanding, false, span);
      if (rows == 0) {
        return false;
      }
    } else if (offeredBefore) {
      offer[0] = 1; // valid stays until the case is taken
    }
    if (beats > 1) {
      noise(held);
      for (int place = 0; place < held; place++) {
        to.beatAt[place] = (first + place) % beats;
      }
      mark(to.beatAt, held);
    }
    System.arraycopy(offer, 0, to.inValid, 0, rows);
    boolean silent = beats > 1 && reset[0] != 0; // a beat taken there would be lost
    accepted = to.engine.runStream(rows, silent ? 0 : held);
    next = (first + accepted) % beats;
    evaluateTaken();
    return true;
  }

  /** Gives up the case that the reset now planned cuts. */
  private void giveUp() {
    givenUp = reset[0] != 0 && next > 0 ? 1 : 0;
    if (givenUp > 0) {
      accepted += beats - next;
      next = 0;
    }
  }

  private void append(long[] cases, long[] column, int pending) {
    if (beats == 1) {
      System.arraycopy(cases, 0, column, pending, this.cases);
      return;
    }
    for (int n = 0; n < this.cases; n++) {
      int place = pending + n * beats;
      Arrays.fill(column, place, place + beats, cases[n]);
    }
  }

  @Override
  public boolean isTaken(int row) {
    int place = to.engine.caseAtRow()[row];
    return place >= 0 && to.inReady[row] != 0 && (first + place + 1) % beats == 0;
  }

  @Override
  boolean isOffered(int row) {
    return to.engine.caseAtRow()[row] >= 0;
  }

  @Override
  int inputsAt(int row) {
    return to.engine.caseAtRow()[row];
  }

  @Override
  int givenUp() {
    return givenUp;
  }

  private void moveUp(int pending) {
    for (int i = 0; i < dense.length; i++) {
      for (int word = 0; word < dense[i].length; word++) {
        long[] column = to.inputs[i][word];
        System.arraycopy(column, accepted, column, 0, pending);
      }
    }
  }

  private boolean lastRowOffers() {
    return to.engine.caseAtRow()[rows - 1] >= 0 && to.inReady[rows - 1] == 0;
  }
}
