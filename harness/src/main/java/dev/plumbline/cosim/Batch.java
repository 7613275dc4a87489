package dev.plumbline.cosim;

import dev.plumbline.rtl.Port;
import java.nio.ByteBuffer;
import java.nio.LongBuffer;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * Rows for a DUT: a column of {@code long} for each port, filled and read in place.
 *
 * <pre>{@code
 * Batch batch = dut.batch(1024);
 * long[] x = batch.column("in_x");      // fill it
 * dut.run(batch, 1024);
 * long[] y = batch.column("out_y");     // read it
 * }</pre>
 *
 * <p>A port of at most 64 bits has one column, a wider one a column for each word. Bits beyond a
 * port's width are ignored in input columns; output columns are extended by sign or zero. An output
 * column first asked for after a run has what that run sampled. An input column is zero at first;
 * one that was never asked for has what {@link Dut#set} gave it. Belongs to one DUT.
 */
public final class Batch {
  private final Dut dut;
  private final PortColumns columns;
  private final boolean[] driven;
  private final int rows;
  private final int stride;
  private final LiveDesign instance;
  private final LiveDesign.Memory memory;
  private final LongBuffer words;
  private final boolean[] input;
  private final long[][] asked;
  private final long[] held;
  private final Map<String, long[]> inside = new LinkedHashMap<>(); // "path" or "path 1" by word
  private Watch watch; // of them, in the run under way

  private int valid = -1;
  private int ready = -1;
  private LiveDesign.Memory byRowMemory;
  private ByteBuffer byRow;
  private LiveDesign.Memory caseMemory;
  private int[] caseAtRow = {};
  private int accepted;
  private int begin; // of the cases of the next run
  private int fresh; // from there on their columns have changed
  private boolean released;

  Batch(Dut dut, LiveDesign instance, PortColumns columns, boolean[] driven, int rows) {
    int most = Integer.MAX_VALUE / Long.BYTES / Math.max(1, columns.count()) - 16;
    if (rows < 1 || rows > most) {
      throw new IllegalArgumentException(
          "A batch of " + rows + " rows; allowed is 1 to " + most + ".");
    }
    this.dut = dut;
    this.instance = instance;
    this.columns = columns;
    this.driven = driven;
    this.rows = rows;
    // A cache line more than the rows: columns a power of two apart would share few cache sets.
    this.stride = (rows + 7) / 8 * 8 + 8;
    this.memory = instance.memory(Math.max(1, columns.count()) * stride * Long.BYTES);
    this.words = memory.bytes().asLongBuffer();
    this.asked = new long[columns.count()][];
    this.held = new long[columns.count()];
    this.input = new boolean[columns.count()];
    for (PortColumns.Slice place : columns.ports()) {
      for (int i = 0; i < place.count(); i++) {
        input[place.first() + i] = place.isInput();
      }
    }
  }

  /**
   * The column of a port of at most 64 bits, or the lowest word of a wider one. In a probe build
   * ({@link CompiledDesign#withInternals}) also of a signal inside the design, which has the values
   * that it had when outputs were sampled, from the next run on.
   *
   * @param port a port, or an element of one such as {@code table[3]}; or a signal inside by its
   *     hierarchical name
   * @return the column itself, one value a row
   * @throws PortException when there is no such port, it is a whole array, or driven as a clock
   */
  public long[] column(String port) {
    return column(port, 0);
  }

  /**
   * A word of a port.
   *
   * @param port a port, or an element of one
   * @param word the word, 0 is the lowest
   * @return the column itself, one value a row
   * @throws PortException when there is no such port or word, it is a whole array, or driven as a
   *     clock
   */
  public long[] column(String port, int word) {
    if (!columns.has(port) && dut.isInside(port)) {
      return inside.computeIfAbsent(port + " " + word, key -> new long[rows]);
    }
    PortColumns.Slice place = columns.find(port, dut.mayLookInside());
    int size = place.port().words();
    if (place.count() != size) {
      throw new PortException(
          "Port \"" + port + "\" is an array; name an element, as in column(\"" + port + "[0]\")");
    }
    if (word < 0 || word >= size) {
      throw new PortException(
          "Port \"" + port + "\" has no word " + word + "; allowed is 0 to " + (size - 1));
    }
    int index = place.first() + word;
    if (driven[index]) {
      throw new PortException(
          "Port \"" + port + "\" is driven as a clock and has no column; take another port");
    }
    if (asked[index] == null) {
      requireUse();
      asked[index] = new long[rows];
      if (!input[index]) {
        words.get(index * stride, asked[index]);
      }
    }
    return asked[index];
  }

  /**
   * Makes runs of this batch wait for the DUT. The valid column then is an offer for each row: once
   * it offers, the offer stands until valid and ready are both sampled high, which takes the case.
   * All other input columns are read by case instead of by row: the case on offer, or the next one
   * to be offered. An offer that a run leaves standing is on offer again at the next run's first
   * row, as its case 0.
   *
   * @param validPort the input that says a case is on offer
   * @param readyPort the output that says it can be taken
   * @param readByRow input ports that are read by row all the same
   * @throws PortException when a port is not there or has not one bit
   */
  public void handshake(String validPort, String readyPort, String... readByRow) {
    PortColumns.Slice offer = columns.find(validPort);
    if (!offer.isBit()) {
      throw new PortException(
          "Port \"" + validPort + "\" cannot be a valid; wanted is an input of one bit");
    }
    PortColumns.Slice result = columns.find(readyPort);
    if (result.port().direction() != Port.Direction.OUTPUT
        || result.port().width() != 1
        || result.count() != 1) {
      throw new PortException(
          "Port \"" + readyPort + "\" cannot be a ready; wanted is an output of one bit");
    }
    column(validPort);
    valid = offer.first();
    ready = result.first();
    byRowMemory = instance.memory(columns.count());
    byRow = byRowMemory.bytes();
    caseMemory = instance.memory(4 * rows);
    caseAtRow = new int[rows];
    for (int i = 0; i < columns.count(); i++) {
      byRow.put(i, (byte) (input[i] ? 0 : 1));
    }
    byRow.put(valid, (byte) 1);
    for (String port : readByRow) {
      PortColumns.Slice place = columns.find(port);
      for (int i = 0; i < place.count(); i++) {
        byRow.put(place.first() + i, (byte) 1);
      }
    }
  }

  /**
   * Has the next run with a handshake begin at a later case, as where those before were taken. That
   * run alone: others begin at case 0.
   *
   * @param first its first case, 0 or more
   * @param changed from this case on the columns have changed since the run before, or all that
   *     are; 0 or more
   */
  public void resume(int first, int changed) {
    if (first < 0 || changed < 0) {
      throw new IllegalArgumentException(
          "A run from case "
              + first
              + ", changed from case "
              + changed
              + "; allowed is 0 or more.");
    }
    begin = first;
    fresh = changed;
  }

  /**
   * How many cases the latest run with a handshake took.
   *
   * @return the number
   */
  public int accepted() {
    return accepted;
  }

  /**
   * Which case was on offer at each row of the latest run with a handshake.
   *
   * @return the array itself: a case, or -1 where none was offered
   */
  public int[] caseAtRow() {
    return caseAtRow;
  }

  /**
   * The most rows that a run can have.
   *
   * @return 1 or more
   */
  public int rows() {
    return rows;
  }

  void requireOf(Dut other, int count) {
    if (dut != other) {
      throw new IllegalArgumentException(
          "This batch belongs to another DUT; run it on the one that made it.");
    }
    requireUse();
    if (count < 0 || count > rows) {
      throw new IllegalArgumentException(count + " rows; allowed is 0 to " + rows + ".");
    }
  }

  private void requireUse() {
    if (released) {
      throw new IllegalStateException(
          "This batch was released; ask the DUT for another, or release it later.");
    }
  }

  void requireCases(int count) {
    if (byRow == null) {
      throw new IllegalStateException(
          "A run with cases needs to know valid and ready; call Batch.handshake first.");
    }
    if (count < begin || count > rows) {
      throw new IllegalArgumentException(
          count + " cases; allowed is " + begin + " to " + rows + ".");
    }
  }

  /**
   * Gives its memory to the next batch of this thread, as of many DUTs in turn. Its columns stay as
   * they are; it is run no more, and no further column is asked for.
   */
  public void release() {
    if (!released) {
      released = true;
      instance.release(memory);
    }
  }

  /** Has signals inside recorded, where columns of some were asked for. */
  void beginWatch() {
    if (!inside.isEmpty()) {
      List<String> names = inside.keySet().stream().map(Batch::name).distinct().toList();
      watch = dut.watch(names, dut.cyclesRun(), rows);
    }
  }

  private static String name(String key) {
    return key.substring(0, key.lastIndexOf(' '));
  }

  private void endWatch() {
    List<String> names = inside.keySet().stream().map(Batch::name).distinct().toList();
    inside.forEach(
        (key, column) -> {
          int word = Integer.parseInt(key.substring(key.lastIndexOf(' ') + 1));
          long[] recorded = watch.column(names.indexOf(name(key)), word);
          System.arraycopy(recorded, 0, column, 0, recorded.length);
        });
  }

  /** Copies the input columns, and fills those never asked for with what their port holds. */
  void toNative(LongBuffer slots, int count, int cases) {
    for (int i = 0; i < asked.length; i++) {
      if (!input[i] || driven[i]) {
        continue;
      }
      if (asked[i] != null) {
        boolean isByRow = byRow == null || byRow.get(i) != 0;
        int from = isByRow ? 0 : Math.min(fresh, cases);
        words.put(i * stride + from, asked[i], from, (isByRow ? count : cases) - from);
      } else if (held[i] != slots.get(i)) {
        held[i] = slots.get(i);
        for (int row = 0; row < rows; row++) {
          words.put(i * stride + row, held[i]);
        }
      }
    }
  }

  /** Copies the output columns asked for, and lets the ports have what the last row had. */
  void fromNative(LongBuffer slots, int count, int cases) {
    if (watch != null) {
      endWatch();
    }
    for (int i = 0; i < asked.length; i++) {
      if (!input[i] && asked[i] != null) {
        words.get(i * stride, asked[i], 0, count);
      }
      boolean byCase = byRow != null && byRow.get(i) == 0;
      int last = (byCase ? Math.min(begin + accepted + 1, cases) : count) - 1;
      if (last >= 0 && !driven[i]) {
        slots.put(i, words.get(i * stride + last));
      }
    }
    for (PortColumns.Slice place : columns.ports()) {
      if (place.isInput()) {
        Values.trim(place, slots);
      }
    }
    begin = 0;
    fresh = 0;
  }

  int begin() {
    return begin;
  }

  void taken(int next, int count) {
    accepted = next - begin;
    caseMemory.bytes().asIntBuffer().get(0, caseAtRow, 0, count);
  }

  LiveDesign.Memory memory() {
    return memory;
  }

  int stride() {
    return stride;
  }

  int valid() {
    return valid;
  }

  int ready() {
    return ready;
  }

  LiveDesign.Memory byRow() {
    return byRowMemory;
  }

  LiveDesign.Memory caseMemory() {
    return caseMemory;
  }
}
