package dev.plumbline.drive;

import dev.plumbline.contract.Flow;
import dev.plumbline.contract.Taking;
import dev.plumbline.cosim.OfferBits;
import java.util.Arrays;

/**
 * Feeds a DUT that says when it takes a case: the engine walks through places of the columns as
 * they are taken, and goes on where it was in the next block. A place holds a case, or one beat of
 * it. Cases are drawn when fewer wait than a block may take, and then many at once: a DUT takes as
 * few as a dozen in a block, and to evaluate so few costs nearly as much as a thousand.
 *
 * <p>Where cases have several beats, a block ends where a reset begins, so that what the reset cuts
 * can be given up before the next.
 */
final class CaseFeed extends Feed {
  private final int beats; // of a case
  private final int places; // of the columns
  private int begin; // the first place of the block just run
  private int held; // the end of the places filled
  private int accepted; // how many were taken in it
  private int first; // the beat at the first place
  private int next; // the beat after the last taken
  private int givenUp;
  private final boolean startsOnce; // valid is high for one cycle
  private final boolean plain; // the valid column has offers alone
  private final long bits; // of the valid column, in every row
  private final long forget; // where the DUT may have become free otherwise
  private boolean begun;
  private boolean offersAnew = true; // whether the row at hand begins a cycle of the cases
  private long offerHeld;

  CaseFeed(FeedSetup setup) {
    super(setup);
    this.beats = binding().beats().count();
    this.places = beats > 1 || dense.length == 0 ? BLOCK : to.inputs[0][0].length;
    Flow flow = binding().contract().flow();
    this.startsOnce = flow.startsOnce();
    boolean isBusy = flow.taking() == Taking.WHEN_NOT_BUSY;
    boolean inverted = isBusy != PortRef.isFlipped(flow.gate());
    this.bits = (startsOnce ? OfferBits.ONCE : 0) | (inverted ? OfferBits.INVERTED : 0);
    this.forget = OfferBits.FORGET | (isBusy ? 0 : OfferBits.FREE_AT_FIRST);
    this.plain = bits == 0 && !hasClocks() && !PortRef.isFlipped(flow.inValid());
  }

  @Override
  public boolean next(long outstanding) {
    boolean offeredBefore = held > begin + accepted && lastRowOffers();
    int span = beats == 1 ? BLOCK : steadyRows(BLOCK);
    plan(span);
    giveUp();
    begin += accepted;
    int pending = held - begin;
    boolean fill = beats > 1 || pending < BLOCK;
    if (fill) {
      moveUp(pending);
      first = next;
      draw(Math.min(Math.min(BLOCK, places - pending) / beats, left()));
      for (int i = 0; i < dense.length; i++) {
        for (int word = 0; word < dense[i].length; word++) {
          append(dense[i][word], to.inputs[i][word], pending);
        }
      }
      held = pending + beats * cases;
    } else {
      drawNone();
    }
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
      busNoise(held);
      for (int place = 0; place < held; place++) {
        to.beatAt[place] = (first + place) % beats;
      }
      mark(to.beatAt, held);
    }
    System.arraycopy(offer, 0, to.inValid, 0, rows);
    if (!plain) {
      markOffers();
    }
    boolean silent = beats > 1 && reset[0] != 0; // a beat taken there would be lost
    int changed = fill ? 0 : held;
    accepted = to.engine.runStream(rows, begin, changed, silent ? begin : held);
    if (!plain) {
      showOffers();
    }
    next = (first + accepted) % beats;
    evaluateTaken();
    return true;
  }

  /** Says what the rows are to the handshake besides whether they offer. */
  private void markOffers() {
    for (int row = 0; row < rows; row++) {
      if (hasClocks()) {
        to.inValid[row] = offersAnew ? to.inValid[row] : offerHeld;
        offerHeld = to.inValid[row];
        offersAnew = isCaseEdge(row);
        to.inValid[row] |= isCaseEdge(row) ? 0 : OfferBits.OTHER_CLOCK;
      }
      to.inValid[row] |= bits;
      if (startsOnce && (!begun || reset[row] != 0)) {
        to.inValid[row] |= forget;
      }
      begun = true;
    }
  }

  /** Has valid stand in its column as it was driven. */
  private void showOffers() {
    int[] places = to.engine.caseAtRow();
    for (int row = 0; row < rows; row++) {
      to.inValid[row] = places[row] >= 0 ? 1 : 0;
    }
  }

  /** Whether a place was taken in a row. */
  private boolean takes(int row) {
    return to.engine.caseAtRow()[row] >= 0
        && isCaseEdge(row)
        && (startsOnce || to.inReady[row] != 0);
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
    return takes(row) && (first + to.engine.caseAtRow()[row] - begin + 1) % beats == 0;
  }

  @Override
  public void markTaken(long[] marks) {
    if (beats == 1 && plain) {
      mark(to.engine.caseAtRow(), to.inReady, marks, rows);
      return;
    }
    for (int row = 0; row < rows; row++) {
      marks[row] |= isTaken(row) ? 1 : 0;
    }
  }

  private static void mark(int[] places, long[] ready, long[] marks, int rows) {
    for (int row = 0; row < rows; row++) {
      marks[row] |= ready[row] & ~(places[row] >> 31);
    }
  }

  @Override
  boolean offersAtEdges() {
    return false; // they stand from the beginning of a cycle on
  }

  @Override
  public boolean isOffered(int row) {
    return to.engine.caseAtRow()[row] >= 0;
  }

  @Override
  public int inputsAt(int row) {
    return to.engine.caseAtRow()[row];
  }

  @Override
  public int givenUp() {
    return givenUp;
  }

  private void moveUp(int pending) {
    for (int i = 0; i < dense.length; i++) {
      for (int word = 0; word < dense[i].length; word++) {
        long[] column = to.inputs[i][word];
        System.arraycopy(column, begin, column, 0, pending);
      }
    }
    begin = 0;
  }

  private boolean lastRowOffers() {
    return to.engine.caseAtRow()[rows - 1] >= 0 && !takes(rows - 1);
  }
}
