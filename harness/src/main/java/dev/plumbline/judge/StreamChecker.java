package dev.plumbline.judge;

import dev.plumbline.contract.CaseLatency;
import dev.plumbline.contract.ContractException;
import dev.plumbline.contract.Flow;
import dev.plumbline.drive.Binding;
import dev.plumbline.drive.Feed;
import dev.plumbline.drive.Hookup;
import dev.plumbline.drive.OutputCheck;
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
public final class StreamChecker implements Checker {
  private static final int LARGEST_RING = 1 << 20;

  private final OutputCheck[] checks;
  private final Flow flow;
  private final boolean oneForEach;
  private final Tally tally;
  private final int[] dueAt = new int[Feed.BLOCK];
  private final long[] events = new long[Feed.BLOCK]; // 0 in rows in which nothing comes or goes
  private final StalledResult shown;
  private final long timeout;
  private final int tag; // the check by which results in any order are told apart; -1 for none
  private final CaseLatency latencyOf; // null where one range holds for all
  private long[] words = {}; // of a case, where its latency depends on it
  private ResultRing ring;
  private long cases; // accepted or given up
  private int taken; // of the block at hand
  private long drawn; // results that stand in the ring, or did
  private long accepted; // results of the cases accepted
  private long head; // the result that comes next, or the oldest of those that may
  private long arriving = -1; // a result taken in the cycle before, where its value comes after
  private long at; // the result at hand: the head, where results come in order
  private long now; // cycles of the clock of the results; rows, where there is one clock
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
    this.timeout = 4L * (flow.mostLatency() + 1024L) * binding.rowsOf(1);
    this.latencyOf = flow.latencyOf();
    int tagged = -1;
    for (int c = 0; c < checks.length; c++) {
      tagged = checks[c].isCalled(flow.tag()) ? c : tagged;
    }
    this.tag = tagged;
    this.shown = new StalledResult(checks);
    this.ring = new ResultRing(checks, 4 * Feed.BLOCK);
  }

  private int slot(long n) {
    return ring.slot(n);
  }

  @Override
  public Tally tally() {
    return tally;
  }

  @Override
  public Expectations expected() {
    return ring.expected;
  }

  @Override
  public int entry(int row) {
    return dueAt[row] < 0 ? -1 : slot(dueAt[row]);
  }

  /** The case whose result is due at a row, counted within the segment; -1 when none is. */
  public long dueCase(int row) {
    return ring.caseOf[slot(dueAt[row])];
  }

  @Override
  public long outstanding() {
    boolean shown = stalled && flow.validStays(); // it stays until the next case, if any
    return accepted - head - (shown ? 1 : 0);
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
    markEvents(feed);
    for (int row = passOver(feed, 0); row < rows; row = passOver(feed, row + 1)) {
      dueAt[row] = -1;
      boolean edge = feed.isResultEdge(row);
      now += edge ? 1 : 0;
      boolean offered = feed.isOffered(row);
      boolean isTaken = feed.isTaken(row);
      if (isTaken) {
        accept(feed, row);
      }
      if (feed.reset[row] != 0) {
        forget();
        if (feed.quiet[row] != 0
            && edge
            && flow.leastLatency() > 0
            && !flow.validStays()
            && dut.outValid[row] != 0) {
          tally.mismatch(firstRow + row, Mismatch.Kind.VALID_WITHOUT_CASE);
        }
        continue;
      }
      boolean ready = flow.validStays() ? isTaken : dut.outReady == null || dut.outReady[row] != 0;
      if (edge) {
        arrive(row, dut.outputs);
        if (dut.outValid[row] == 0 && !(isTaken && flow.validStays() && stalled)) {
          silence(row);
        } else if (dut.outValid[row] == 0) {
          leave(); // it need not stay for as long as the next case is taken
          stalled = false;
        } else if (flow.afterReady()) {
          takenBefore(row, ready);
        } else if (!isOld()) {
          result(row, dut.outputs, ready);
        }
      }
      boolean settled = head + (stalled && flow.validStays() ? 1 : 0) == accepted;
      if (settled && !offered) {
        idle = 0; // nothing has to move
      } else if (ready || flow.validStays()) {
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

  private void markEvents(Feed feed) {
    for (int row = 0; row < rows; row++) {
      events[row] = feed.reset[row] | feed.to.outValid[row];
    }
    feed.markTaken(events);
  }

  /**
   * Passes over rows in which nothing comes or goes, as are most of a DUT that works on one case
   * for long; gives the first row to be looked at.
   */
  private int passOver(Feed feed, int from) {
    if (stalled || arriving >= 0 || feed.hasClocks()) {
      return from;
    }
    int end = from;
    while (end < rows && events[end] == 0) {
      end++;
    }
    now += end - from;
    if (end > from && head < accepted && overdue != head && tooOld(slot(head)) >= 0) {
      now -= end - from; // one of them is where a result is missing
      return from;
    }
    boolean alwaysReady = flow.validStays() || feed.to.outReady == null;
    for (int row = from; row < end; row++) {
      dueAt[row] = -1;
      if (head == accepted && !feed.isOffered(row)) {
        idle = 0;
      } else {
        idle += alwaysReady || feed.to.outReady[row] != 0 ? 1 : 0;
      }
    }
    return end;
  }

  /** Whether a valid that stays says nothing of a case: none is under way before this row. */
  private boolean isOld() {
    return flow.validStays()
        && (head == accepted || (!stalled && ring.acceptedAt[slot(head)] == now));
  }

  private void take(Feed feed) {
    int count = feed.results;
    taken = 0;
    cases += feed.givenUp();
    accepted += feed.isAhead() ? feed.givenUp() : 0; // the reset that follows forgets them
    while (drawn + count - head + Slip.FARTHEST > ring.size()) {
      if (ring.size() == LARGEST_RING) {
        stuck = true; // a million results outstanding: reported missing long before
        return;
      }
      ring = ring.twice(Math.max(0, head - Slip.FARTHEST), drawn);
    }
    for (int c = 0; c < checks.length; c++) {
      int output = checks[c].output();
      for (int word = 0; word < checks[c].words(); word++) {
        store(feed.evaluation.low(output, word), ring.expected.low[c][word], count);
        if (!checks[c].equal()) {
          store(feed.evaluation.high(output, word), ring.expected.high[c][word], count);
        }
      }
      int first = slot(drawn);
      int straight = Math.min(count, ring.size() - first);
      ring.expected.applyTolerance(c, first, first + straight);
      ring.expected.applyTolerance(c, 0, count - straight);
    }
    drawn += count;
  }

  private void store(long[] dense, long[] target, int count) {
    int first = slot(drawn);
    int straight = Math.min(count, target.length - first);
    System.arraycopy(dense, 0, target, first, straight);
    System.arraycopy(dense, straight, target, 0, count - straight);
  }

  private void accept(Feed feed, int row) {
    int cycles = latencyOf == null ? 0 : latencyOf(feed, row);
    int more = oneForEach ? 1 : feed.evaluation.results(taken++);
    for (; more > 0; more--) {
      int entry = slot(accepted++);
      ring.acceptedAt[entry] = now;
      ring.stallsAt[entry] = stalls;
      ring.caseOf[entry] = cases;
      ring.latency[entry] = cycles;
      ring.gone[entry] = false;
    }
    cases++;
    idle = 0;
  }

  private int latencyOf(Feed feed, int row) {
    if (words.length == 0) {
      words = new long[feed.wordsOfCase()];
    }
    feed.gather(feed.inputsAt(row), words);
    int cycles = latencyOf.cycles(words);
    if (cycles < 0 || cycles > flow.mostLatency()) {
      throw new ContractException(
          "The latency of a case was given as "
              + cycles
              + " cycles; 0 to the most that was promised, "
              + flow.mostLatency()
              + ", are allowed. Mend the function, or promise more by latencyOf(...).");
    }
    return cycles;
  }

  private int leastLatency(int entry) {
    return latencyOf == null ? flow.leastLatency() : ring.latency[entry];
  }

  private int mostLatency(int entry) {
    return latencyOf == null ? flow.mostLatency() : ring.latency[entry];
  }

  /** The oldest case under way whose tag a result has; the oldest of all where none has it. */
  private long find(int row, long[][][] got) {
    for (long n = head; n < accepted; n++) {
      int entry = slot(n);
      if (!ring.gone[entry] && ring.expected.low[tag][0][entry] == got[tag][0][row]) {
        return n;
      }
    }
    return head;
  }

  private void forget() {
    head = accepted;
    forgotten = accepted;
    stalled = false;
    arriving = -1;
    slip.forget();
  }

  private void result(int row, long[][][] got, boolean ready) {
    if (head == accepted) {
      tally.mismatch(firstRow + row, Mismatch.Kind.VALID_WITHOUT_CASE);
      stalled = false;
      return;
    }
    if (!stalled) {
      at = tag < 0 ? head : find(row, got);
    }
    dueAt[row] = (int) at;
    if (stalled) {
      if (shown.isOther(row, got)) {
        tally.mismatch(firstRow + row, Mismatch.Kind.CHANGED_WHILE_STALLED);
        shown.keep(row, got);
      }
    } else {
      judge(row, got);
    }
    if (ready) {
      leave();
      gaveAt = now;
      gaveStalls = stalls;
      stalled = false;
      idle = 0;
    } else {
      if (!stalled) {
        shown.keep(row, got);
      }
      stalled = true;
      stalls++;
    }
  }

  /** The result at hand is gone. */
  private void leave() {
    if (tag < 0) {
      head++;
      return;
    }
    ring.gone[slot(at)] = true;
    while (head < accepted && ring.gone[slot(head)]) {
      head++;
    }
  }

  /** A result that stands on its ports a cycle after it is taken: its time now, its value then. */
  private void takenBefore(int row, boolean ready) {
    at = head;
    if (head == accepted) {
      tally.mismatch(firstRow + row, Mismatch.Kind.VALID_WITHOUT_CASE);
    } else if (!stalled && judgeTime(row)) {
      dueAt[row] = (int) at;
    }
    stalled = head < accepted && !ready;
    stalls += stalled ? 1 : 0;
    if (ready && head < accepted) {
      arriving = at;
      gaveAt = now;
      gaveStalls = stalls;
      idle = 0;
      head++;
    }
  }

  private void arrive(int row, long[][][] got) {
    if (arriving >= 0) {
      at = arriving;
      arriving = -1;
      dueAt[row] = (int) at;
      if (isOutside(row, got)) {
        int wrong = ring.expected.firstWrong(slot(at), got, row);
        tally.mismatch(firstRow + row, Mismatch.Kind.VALUE_WRONG, wrong);
      }
    }
  }

  /** Whether a result has come too early or too late. */
  private boolean judgeTime(int row) {
    int entry = slot(at);
    boolean early = now - ring.acceptedAt[entry] < leastLatency(entry);
    boolean late = !early && tooOld(entry) > 0 && overdue != at;
    if (early || late) {
      tally.mismatch(firstRow + row, early ? Mismatch.Kind.EARLY : Mismatch.Kind.LATE);
    }
    return early || late;
  }

  /** The first look at a value. */
  private boolean isOutside(int row, long[][][] got) {
    int entry = slot(at);
    tally.cases++;
    boolean outside = false;
    for (int c = 0; c < checks.length; c++) {
      if (checks[c].counts(got, row)) {
        outside |= ring.expected.isWrong(c, entry, got, row);
      }
      if (checks[c].isDecided(got, row)) {
        tally.compared[c]++;
        if (tally.widths[c] != null) {
          tally.widths[c].worst(ring.expected.width(c, entry));
          tally.widths[c].open(ring.expected.isOpen(c, entry) ? 1 : 0);
          ring.expected.sample(c, entry, got[c], row, tally.widths[c]);
        }
        if (tally.deviations[c] != null) {
          tally.deviations[c].add(
              ring.expected.deviation(c, entry, got[c][0][row]), ring.caseOf[entry]);
        }
      }
    }
    return outside;
  }

  /** The first look at a result: its value, then its time. */
  private void judge(int row, long[][][] got) {
    int entry = slot(at);
    boolean outside = isOutside(row, got);
    int places =
        tag < 0 && (outside || slip.isWatching())
            ? slip.result(outside, tally.mismatches, by -> isRightFor(head + by, row, got))
            : 0;
    int wrong = outside ? ring.expected.firstWrong(entry, got, row) : -1;
    if (places != 0) {
      head += places;
      at = head;
      tally.cutTo(slip.before() + 1);
    } else if (outside) {
      tally.mismatch(firstRow + row, Mismatch.Kind.VALUE_WRONG, wrong);
    } else {
      judgeTime(row);
    }
  }

  /** Whether the result at a row would be right for another case, one under way or just before. */
  private boolean isRightFor(long other, int row, long[][][] got) {
    return other >= forgotten && other < accepted && ring.expected.holds(slot(other), got, row);
  }

  /**
   * Cycles since the last in which a result is allowed to come, without those in which the consumer
   * was not ready. Of several results of a case one leaves after the other, and so they do where
   * each case has a latency of its own.
   */
  private long tooOld(int entry) {
    long sinceCase =
        now - ring.acceptedAt[entry] - (stalls - ring.stallsAt[entry]) - mostLatency(entry);
    if (oneForEach && (latencyOf == null || tag >= 0)) {
      return sinceCase;
    }
    long sinceResult = now - gaveAt - (stalls - gaveStalls) - flow.mostGap();
    return Math.min(sinceCase, sinceResult);
  }

  /** No result in this row: was one withdrawn, is one missing? */
  private void silence(int row) {
    if (stalled) {
      tally.mismatch(firstRow + row, Mismatch.Kind.WITHDRAWN_WHILE_STALLED);
      dueAt[row] = (int) at;
      stalled = false;
    } else if (head < accepted && overdue != head && tooOld(slot(head)) >= 0) {
      tally.mismatch(firstRow + row, Mismatch.Kind.VALID_MISSING);
      dueAt[row] = (int) head;
      overdue = head;
    }
  }
}
