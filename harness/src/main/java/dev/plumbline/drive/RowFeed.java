package dev.plumbline.drive;

import java.util.Arrays;

/** Feeds a DUT that takes whatever is valid: a case stands in the row that offers it. */
class RowFeed extends Feed {
  final int interval;
  int span; // rows planned for the block at hand
  int wait; // cycles before the next offer is allowed
  private final boolean fixed;
  private final int[] places = new int[BLOCK]; // rows of the cases drawn, where not all have one
  private final int[] idle = new int[BLOCK]; // the other rows

  RowFeed(FeedSetup setup) {
    super(setup);
    this.interval = binding().contract().flow().interval();
    this.fixed = binding().isFixed();
  }

  @Override
  public boolean next(long outstanding) {
    span = wholeCycles(BLOCK);
    int offered = arrange(plan(span));
    if (left() == 0) {
      rows = drain(outstanding, fixed, span);
      if (rows == 0) {
        return false;
      }
      withoutOffers();
      offered = 0;
    } else if (offered >= left()) {
      int last = lastOffer(left());
      offered = left();
      rows = last + 1 + spendTail(span - last - 1);
    } else {
      rows = span;
    }
    draw(offered);
    place(offered);
    to.engine.run(rows);
    evaluateTaken();
    return true;
  }

  @Override
  public boolean isOffered(int row) {
    return offer[row] != 0;
  }

  @Override
  public boolean isTaken(int row) {
    return offer[row] != 0;
  }

  @Override
  public void markTaken(long[] marks) {
    for (int row = 0; row < rows; row++) {
      marks[row] |= offer[row];
    }
  }

  @Override
  public int inputsAt(int row) {
    return row;
  }

  /** Moves offers to where they are allowed, and says how many cases that makes. */
  int arrange(int offered) {
    if (interval == 1) {
      return offered;
    }
    int count = 0;
    for (int row = 0; row < span; row++) {
      if (!isCaseEdge(row)) {
        continue;
      }
      if (wait > 0) {
        wait--;
        offer[row] = 0;
      } else if (offer[row] != 0) {
        wait = interval - 1;
        count++;
      }
    }
    return count;
  }

  /** The row of the last offer allowed; offers after it are taken back. */
  int lastOffer(int allowed) {
    int row = -1;
    for (int seen = 0; seen < allowed; ) {
      row++;
      seen += (int) offer[row];
    }
    Arrays.fill(offer, row + 1, BLOCK, 0);
    return row;
  }

  /** Puts the cases drawn into their rows. */
  void place(int offered) {
    if (offered == rows) {
      for (int i = 0; i < dense.length; i++) {
        for (int word = 0; word < dense[i].length; word++) {
          System.arraycopy(dense[i][word], 0, to.inputs[i][word], 0, rows);
        }
      }
    } else {
      noise(idle, findPlaces());
      for (int i = 0; i < dense.length; i++) {
        for (int word = 0; word < dense[i].length; word++) {
          scatter(dense[i][word], to.inputs[i][word], offered);
        }
      }
    }
    if (to.inValid != null) {
      System.arraycopy(offer, 0, to.inValid, 0, rows);
      noiseUnderReset(to.inValid, rows);
    }
    holdInputs();
  }

  /** Notes the rows of the cases drawn, and the others, each in order; says how many those are. */
  private int findPlaces() {
    int next = 0;
    for (int row = 0; row < rows; row++) {
      places[next] = row;
      idle[row - next] = row;
      next += (int) offer[row]; // at most as many as rows before: both stay inside
    }
    return rows - next;
  }

  private void scatter(long[] cases, long[] column, int count) {
    for (int i = 0; i < count; i++) {
      column[places[i]] = cases[i];
    }
  }
}
