package dev.plumbline.check;

import dev.plumbline.run.Engine;
import dev.plumbline.run.Feed;
import java.util.HashMap;
import java.util.Map;
import java.util.Set;

/** Runs a DUT in software as the checker sees any DUT. One word a port. */
public final class SoftEngine implements Engine {
  private final SoftDut dut;
  private final Set<String> outputs;
  private final Set<String> byRow; // inputs that stay with the row in a stream
  private final Map<String, long[]> columns = new HashMap<>();
  private final int[] caseAtRow = new int[Feed.BLOCK];
  private final Pins pins = new Pins();
  boolean closed;

  public SoftEngine(SoftDut dut, Set<String> outputs, Set<String> byRow) {
    this.dut = dut;
    this.outputs = outputs;
    this.byRow = byRow;
  }

  @Override
  public long[] column(String port, int word) {
    if (word != 0) {
      throw new IllegalArgumentException("one word a port here");
    }
    return columns.computeIfAbsent(port, name -> new long[Feed.BLOCK]);
  }

  @Override
  public void run(int rows) {
    for (int row = 0; row < rows; row++) {
      present(row, row);
      dut.settle(pins);
      sample(row);
      dut.edge(pins);
    }
  }

  @Override
  public int runStream(int rows, int cases) {
    int next = 0;
    boolean offering = false;
    for (int row = 0; row < rows; row++) {
      offering = next < cases && (offering || column("in_valid", 0)[row] != 0);
      caseAtRow[row] = offering ? next : -1;
      present(row, Math.min(next, Feed.BLOCK - 1));
      pins.set("in_valid", offering);
      dut.settle(pins);
      sample(row);
      if (offering && pins.isHigh("in_ready")) {
        next++;
        offering = false;
      }
      dut.edge(pins);
    }
    return next;
  }

  private void present(int row, int caseRow) {
    columns.forEach(
        (port, column) -> {
          if (!outputs.contains(port)) {
            pins.set(port, column[byRow.contains(port) ? row : caseRow]);
          }
        });
  }

  private void sample(int row) {
    for (String port : outputs) {
      column(port, 0)[row] = pins.get(port);
    }
  }

  @Override
  public int[] caseAtRow() {
    return caseAtRow;
  }

  @Override
  public String text() {
    return "";
  }

  @Override
  public void close() {
    closed = true;
  }
}
