package dev.plumbline.judge;

import dev.plumbline.contract.Reference;
import dev.plumbline.drive.Feed;
import dev.plumbline.drive.OutputCheck;
import dev.plumbline.verdict.Mismatch;
import java.util.Arrays;
import java.util.function.IntToLongFunction;

/**
 * Holds blocks of rows to a fixed latency: what row n is given is due at row n + latency.
 *
 * <p>Its columns have latency entries before the block's own, which carry what is due from the
 * blocks before: entry j is what is due at row j of the block. Bulk comparison only asks whether
 * anything differs; rows are looked at one by one when something does.
 */
final class FixedLatencyChecker implements Checker {
  private static final int SAMPLE = 16; // one row in so many goes into the histogram of widths

  private final OutputCheck[] checks;
  private final int latency;
  private final long silenced; // 0 where valid follows its input at once, reset or not
  private final Expectations expected;
  private final long[] due; // -1 where a result is due, 0 where not
  private final long[] offers; // 1 where the case of that was offered, reset since or not
  private final IntToLongFunction caseAt = this::caseAt;
  private final long[] counts; // scratch: -1 where the check at hand counts
  private final long[] deviations; // scratch: those of the check at hand
  private final long[] watched; // -1 where valid is held to account
  private final int[] places; // entries of the block's cases, in order
  private final Tally tally;
  private long offered; // cases of rows whose results are due before the block
  private long firstRow;
  private int rows; // of the block at hand

  FixedLatencyChecker(OutputCheck[] checks, int latency, int capacity) {
    this.checks = checks;
    this.latency = latency;
    this.silenced = latency == 0 ? 0 : 1;
    this.expected = new Expectations(checks, capacity + latency);
    this.due = new long[capacity + latency];
    this.offers = new long[capacity + latency];
    this.counts = new long[capacity];
    this.deviations = new long[capacity];
    this.watched = new long[capacity];
    this.places = new int[capacity];
    this.tally = new Tally(checks);
  }

  @Override
  public Tally tally() {
    return tally;
  }

  @Override
  public Expectations expected() {
    return expected;
  }

  @Override
  public int entry(int row) {
    return due[row] != 0 ? row : -1;
  }

  @Override
  public void block(Feed feed) {
    carry();
    rows = feed.rows;
    Arrays.fill(watched, 0, rows, -1);
    expect(feed.offer, feed.cases, feed.evaluation);
    if (feed.anyReset) {
      reset(feed.reset, feed.quiet);
    }
    if (feed.to.reset == null) {
      excuseFirst();
    }
    compare(feed.to.outValid, feed.to.outputs);
  }

  /** Takes what the reference says of the cases, which the evaluation holds densely. */
  private void expect(long[] offer, int cases, Reference.Evaluation evaluation) {
    for (int row = 0; row < rows; row++) {
      due[latency + row] = -offer[row];
    }
    System.arraycopy(offer, 0, offers, latency, rows);
    if (cases != rows) {
      findPlaces(offer);
    }
    for (int c = 0; c < checks.length; c++) {
      int output = checks[c].output();
      for (int word = 0; word < checks[c].words(); word++) {
        long[] low = expected.low[c][word];
        long[] high = expected.high[c][word];
        spread(evaluation.low(output, word), low, cases);
        if (high != low) {
          spread(evaluation.high(output, word), high, cases);
        }
      }
      expected.applyTolerance(c, latency, latency + rows);
    }
  }

  private void findPlaces(long[] offer) {
    int next = 0;
    for (int row = 0; row < rows; row++) {
      places[next] = latency + row;
      next += (int) offer[row]; // fewer cases than rows: next stays inside
    }
  }

  /** Entries that no case has keep what they had: nothing is due there. */
  private void spread(long[] dense, long[] target, int cases) {
    if (cases == rows) {
      System.arraycopy(dense, 0, target, latency, rows);
    } else {
      scatter(dense, places, target, cases);
    }
  }

  private static void scatter(long[] dense, int[] places, long[] target, int cases) {
    for (int i = 0; i < cases; i++) {
      target[places[i]] = dense[i];
    }
  }

  /**
   * Takes note of resets: what is in flight never comes, and rows under reset are not looked at,
   * but for a valid that a reset has not silenced in time.
   */
  private void reset(long[] reset, long[] quiet) {
    for (int row = 0; row < rows; row++) {
      if (reset[row] != 0) {
        watched[row] = -(quiet[row] & silenced);
        Arrays.fill(due, row, row + latency + 1, 0);
      }
    }
  }

  /** Excuses the valid of the first rows of a segment, for a design that cannot be reset. */
  private void excuseFirst() {
    if (firstRow < latency) {
      Arrays.fill(watched, 0, (int) Math.min(rows, latency - firstRow), 0);
    }
  }

  private void compare(long[] valid, long[][][] got) {
    long differs = valid == null ? 0 : validDiffers(valid);
    long results = count(due, rows);
    tally.cases += results;
    for (int c = 0; c < checks.length; c++) {
      long[] mask = mask(c, got);
      long compared = mask == due ? results : count(mask, rows);
      tally.compared[c] += compared;
      differs |= outputDiffers(c, mask, got[c]);
      if (checks[c].otherwise() != null) {
        differs |= otherwiseDiffers(c, got);
      }
      if (tally.widths[c] != null) {
        tallyWidths(c, mask, got[c]);
      }
      if (tally.deviations[c] != null) {
        tallyDeviations(c, mask, compared, got[c][0]);
      }
    }
    if (differs != 0) {
      lookAtEachRow(valid, got);
    }
  }

  /** Moves what is still due after the block before to the front. */
  private void carry() {
    offered -= count(offers, rows);
    System.arraycopy(due, rows, due, 0, latency);
    System.arraycopy(offers, rows, offers, 0, latency);
    for (int c = 0; c < checks.length; c++) {
      for (int word = 0; word < checks[c].words(); word++) {
        long[] low = expected.low[c][word];
        long[] high = expected.high[c][word];
        System.arraycopy(low, rows, low, 0, latency);
        if (high != low) {
          System.arraycopy(high, rows, high, 0, latency);
        }
      }
      if (expected.middle[c] != null) {
        System.arraycopy(expected.middle[c], rows, expected.middle[c], 0, latency);
      }
    }
    firstRow += rows;
  }

  /** The case whose result is due at a row, counted in the segment. */
  private long caseAt(int row) {
    return offered - count(offers, row);
  }

  private static long count(long[] mask, int rows) {
    long sum = 0;
    for (int row = 0; row < rows; row++) {
      sum -= mask[row];
    }
    return sum;
  }

  private long[] mask(int c, long[][][] got) {
    if (checks[c].flag() < 0) {
      return due;
    }
    long[] flag = got[checks[c].flag()][0];
    long low = checks[c].flagLow() ? -1 : 0;
    for (int row = 0; row < rows; row++) {
      counts[row] = due[row] & (-flag[row] ^ low);
    }
    return counts;
  }

  private long validDiffers(long[] valid) {
    long differs = 0;
    for (int row = 0; row < rows; row++) {
      differs |= (due[row] ^ -valid[row]) & watched[row];
    }
    return differs;
  }

  /** Whether a result whose flag is 0 is not the code that it then has to be. */
  private long otherwiseDiffers(int c, long[][][] got) {
    long[] flag = got[checks[c].flag()][0];
    long[] code = got[c][0];
    long otherwise = checks[c].otherwise();
    long differs = 0;
    for (int row = 0; row < rows; row++) {
      differs |= due[row] & ~-flag[row] & (code[row] ^ otherwise);
    }
    return differs;
  }

  private long outputDiffers(int c, long[] mask, long[][] got) {
    long differs = 0;
    if (checks[c].equal()) {
      differs = unequal(mask, got, expected.low[c]);
    } else if (checks[c].isNarrow()) {
      differs = outside(mask, got[0], expected.low[c][0], expected.high[c][0], rows);
    } else if (unequal(mask, got, expected.low[c]) != 0) { // the lowest code allowed is right
      for (int row = 0; row < rows; row++) {
        if (mask[row] != 0 && expected.isOutside(c, row, got, row)) {
          differs = -1;
        }
      }
    }
    return differs;
  }

  private long unequal(long[] mask, long[][] some, long[][] others) {
    long differs = 0;
    for (int word = 0; word < some.length; word++) {
      differs |= unequal(mask, some[word], others[word], rows);
    }
    return differs;
  }

  // Static, so that each is compiled by itself with its arrays as parameters.

  private static long unequal(long[] mask, long[] got, long[] want, int rows) {
    long differs = 0;
    for (int row = 0; row < rows; row++) {
      differs |= (got[row] ^ want[row]) & mask[row];
    }
    return differs;
  }

  private static long outside(long[] mask, long[] got, long[] low, long[] high, int rows) {
    long differs = 0;
    for (int row = 0; row < rows; row++) {
      differs |= ((got[row] - low[row]) | (high[row] - got[row])) & mask[row];
    }
    return differs >> 63; // below or above shows in the sign
  }

  private void tallyWidths(int c, long[] mask, long[][] got) {
    if (checks[c].isNarrow()) {
      tallyNarrow(c, mask, got[0]);
      return;
    }
    WidthTally widths = tally.widths[c];
    boolean isExact = unequal(mask, expected.low[c], expected.high[c]) == 0;
    long worst = isExact && count(mask, rows) > 0 ? 0 : -1;
    for (int row = 0; !isExact && row < rows; row++) {
      worst = Math.max(worst, expected.width(c, row) | ~mask[row]); // -1 where it does not count
    }
    widths.worst(worst);
    boolean anyOpen = worst >= expected.leastOpen(c);
    for (int row = 0; anyOpen && row < rows; row++) {
      widths.open(mask[row] != 0 && expected.isOpen(c, row) ? 1 : 0);
    }
    for (int row = 0; row < rows; row += SAMPLE) {
      if (mask[row] != 0) {
        expected.sample(c, row, got, row, widths);
      }
    }
  }

  /** The same of columns of one word. Hardly a block has any bounds wider than those before. */
  private void tallyNarrow(int c, long[] mask, long[] got) {
    WidthTally widths = tally.widths[c];
    long[] low = expected.low[c][0];
    long[] high = expected.high[c][0];
    long leastOpen = expected.leastOpen(c);
    long usual = Math.min(widths.worst(), leastOpen - 1);
    if (anyWider(low, high, mask, usual, rows)) {
      for (int row = 0; row < rows; row++) {
        long width = (high[row] - low[row]) | ~mask[row]; // -1 where it does not count
        widths.worst(width);
        widths.open(width >= leastOpen ? 1 : 0);
      }
    }
    for (int row = 0; row < rows; row += SAMPLE) {
      if (mask[row] != 0) {
        long width = high[row] - low[row];
        long above = high[row] - got[row];
        long below = got[row] - low[row];
        if ((above | below) < 0) {
          widths.sampleWrong(width);
        } else {
          widths.sample(width, Math.max(above, below), width >= leastOpen);
        }
      }
    }
  }

  private static boolean anyWider(long[] low, long[] high, long[] mask, long width, int rows) {
    long wider = 0;
    for (int row = 0; row < rows; row++) {
      wider |= (width - (high[row] - low[row])) & mask[row];
    }
    return wider < 0; // shows in the sign
  }

  private void tallyDeviations(int c, long[] mask, long compared, long[] code) {
    expected.deviations(c, code, mask, deviations, rows);
    tally.deviations[c].add(deviations, compared, rows, caseAt);
  }

  private void lookAtEachRow(long[] valid, long[][][] got) {
    for (int row = 0; row < rows; row++) {
      if (valid != null && ((due[row] ^ -valid[row]) & watched[row]) != 0) {
        tally.mismatch(
            firstRow + row,
            due[row] != 0 ? Mismatch.Kind.VALID_MISSING : Mismatch.Kind.VALID_WITHOUT_CASE);
      } else if (due[row] != 0 && !expected.holds(row, got, row)) {
        tally.mismatch(
            firstRow + row, Mismatch.Kind.VALUE_WRONG, expected.firstWrong(row, got, row));
      }
    }
  }
}
