package dev.plumbline.drive;

import dev.plumbline.contract.Beats;
import java.util.Arrays;

/**
 * Feeds a DUT that takes whatever is valid, and whose cases come in several beats. A case lies in
 * one block. Beats that a reset or the block's end leaves without the rest of their case are noise.
 */
public final class BeatFeed extends RowFeed {
  private final int count;
  private final boolean contiguous;
  private final boolean validAtFirst;
  private final int[] standing = new int[BLOCK]; // beat at each row, also of a case cut by a reset
  private final long[] willing = new long[BLOCK];

  BeatFeed(FeedSetup setup) {
    super(setup);
    Beats beats = binding().beats();
    this.count = beats.count();
    this.contiguous = beats.areContiguous();
    this.validAtFirst = beats.isValidAtFirst();
  }

  @Override
  public int inputsAt(int row) {
    return to.beatAt[row] < 0 ? -1 : row;
  }

  /** Offers move to the last beats of cases. */
  @Override
  int arrange(int offered) {
    int waited = wait;
    System.arraycopy(offer, 0, willing, 0, BLOCK);
    int cases = lineUp();
    if (cases == 0) { // too thin for a case to fit between blocks
      wait = waited;
      for (int row = 0; row < span; row++) {
        willing[row] = 1 - reset[row];
      }
      cases = lineUp();
    }
    return cases;
  }

  private int lineUp() {
    int cases = 0;
    int next = 0; // beat
    int first = 0; // row of the case's beat 0
    for (int row = 0; row < span; row++) {
      offer[row] = 0;
      standing[row] = -1;
      if (reset[row] != 0 && next > 0) {
        Arrays.fill(to.beatAt, first, row, -1); // given up
        next = 0;
      }
      if (!isCaseEdge(row)) {
        to.beatAt[row] = -1;
        continue;
      }
      boolean goesOn = next > 0 && contiguous;
      if (wait > 0) {
        wait--;
      } else if (reset[row] == 0 && (willing[row] != 0 || goesOn)) {
        first = next == 0 ? row : first;
        standing[row] = next++;
        if (next == count) {
          offer[row] = 1;
          next = 0;
          wait = interval - 1;
          cases++;
        }
      }
      to.beatAt[row] = standing[row];
    }
    if (next > 0) {
      takeBack(first);
    }
    return cases;
  }

  private void takeBack(int from) {
    Arrays.fill(standing, from, BLOCK, -1);
    Arrays.fill(to.beatAt, from, BLOCK, -1);
  }

  @Override
  int lastOffer(int allowed) {
    int last = super.lastOffer(allowed);
    takeBack(last + 1);
    return last;
  }

  @Override
  void withoutOffers() {
    super.withoutOffers();
    takeBack(0);
  }

  @Override
  void place(int offered) {
    busNoise(rows);
    for (int i = 0; i < dense.length; i++) {
      for (int word = 0; word < dense[i].length; word++) {
        repeat(dense[i][word], to.inputs[i][word]);
      }
    }
    mark(standing, rows);
    for (int row = 0; row < rows; row++) {
      boolean valid = validAtFirst ? standing[row] == 0 : standing[row] >= 0;
      to.inValid[row] = valid ? 1 : 0;
    }
    noiseUnderReset(to.inValid, rows);
    holdInputs();
  }

  /** Puts each case into all rows of its beats. */
  private void repeat(long[] cases, long[] column) {
    int next = 0;
    for (int row = 0; row < rows; row++) {
      if (to.beatAt[row] >= 0) {
        column[row] = cases[next];
        next += (int) offer[row];
      }
    }
  }
}
