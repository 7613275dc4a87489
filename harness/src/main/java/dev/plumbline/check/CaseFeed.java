package dev.plumbline.check;

/**
 * Feeds a DUT that says when it takes a case: the engine walks through the cases as they are
 * accepted, and those left over open the next block.
 */
final class CaseFeed extends Feed {
  private int held; // cases in the columns during the block just run
  private int accepted; // how many of them were taken

  CaseFeed(
      Binding binding,
      Settings settings,
      Stretch stretch,
      Engine engine,
      Reference.Evaluation evaluation) {
    super(binding, settings, stretch, engine, evaluation);
  }

  @Override
  boolean next(long outstanding) {
    int pending = held - accepted;
    boolean offeredBefore = pending > 0 && lastRowOffers();
    moveUp(pending);
    plan();
    draw(Math.min(BLOCK - pending, left()));
    for (int i = 0; i < dense.length; i++) {
      for (int word = 0; word < dense[i].length; word++) {
        System.arraycopy(dense[i][word], 0, to.inputs[i][word], pending, cases);
      }
    }
    held = pending + cases;
    rows = BLOCK;
    if (held == 0) {
      withoutOffers();
      rows = drain(outstanding, false);
      if (rows == 0) {
        return false;
      }
    } else if (offeredBefore) {
      offer[0] = 1; // valid stays until the case is taken
    }
    System.arraycopy(offer, 0, to.inValid, 0, rows);
    accepted = to.engine.runStream(rows, held);
    return true;
  }

  @Override
  boolean isTaken(int row) {
    return to.engine.caseAtRow()[row] >= 0 && to.inReady[row] != 0;
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
