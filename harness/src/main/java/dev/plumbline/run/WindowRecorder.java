package dev.plumbline.run;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.verdict.Row;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.NavigableMap;
import java.util.TreeMap;

/** Records the rows around given ones while a segment is run again. */
final class WindowRecorder implements ContractRunner.Watcher {
  private final Binding binding;
  private final long[] centres;
  private final int reach;
  private final NavigableMap<Long, Row> rows = new TreeMap<>();
  private long[] caseOfRow = new long[4 * Feed.BLOCK]; // of a fixed latency: case offered, or -1
  private long offered; // cases taken or given up before the row at hand

  WindowRecorder(Binding binding, long[] centres, int reach) {
    this.binding = binding;
    this.centres = centres;
    this.reach = reach;
  }

  /** What was recorded, by cycle. */
  NavigableMap<Long, Row> rows() {
    return rows;
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
        record(firstRow, row, caseIn, feed, checker);
      }
    }
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

  private boolean isNear(long row) {
    for (long centre : centres) {
      if (Math.abs(row - centre) <= reach) {
        return true;
      }
    }
    return false;
  }

  private void record(long firstRow, int row, long caseIn, Feed feed, Checker checker) {
    Hookup dut = feed.to;
    int inputRow = feed.inputsAt(row);
    List<BigInteger> controls = new ArrayList<>();
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
        inputs.add(code(operands.get(i), dut.inputs[i], inputRow));
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
      outputs.add(code(operand, dut.outputs[c], row));
      if (entry >= 0) {
        boolean held = checks[c].counts(dut.outputs, row) && !checks[c].isDecided(dut.outputs, row);
        BigInteger otherwise = held ? BigInteger.valueOf(checks[c].otherwise()) : null;
        low.add(held ? otherwise : code(operand, expected.low[c], entry));
        high.add(held ? otherwise : code(operand, expected.high[c], entry));
        wrong.add(expected.isWrong(c, entry, dut.outputs, row));
      }
    }
    long caseOut = entry < 0 ? -1 : caseOut(firstRow + row, row, feed, checker);
    String verdict = feed.reset[row] != 0 ? "reset" : entry < 0 ? "" : "ok";
    rows.put(
        firstRow + row,
        new Row(
            firstRow + row, caseIn, caseOut, controls, inputs, outputs, low, high, wrong, verdict));
  }

  private long caseOut(long at, int row, Feed feed, Checker checker) {
    return checker instanceof StreamChecker stream
        ? feed.segment().firstCase() + stream.dueCase(row)
        : caseOfRow[(int) at - binding.contract().flow().mostLatency()];
  }

  private static BigInteger code(Operand operand, long[][] columns, int row) {
    long[] words = new long[columns.length];
    for (int word = 0; word < words.length; word++) {
      words[word] = columns[word][row];
    }
    return operand.format().fromWords(words);
  }
}
