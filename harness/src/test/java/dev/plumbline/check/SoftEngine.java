package dev.plumbline.check;

import dev.plumbline.drive.Engine;
import dev.plumbline.drive.Handshake;
import java.util.HashMap;
import java.util.Map;
import java.util.Set;

/**
 * Runs a DUT in software as the checker sees any DUT. The pin of a port's further words has their
 * number behind its name, such as {@code in_word.1}.
 */
public final class SoftEngine implements Engine {
  private final SoftDut dut;
  private final Handshake handshake; // null where every input stays with its row
  private final int most;
  private final Map<String, long[]> outputs = new HashMap<>();
  private final Map<String, long[]> byRow = new HashMap<>(); // inputs that stay with the row
  private final Map<String, long[]> byCase = new HashMap<>();
  private final int[] caseAtRow;
  private final Pins pins = new Pins();
  boolean closed;

  public SoftEngine(SoftDut dut, Set<String> outputs, Opening opening) {
    this.dut = dut;
    this.handshake = opening.handshake().orElse(null);
    this.most = opening.rows();
    this.caseAtRow = new int[most];
    outputs.forEach(port -> this.outputs.put(port, new long[most]));
  }

  @Override
  public long[] column(String port, int word) {
    String pin = word == 0 ? port : port + "." + word;
    if (outputs.containsKey(pin)) {
      return outputs.get(pin);
    }
    boolean waits = handshake != null && !handshake.byRow().contains(port);
    return (waits ? byCase : byRow).computeIfAbsent(pin, name -> new long[most]);
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
  public int runStream(int rows, int first, int changed, int cases) {
    long[] valid = column(handshake.valid(), 0);
    int next = first;
    boolean offering = false;
    for (int row = 0; row < rows; row++) {
      offering = next < cases && (offering || valid[row] != 0);
      caseAtRow[row] = offering ? next : -1;
      present(row, Math.min(next, most - 1));
      pins.set(handshake.valid(), offering);
      dut.settle(pins);
      sample(row);
      if (offering && pins.isHigh(handshake.ready())) {
        next++;
        offering = false;
      }
      dut.edge(pins);
    }
    return next - first;
  }

  private void present(int row, int caseRow) {
    byRow.forEach((pin, column) -> pins.set(pin, column[row]));
    byCase.forEach((pin, column) -> pins.set(pin, column[caseRow]));
  }

  private void sample(int row) {
    outputs.forEach((pin, column) -> column[row] = pins.get(pin));
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
