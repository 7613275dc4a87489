package dev.plumbline.lockstep;

import java.util.Arrays;

/**
 * Something that the description of an executor defines by cycle, such as the number of operations
 * under way: its bits over the rows of a window, where it is defined.
 */
final class Quantity {
  /** In which cycles a signal may have it, counted from its own. */
  record Delays(int least, int most) {}

  /** Where it stands in the flow of an operation, what is earlier first. */
  enum Flow {
    RAY,
    PREDICTION,
    FETCH,
    FLIGHT,
    QUEUE,
    RETIREMENT,
    STACK,
    BEST,
    COUNTS,
    RESULT
  }

  final Flow flow;
  final String name;
  final int bits;
  final Delays delays;
  final String role; // of the port that shows it in its own cycle; empty for none
  final int element; // of that port
  private final long mask;
  private long[] values = new long[0];
  private boolean[] defined = new boolean[0];
  private int rows;
  private int[] before; // in how many rows it is defined before each; null where not counted

  Quantity(Flow flow, String name, int bits, Delays delays, String role, int element) {
    this.flow = flow;
    this.name = name;
    this.bits = bits;
    this.delays = delays;
    this.role = role;
    this.element = element;
    this.mask = bits == Long.SIZE ? -1 : (1L << bits) - 1;
  }

  /** Defines it in a row of the window; rows before the window are passed over. */
  void set(long row, long value) {
    if (row < 0) {
      return;
    }
    int at = Math.toIntExact(row);
    if (at >= values.length) {
      values = Arrays.copyOf(values, Math.max(1024, 2 * (at + 1)));
      defined = Arrays.copyOf(defined, values.length);
    }
    values[at] = value & mask;
    defined[at] = true;
    rows = Math.max(rows, at + 1);
    before = null;
  }

  void set(long row, boolean value) {
    set(row, value ? 1 : 0);
  }

  /** Whether it goes along with an operation from its dispatch on. */
  boolean goesAlong() {
    return delays.most() > Quantities.NEAR.most();
  }

  /** Takes back what was said of a row. */
  void undefine(long row) {
    if (row >= 0 && row < rows) {
      defined[(int) row] = false;
      before = null;
    }
  }

  boolean isDefined(int row) {
    return row >= 0 && row < rows && defined[row];
  }

  /** In how many rows it is defined behind one up to another. */
  int definedBetween(int from, int row) {
    if (before == null) {
      before = new int[rows + 1];
      for (int at = 0; at < rows; at++) {
        before[at + 1] = before[at] + (defined[at] ? 1 : 0);
      }
    }
    return before[row + 1] - before[from + 1];
  }

  long value(int row) {
    return values[row];
  }

  /** Rows behind the last one in which it was ever defined. */
  int rows() {
    return rows;
  }

  /**
   * The rows in which it has another value than it was last defined to have, the first included.
   */
  int[] changes() {
    int[] found = new int[rows];
    int count = 0;
    int last = -1;
    for (int row = 0; row < rows; row++) {
      if (defined[row]) {
        if (last < 0 || values[row] != values[last]) {
          found[count++] = row;
        }
        last = row;
      }
    }
    return Arrays.copyOf(found, count);
  }
}
