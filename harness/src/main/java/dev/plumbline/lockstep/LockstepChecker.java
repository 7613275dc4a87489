package dev.plumbline.lockstep;

import dev.plumbline.judge.CycleTally;
import dev.plumbline.judge.Tally;
import dev.plumbline.verdict.Mismatch;
import java.util.List;

/**
 * Holds rows to what the model expects, in order, and keeps the first that diverges from it.
 *
 * <p>With cycles promised, every retirement and every result has one row to come in, and rays are
 * accepted exactly when nothing is in hand. Without, only order and values count. In the row of an
 * abort all of that may be withheld already, but what is given counts as in any other row. Rows are
 * counted from the block's start. Allocates nothing before something is wrong.
 */
final class LockstepChecker {
  /**
   * The first place where DUT and model diverge, at first sight.
   *
   * @param cycles how many cycles early
   * @param at the row of the block
   * @param ray of the block; -1 when none is in hand
   * @param record the operation that was due, or the ray for a result
   * @param role standard name of the port that shows it
   * @param output the same; null for a valid or ready
   * @param ofResult whether a result is concerned, or else an operation
   */
  record Divergence(
      Mismatch.Kind kind,
      int cycles,
      long at,
      int ray,
      int record,
      String role,
      Output output,
      boolean ofResult) {}

  private static final int NONE = -1;

  private final ExecutorColumns columns;
  private final Expectation expected;
  private final SurfaceReads surfaces;
  private final boolean timed;
  private final CycleTally promised = new CycleTally(); // by ray, to its result
  private final CycleTally taken = new CycleTally();
  private final long[] acceptedAt = new long[Block.RAYS];
  private Divergence divergence;
  private int accepted; // rays
  private int retiring; // the ray whose operations retire
  private int next; // the record that retires next
  private int resulting; // the ray whose result is awaited
  private boolean standing; // a result was offered and not taken
  private int dropped; // rays ended by a reset or an abort
  private boolean aborts; // in the row at hand
  private boolean aborted; // in the row before
  private boolean abortedRay; // there was one in hand
  private boolean wasReset; // the row before
  private int row; // at hand, within the call
  private long at; // the row at hand, within the block
  private int dueOperation; // at the row at hand
  private int dueResult;

  LockstepChecker(
      ExecutorColumns columns, Expectation expected, SurfaceReads surfaces, boolean timed) {
    this.surfaces = surfaces;
    this.columns = columns;
    this.expected = expected;
    this.timed = timed;
  }

  /** Begins a block; nothing is in hand. */
  void begin() {
    accepted = 0;
    retiring = 0;
    next = 0;
    resulting = 0;
    standing = false;
    dropped = 0;
    wasReset = false;
  }

  int accepted() {
    return accepted;
  }

  /** Rays that are over: their results were taken, or a reset dropped them. */
  int over() {
    return resulting;
  }

  int dropped() {
    return dropped;
  }

  /** Counts the cycles of the rays so far. */
  void count(Tally tally) {
    tally.promisedCycles.add(promised);
    tally.takenCycles.add(taken);
  }

  /** Where DUT and model diverge; null as long as they agree. */
  Divergence divergence() {
    return divergence;
  }

  /** What stands at the port that reads surfaces, as {@link SurfaceReads#standing} has it. */
  long[] standing() {
    return surfaces.standing();
  }

  /** In which row of the block a ray was accepted. */
  long acceptedAt(int ray) {
    return acceptedAt[ray];
  }

  /** The operation, or the ray, that the row at hand was due to show; -1 for none. */
  int due(boolean ofResult) {
    return ofResult ? dueResult : dueOperation;
  }

  /** Compares the rows of a call, up to the first that diverges. */
  void compare(long from, int count, int[] caseAtRow) {
    for (int i = 0; i < count && divergence == null; i++) {
      compareRow(from, i, caseAtRow);
    }
  }

  /**
   * Compares a row of a call. After the first that diverges nothing is found any more, but what
   * comes is still counted.
   */
  void compareRow(long from, int rowOfCall, int[] caseAtRow) {
    row = rowOfCall;
    at = from + row;
    dueOperation = NONE;
    dueResult = NONE;
    boolean ready = columns.rayReady[row] == 1;
    boolean idle = accepted == resulting;
    boolean reset = columns.reset != null && columns.reset[row] == 1;
    aborts = columns.abort != null && columns.abort[row] == 1;
    if (!reset) {
      int over = resulting;
      if (columns.retireValid != null) {
        retirement();
      }
      result();
      resulting = aborts ? over : resulting; // dropped, though it was taken
      boolean mayBeEither = (aborted && !abortedRay) || (aborts && !ready);
      if (timed && ready != (idle && !aborted) && !mayBeEither) {
        diverge(Mismatch.Kind.VALUE_WRONG, 0, "ray_ready", null, true);
      }
    }
    if (reset && wasReset) {
      silence();
    }
    surfaces.see(row);
    if (ready && caseAtRow[row] >= 0) {
      acceptedAt[accepted++] = at;
    }
    wasReset = reset;
    aborted = aborts;
    abortedRay = aborts && accepted > resulting;
    if (reset || aborts) {
      dropped += accepted - resulting;
      resulting = accepted;
      retiring = accepted;
      next = expected.first(accepted);
      standing = false;
    }
  }

  /** A reset of one cycle empties the executor: in its second cycle nothing is valid any more. */
  private void silence() {
    if (columns.retireValid != null && columns.retireValid[row] == 1) {
      diverge(Mismatch.Kind.VALID_WITHOUT_CASE, 0, "retire_valid", null, false);
    }
    if (columns.resultValid[row] == 1) {
      diverge(Mismatch.Kind.VALID_WITHOUT_CASE, 0, "result_valid", null, true);
    }
  }

  private void retirement() {
    boolean awaited = retiring < accepted;
    long due = timed && awaited ? acceptedAt[retiring] + expected.cycle(next) : at;
    if (columns.retireValid[row] == 0) {
      if (timed && awaited && at == due && !aborts) {
        dueOperation = next;
        diverge(Mismatch.Kind.VALID_MISSING, 0, "retire_valid", null, false);
      }
      return;
    }
    if (!awaited) {
      diverge(Mismatch.Kind.VALID_WITHOUT_CASE, 0, "retire_valid", null, false);
      return;
    }
    dueOperation = next;
    requireValues(columns.retired, next, Mismatch.Kind.VALUE_WRONG, false);
    if (at < due) {
      diverge(Mismatch.Kind.EARLY, (int) (due - at), "retire_valid", null, false);
    }
    next++;
    retiring += next == expected.past(retiring) ? 1 : 0;
  }

  private void result() {
    boolean awaited = resulting < (columns.retireValid == null ? accepted : retiring);
    boolean first = timed && awaited && !standing;
    long due = first ? acceptedAt[resulting] + expected.cycles(resulting) : at;
    if (columns.resultValid[row] == 0) {
      if (aborts) {
        return;
      }
      if (standing) {
        dueResult = resulting;
        diverge(Mismatch.Kind.WITHDRAWN_WHILE_STALLED, 0, "result_valid", null, true);
      } else if (first && at == due) {
        dueResult = resulting;
        diverge(Mismatch.Kind.VALID_MISSING, 0, "result_valid", null, true);
      }
      return;
    }
    if (!awaited) {
      diverge(Mismatch.Kind.VALID_WITHOUT_CASE, 0, "result_valid", null, true);
      return;
    }
    dueResult = resulting;
    if (first) {
      promised.add(expected.cycles(resulting));
      taken.add(at - acceptedAt[resulting]);
    }
    surfaces.expect(row, resulting);
    requireValues(
        columns.results,
        resulting,
        standing ? Mismatch.Kind.CHANGED_WHILE_STALLED : Mismatch.Kind.VALUE_WRONG,
        true);
    if (at < due) {
      diverge(Mismatch.Kind.EARLY, (int) (due - at), "result_valid", null, true);
    }
    standing = columns.resultReady != null && columns.resultReady[row] == 0;
    resulting += standing ? 0 : 1;
  }

  private void requireValues(
      List<Output> outputs, int record, Mismatch.Kind otherwise, boolean ofResult) {
    for (int i = 0; i < outputs.size(); i++) {
      Output output = outputs.get(i);
      if (!output.matches(row, record)) {
        diverge(otherwise, 0, output.promise.role(), output, ofResult);
        return;
      }
    }
  }

  /** The first time counts. */
  private void diverge(
      Mismatch.Kind kind, int cycles, String role, Output output, boolean ofResult) {
    if (divergence == null) {
      int ray = ofResult ? resulting : retiring;
      int record = ofResult ? resulting : next;
      divergence =
          new Divergence(
              kind, cycles, at, ray < accepted ? ray : NONE, record, role, output, ofResult);
    }
  }

  /** Rays were offered and results taken in every row, and nothing came of it for very long. */
  void stuck() {
    boolean idle = accepted == resulting;
    diverge(
        idle ? Mismatch.Kind.NEVER_READY : Mismatch.Kind.VALID_MISSING,
        0,
        idle ? "ray_ready" : "result_valid",
        null,
        true);
  }
}
