package dev.plumbline.run;

import dev.plumbline.contract.Flow;
import dev.plumbline.verdict.Mismatch;

/**
 * Holds a stream to its order: what is accepted is answered in turn, within a range of cycles, and
 * stands still while the consumer is not ready. Rows are looked at one by one.
 *
 * <p>Results are numbered by the order in which they are due. Entry n of a ring of expectations
 * (modulo its size) is what result n is held to. Unless the reference has state, the results of
 * cases not yet accepted stand in it as well.
 *
 * <p>Once a result is lost or invented, all that follow stand a place away from where they are
 * looked for. When a long run of them shows by how many places, the checker moves along and counts
 * the run as the one mismatch that it is.
 */
final class StreamChecker implements Checker {
  private static final int LARGEST_RING = 1 << 20;

  private final OutputCheck[] checks;
  private final Flow flow;
  private final boolean oneForEach;
  private final Tally tally;
  private final int[] dueAt = new int[Feed.BLOCK];
  private final long[][] stalledPayload; // check, word
  private final long timeout;
  private Expectations ring;
  private long[] acceptedAt; // by entry: row
  private long[] stallsAt; // by entry: stalls before its row
  private long[] caseOf; // by entry: the case it is a result of
  private long cases; // accepted or given up
  private int taken; // of the block at hand
  private long drawn; // results that stand in the ring, or did
  private long accepted; // results of the cases accepted
  private long head; // the result that comes next
  private long forgotten; // results before this one were dropped by a reset
  private long gaveAt = Long.MIN_VALUE / 2; // the row of the last result taken
  private long gaveStalls; // stalls before that row
  private long overdue = -1; // the head that was already reported missing
  private boolean stalled;
  private long stalls;
  private long firstRow;
  private long idle; // rows since something moved, without those in which the consumer stalls
  private boolean stuck;
  private int rows;
  private final Slip slip;

  StreamChecker(Binding binding) {
    this.checks = binding.checks();
    this.flow = binding.contract().flow();
    this.oneForEach = binding.contract().reference().givesOneForEach();
    this.tally = new Tally(checks);
    this.slip = new Slip(checks);
    this.timeout = 4L * (flow.mostLatency() + 1024L);
    this.stalledPayload = new long[checks.length][];
    for (int c = 0; c < checks.length; c++) {
      stalledPayload[c] = new long[checks[c].words()];
    }
    size(4 * Feed.BLOCK);
  }

  private void size(int entries) {
    Expectations larger = new Expectations(checks, entries);
    long[] newAcceptedAt = new long[entries];
    long[] newStallsAt = new long[entries];
    long[] newCaseOf = new long[entries];
    for (long n = Math.max(0, head - Slip.FARTHEST); n < drawn; n++) {
      int from = slot(n);
      int to = (int) (n & (entries - 1));
      for (int c = 0; c < checks.length; c++) {
        for (int word = 0; word < checks[c].words(); word++) {
          larger.low[c][word][to] = ring.low[c][word][from];
          larger.high[c][word][to] = ring.high[c][word][from];
        }
        if (ring.middle[c] != null) {
          larger.middle[c][to] = ring.middle[c][from];
        }
      }
      newAcceptedAt[to] = acceptedAt[from];
      newStallsAt[to] = stallsAt[from];
      newCaseOf[to] = caseOf[from];
    }
    ring = larger;
    acceptedAt = newAcceptedAt;
    stallsAt = newStallsAt;
    caseOf = newCaseOf;
  }

  private int slot(long n) {
    return (int) (n & (acceptedAt.length - 1));
  }

  @Override
  public Tally tally() {
    return tally;
  }

  @Override
  public Expectations expected() {
    return ring;
  }

  @Override
  public int entry(int row) {
    return dueAt[row] < 0 ? -1 : slot(dueAt[row]);
  }

  /** The case whose result is due at a row, counted within the segment; -1 when none is. */
  long dueCase(int row) {
    return caseOf[slot(dueAt[row])];
  }

  @Override
  public long outstanding() {
    return accepted - head;
  }

  @Override
  public boolean isStuck() {
    return stuck;
  }

  @Override
  public void block(Feed feed) {
    firstRow += rows;
    rows = feed.rows;
    take(feed);
    Hookup dut = feed.to;
    for (int row = 0; row < rows; row++) {
      dueAt[row] = -1;
      boolean offered = feed.isOffered(row);
      if (feed.isTaken(row)) {
        accept(feed, firstRow + row);
      }
      if (feed.reset[row] != 0) {
        forget();
        if (feed.quiet[row] != 0 && flow.leastLatency() > 0 && dut.outValid[row] != 0) {
          tally.mismatch(firstRow + row, Mismatch.Kind.VALID_WITHOUT_CASE);
        }
        continue;
      }
      boolean ready = dut.outReady == null || dut.outReady[row] != 0;
      if (dut.outValid[row] != 0) {
        result(row, dut.outputs, ready);
      } else {
        silence(row);
      }
      if (head == accepted && !offered) {
        idle = 0; // nothing has to move
      } else if (ready) {
        idle++;
      }
    }
    if (idle > timeout) {
      stuck = true;
      if (head == accepted) {
        tally.mismatch(firstRow + rows - 1, Mismatch.Kind.NEVER_READY);
      }
    }
  }

  private void take(Feed feed) {
    int count = feed.results;
    taken = 0;
    cases += feed.givenUp();
    accepted += feed.isAhead() ? feed.givenUp() : 0; // the reset that follows forgets them
    while (drawn + count - head + Slip.FARTHEST > acceptedAt.length) {
      if (acceptedAt.length == LARGEST_RING) {
        stuck = true; // a million results outstanding: reported missing long before
        return;
      }
      size(2 * acceptedAt.length);
    }
    for (int c = 0; c < checks.length; c++) {
      int output = checks[c].output();
      for (int word = 0; word < checks[c].words(); word++) {
        store(feed.evaluation.low(output, word), ring.low[c][word], count);
        if (!checks[c].equal()) {
          store(feed.evaluation.high(output, word), ring.high[c][word], count);
        }
      }
      int first = slot(drawn);
      int straight = Math.min(count, acceptedAt.length - first);
      ring.applyTolerance(c, first, first + straight);
      ring.applyTolerance(c, 0, count - straight);
    }
    drawn += count;
  }

  private void store(long[] dense, long[] target, int count) {
    int first = slot(drawn);
    int straight = Math.min(count, target.length - first);
    System.arraycopy(dense, 0, target, first, straight);
    System.arraycopy(dense, straight, target, 0, count - straight);
  }

  private void accept(Feed feed, long row) {
    int more = oneForEach ? 1 : feed.evaluation.results(taken++);
    for (; more > 0; more--) {
      int entry = slot(accepted++);
      acceptedAt[entry] = row;
      stallsAt[entry] = stalls;
      caseOf[entry] = cases;
    }
    cases++;
    idle = 0;
  }

  private void forget() {
    head = accepted;
    forgotten = accepted;
    stalled = false;
    slip.forget();
  }

  private void result(int row, long[][][] got, boolean ready) {
    long at = firstRow + row;
    if (head == accepted) {
      tally.mismatch(at, Mismatch.Kind.VALID_WITHOUT_CASE);
      stalled = false;
      return;
    }
    dueAt[row] = (int) head;
    if (stalled) {
      if (isChanged(row, got)) {
        tally.mismatch(at, Mismatch.Kind.CHANGED_WHILE_STALLED);
        keep(row, got);
      }
    } else {
      judge(row, got);
    }
    if (ready) {
      head++;
      gaveAt = at;
      gaveStalls = stalls;
      stalled = false;
      idle = 0;
    } else {
      if (!stalled) {
        keep(row, got);
      }
      stalled = true;
      stalls++;
    }
  }

  /** The first look at a result: its time, then its value. */
  private void judge(int row, long[][][] got) {
    long at = firstRow + row;
    int entry = slot(head);
    long age = at - acceptedAt[entry];
    tally.cases++;
    boolean outside = false;
    for (int c = 0; c < checks.length; c++) {
      if (checks[c].counts(got, row)) {
        outside |= ring.isWrong(c, entry, got, row);
      }
      if (checks[c].isDecided(got, row)) {
        tally.compared[c]++;
        if (tally.widths[c] != null) {
          tally.widths[c].worst(ring.width(c, entry));
          tally.widths[c].open(ring.isOpen(c, entry) ? 1 : 0);
          ring.sample(c, entry, got[c], row, tally.widths[c]);
        }
        if (tally.deviations[c] != null) {
          tally.deviations[c].add(ring.deviation(c, entry, got[c][0][row]), at);
        }
      }
    }
    int places =
        outside || slip.isWatching()
            ? slip.result(outside, tally.mismatches, by -> isRightFor(head + by, row, got))
            : 0;
    int wrong = outside ? ring.firstWrong(entry, got, row) : -1;
    if (places != 0) {
      head += places;
      tally.cutTo(slip.before() + 1);
    } else if (outside) {
      tally.mismatch(at, Mismatch.Kind.VALUE_WRONG, wrong);
    } else if (age < flow.leastLatency()) {
      tally.mismatch(at, Mismatch.Kind.EARLY);
    } else if (tooOld(at) > 0 && overdue != head) {
      tally.mismatch(at, Mismatch.Kind.LATE);
    }
  }

  /** Whether the result at a row would be right for another case, one under way or just before. */
  private boolean isRightFor(long other, int row, long[][][] got) {
    return other >= forgotten && other < accepted && ring.holds(slot(other), got, row);
  }

  /**
   * Cycles since the last in which the head is allowed to come, without those in which the consumer
   * was not ready. Of several results of a case one leaves after the other.
   */
  private long tooOld(long row) {
    int entry = slot(head);
    long sinceCase = row - acceptedAt[entry] - (stalls - stallsAt[entry]) - flow.mostLatency();
    if (oneForEach) {
      return sinceCase;
    }
    long sinceResult = row - gaveAt - (stalls - gaveStalls) - flow.mostGap();
    return Math.min(sinceCase, sinceResult);
  }

  /** No result in this row: was one withdrawn, is one missing? */
  private void silence(int row) {
    long at = firstRow + row;
    if (stalled) {
      tally.mismatch(at, Mismatch.Kind.WITHDRAWN_WHILE_STALLED);
      dueAt[row] = (int) head;
      stalled = false;
    } else if (head < accepted && overdue != head && tooOld(at) >= 0) {
      tally.mismatch(at, Mismatch.Kind.VALID_MISSING);
      dueAt[row] = (int) head;
      overdue = head;
    }
  }

  private boolean isChanged(int row, long[][][] got) {
    for (int c = 0; c < checks.length; c++) {
      for (int word = 0; word < stalledPayload[c].length; word++) {
        if (got[c][word][row] != stalledPayload[c][word]) {
          return true;
        }
      }
    }
    return false;
  }

  private void keep(int row, long[][][] got) {
    for (int c = 0; c < checks.length; c++) {
      for (int word = 0; word < stalledPayload[c].length; word++) {
        stalledPayload[c][word] = got[c][word][row];
      }
    }
  }
}
