package dev.plumbline.lockstep;

import dev.plumbline.verdict.Mismatch;
import java.util.List;

/**
 * Holds rows to what the model expects, in order, and stops at the first that parts from it.
 *
 * <p>With cycles promised, every retirement and every result has one row to come in, and rays are
 * accepted exactly when nothing is in hand. Without, only order and values count. Rows are counted
 * from the block's start. Allocates nothing before something is wrong.
 */
final class LockstepChecker {
  /**
   * The first place where DUT and model part.
   *
   * @param cycles how many cycles early or late
   * @param at the row of the block
   * @param row the same within the call
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
      int row,
      int ray,
      int record,
      String role,
      Output output,
      boolean ofResult) {}

  private static final int FARTHEST = 64;

  private final ExecutorColumns columns;
  private final Expectation expected;
  private final boolean timed;
  private final long[] acceptedAt = new long[Block.RAYS];
  private Divergence divergence;
  private int accepted; // rays
  private int retiring; // the ray whose operations retire
  private int next; // the record that retires next
  private int resulting; // the ray whose result is awaited
  private boolean standing; // a result was offered and not taken
  private int dropped; // rays ended by a reset
  private int row; // at hand, within the call
  private int rows; // of the call
  private long at; // the row at hand, within the block

  LockstepChecker(ExecutorColumns columns, Expectation expected, boolean timed) {
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

  /** Where DUT and model part; null as long as they agree. */
  Divergence divergence() {
    return divergence;
  }

  /** In which row of the block a ray was accepted. */
  long acceptedAt(int ray) {
    return acceptedAt[ray];
  }

  /** Compares the rows of a call. */
  void compare(long from, int count, int[] caseAtRow) {
    rows = count;
    for (row = 0; row < count && divergence == null; row++) {
      at = from + row;
      boolean takes = caseAtRow[row] >= 0 && columns.rayReady[row] == 1;
      boolean idle = accepted == resulting;
      boolean reset = columns.reset != null && columns.reset[row] == 1;
      if (!reset) {
        compareRow(idle);
      }
      if (takes) {
        acceptedAt[accepted++] = at;
      }
      if (reset) {
        dropped += accepted - resulting;
        resulting = accepted;
        retiring = accepted;
        next = expected.first(accepted);
        standing = false;
      }
    }
  }

  private void compareRow(boolean idle) {
    if (columns.retireValid != null) {
      retirement();
    }
    if (divergence == null) {
      result();
    }
    if (divergence == null && timed && (columns.rayReady[row] == 1) != idle) {
      part(Mismatch.Kind.VALUE_WRONG, 0, row, "ray_ready", null, true);
    }
  }

  private void retirement() {
    boolean awaited = retiring < accepted;
    long due = timed && awaited ? acceptedAt[retiring] + expected.cycle(next) : at;
    if (columns.retireValid[row] == 0) {
      if (timed && awaited && at == due) {
        missing("retire_valid", false);
      }
    } else if (!awaited) {
      part(Mismatch.Kind.VALID_WITHOUT_CASE, 0, row, "retire_valid", null, false);
    } else if (valuesAgree(false)) {
      if (at < due) {
        part(Mismatch.Kind.EARLY, (int) (due - at), row, "retire_valid", null, false);
        return;
      }
      next++;
      retiring += next == expected.past(retiring) ? 1 : 0;
    }
  }

  private void result() {
    boolean awaited = resulting < (columns.retireValid == null ? accepted : retiring);
    boolean first = timed && awaited && !standing;
    long due = first ? acceptedAt[resulting] + expected.cycles(resulting) : at;
    if (columns.resultValid[row] == 0) {
      if (standing) {
        part(Mismatch.Kind.WITHDRAWN_WHILE_STALLED, 0, row, "result_valid", null, true);
      } else if (first && at == due) {
        missing("result_valid", true);
      }
    } else if (!awaited) {
      part(Mismatch.Kind.VALID_WITHOUT_CASE, 0, row, "result_valid", null, true);
    } else if (valuesAgree(true)) {
      if (at < due) {
        part(Mismatch.Kind.EARLY, (int) (due - at), row, "result_valid", null, true);
        return;
      }
      standing = columns.resultReady != null && columns.resultReady[row] == 0;
      resulting += standing ? 0 : 1;
    }
  }

  private boolean valuesAgree(boolean ofResult) {
    List<Output> outputs = ofResult ? columns.results : columns.retired;
    int record = ofResult ? resulting : next;
    for (int i = 0; i < outputs.size(); i++) {
      Output output = outputs.get(i);
      if (!output.matches(row, record)) {
        Mismatch.Kind kind =
            ofResult && standing ? Mismatch.Kind.CHANGED_WHILE_STALLED : Mismatch.Kind.VALUE_WRONG;
        part(kind, 0, row, output.promise.role(), output, ofResult);
        return false;
      }
    }
    return true;
  }

  /** What is due does not come: it may come later. */
  private void missing(String role, boolean ofResult) {
    long[] valid = ofResult ? columns.resultValid : columns.retireValid;
    int later = row + 1;
    while (later < rows && later < row + FARTHEST && valid[later] == 0) {
      later++;
    }
    int there = later;
    int record = ofResult ? resulting : next;
    boolean same =
        there < rows
            && valid[there] == 1
            && (ofResult ? columns.results : columns.retired)
                .stream().allMatch(output -> output.matches(there, record));
    if (same) {
      part(Mismatch.Kind.LATE, there - row, there, role, null, ofResult);
    } else {
      part(Mismatch.Kind.VALID_MISSING, 0, row, role, null, ofResult);
    }
  }

  private void part(
      Mismatch.Kind kind, int cycles, int where, String role, Output output, boolean ofResult) {
    int ray = ofResult ? resulting : retiring;
    divergence =
        new Divergence(
            kind,
            cycles,
            at + where - row,
            where,
            ray < accepted ? ray : -1,
            ofResult ? resulting : next,
            role,
            output,
            ofResult);
  }

  /** Rays were offered and results taken in every row, and nothing came of it for very long. */
  void stuck(long lastAt, int lastRow) {
    at = lastAt;
    row = lastRow;
    if (accepted == resulting) {
      part(Mismatch.Kind.NEVER_READY, 0, row, "ray_ready", null, true);
    } else {
      part(Mismatch.Kind.VALID_MISSING, 0, row, "result_valid", null, true);
    }
  }
}
