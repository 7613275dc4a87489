package dev.plumbline.window;

import dev.plumbline.contract.Flow;
import dev.plumbline.cosim.DutEndedException;
import dev.plumbline.cosim.DutEndedException.Kind;
import dev.plumbline.cosim.DutException;
import dev.plumbline.drive.Binding;
import dev.plumbline.drive.Feed;
import dev.plumbline.drive.Hookup;
import dev.plumbline.drive.OutputCheck;
import dev.plumbline.judge.Checker;
import dev.plumbline.judge.ContractRunner;
import dev.plumbline.judge.Expectations;
import dev.plumbline.judge.Slip;
import dev.plumbline.judge.StreamChecker;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.verdict.Row;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.NavigableMap;
import java.util.Set;
import java.util.TreeMap;

/**
 * Records the rows around given ones while a segment is run again, and those at which the cases of
 * the given ones went in, however long before.
 */
public final class WindowRecorder implements ContractRunner.Watcher {
  private final Binding binding;
  private final long[] centres;
  private final int reach;
  private final NavigableMap<Long, Row> rows = new TreeMap<>();
  private final Map<Long, Row> origins = new HashMap<>(); // by case
  private final NavigableMap<Long, Row> underWay = new TreeMap<>(); // by case: where it went in
  private long[] caseOfRow = new long[4 * Feed.BLOCK]; // of a fixed latency: case offered, or -1
  private long offered; // cases taken or given up before the row at hand

  public WindowRecorder(Binding binding, long[] centres, int reach) {
    this.binding = binding;
    this.centres = centres;
    this.reach = reach;
  }

  /** What was recorded, by cycle. */
  public NavigableMap<Long, Row> rows() {
    return rows;
  }

  /** Rows at which the cases of the given rows went in, by case. */
  public Map<Long, Row> origins() {
    return origins;
  }

  @Override
  public void block(long firstRow, Feed feed, Checker checker) {
    offered += feed.givenUp();
    if (firstRow + feed.rows > caseOfRow.length) {
      caseOfRow = Arrays.copyOf(caseOfRow, 2 * caseOfRow.length);
    }
    for (int row = 0; row < feed.rows; row++) {
      long caseIn = feed.isOffered(row) ? feed.segment().firstCase() + offered : -1;
      offered += feed.isTaken(row) ? 1 : 0;
      caseOfRow[(int) (firstRow + row)] = caseIn;
      if (isNear(firstRow + row)) {
        rows.put(firstRow + row, record(firstRow, row, caseIn, feed, checker));
      }
    }
    keepOrigins(firstRow, feed, checker);
  }

  /**
   * Of the cases taken, those whose results come in this block at a given row are kept, and those
   * whose results come later are kept in mind.
   */
  private void keepOrigins(long firstRow, Feed feed, Checker checker) {
    if (binding.isFixed() && isLongBefore(firstRow + feed.rows)) {
      return;
    }
    Set<Long> wanted = new HashSet<>();
    for (long centre : centres) {
      Row row = rows.get(centre);
      if (centre >= firstRow && row != null) { // within this block: later ones are not there yet
        wanted.add(row.caseOut());
      }
    }
    Flow flow = binding.contract().flow();
    long later = binding.isFixed() ? flow.mostLatency() : checker.outstanding() + Slip.FARTHEST;
    int taken = 0;
    for (int row = feed.rows - 1; row >= 0; row--) {
      if (feed.isTaken(row)) {
        long caseIn = caseOfRow[(int) firstRow + row];
        if (taken++ < later || wanted.contains(caseIn)) {
          underWay.put(caseIn, record(firstRow, row, caseIn, feed, checker));
        }
      }
    }
    for (long number : wanted) {
      if (underWay.containsKey(number)) {
        origins.put(number, underWay.get(number));
      }
    }
    while (underWay.size() > later) {
      underWay.pollFirstEntry();
    }
  }

  /** Whether results of what went in before a row of a fixed latency all come before given rows. */
  private boolean isLongBefore(long end) {
    int latency = binding.rowsOf(binding.contract().flow().mostLatency());
    for (long centre : centres) {
      if (centre < end + latency) {
        return false;
      }
    }
    return true;
  }

  /** What comes after the last window was seen by the run before, and is of no more use. */
  @Override
  public boolean wantsMore(long rowsSoFar) {
    for (long centre : centres) {
      if (rowsSoFar <= centre + reach) {
        return true;
      }
    }
    return false;
  }

  /**
   * The rows before the end are looked at as ever. Of the one in which the DUT ended only what it
   * was given is known.
   */
  @Override
  public void ended(long firstRow, Feed feed, Checker checker, DutException end) {
    long whole = end instanceof DutEndedException ended && ended.kind() == Kind.FINISH ? 1 : 0;
    int planned = feed.rows;
    long completed = Math.min(planned, end.cycle() + whole - firstRow);
    if (completed < 0) {
      return; // opening it went wrong
    }
    feed.rows = (int) completed;
    if (completed > 0) {
      checker.block(feed);
      block(firstRow, feed, checker);
    }
    long last = firstRow + completed - 1;
    if (whole > 0) {
      rows.computeIfPresent(last, (cycle, row) -> row.withVerdict(endOf(row)));
    } else if (completed < planned) {
      int row = (int) completed;
      long caseIn = feed.isOffered(row) ? feed.segment().firstCase() + offered : -1;
      rows.put(last + 1, new GivenRow(binding, feed).at(last + 1, row, caseIn));
    }
  }

  private static String endOf(Row row) {
    return row.verdict().isEmpty() || row.verdict().equals("ok")
        ? GivenRow.VERDICT
        : row.verdict() + "; " + GivenRow.VERDICT;
  }

  private boolean isNear(long row) {
    for (long centre : centres) {
      if (Math.abs(row - centre) <= reach) {
        return true;
      }
    }
    return false;
  }

  private Row record(long firstRow, int row, long caseIn, Feed feed, Checker checker) {
    Hookup dut = feed.to;
    int inputRow = feed.inputsAt(row);
    List<BigInteger> controls = new ArrayList<>(feed.clocksAt(row));
    for (long[] column :
        new long[][] {dut.reset, dut.inValid, dut.inReady, dut.outValid, dut.outReady}) {
      if (column != null) {
        controls.add(BigInteger.valueOf(column[row]));
      }
    }
    List<BigInteger> inputs = new ArrayList<>();
    if (inputRow >= 0) {
      List<Operand> operands = binding.layout().inputs();
      for (int i = 0; i < operands.size(); i++) {
        inputs.add(Hookup.code(operands.get(i), dut.inputs[i], inputRow));
      }
    }
    List<BigInteger> outputs = new ArrayList<>();
    List<BigInteger> low = new ArrayList<>();
    List<BigInteger> high = new ArrayList<>();
    List<Boolean> wrong = new ArrayList<>();
    OutputCheck[] checks = binding.checks();
    int entry = checker.entry(row);
    Expectations expected = checker.expected();
    for (int c = 0; c < checks.length; c++) {
      Operand operand = checks[c].operand();
      outputs.add(Hookup.code(operand, dut.outputs[c], row));
      if (entry >= 0) {
        boolean held = checks[c].counts(dut.outputs, row) && !checks[c].isDecided(dut.outputs, row);
        BigInteger otherwise = held ? BigInteger.valueOf(checks[c].otherwise()) : null;
        low.add(held ? otherwise : Hookup.code(operand, expected.low[c], entry));
        high.add(held ? otherwise : Hookup.code(operand, expected.high[c], entry));
        wrong.add(expected.isWrong(c, entry, dut.outputs, row));
      }
    }
    long caseOut = entry < 0 ? -1 : caseOut(firstRow + row, row, feed, checker);
    String verdict = feed.reset[row] != 0 ? "reset" : entry < 0 ? "" : "ok";
    return new Row(
        firstRow + row, caseIn, caseOut, controls, inputs, outputs, low, high, wrong, verdict);
  }

  private long caseOut(long at, int row, Feed feed, Checker checker) {
    return checker instanceof StreamChecker stream
        ? feed.segment().firstCase() + stream.dueCase(row)
        : caseOfRow[(int) at - binding.contract().flow().mostLatency()];
  }
}
