package dev.plumbline.cosim;

import dev.plumbline.rtl.Port;
import java.math.BigInteger;
import java.util.List;

/**
 * The last cycles of a DUT that was driven by hand, with {@link Dut#cycle} and {@link Dut#cycles}.
 *
 * @param ports whose values the rows have; clocks that are driven and arrays are left out
 * @param rows oldest first, at most 64
 */
public record Trace(List<Port> ports, List<Row> rows) {
  /** Copies the lists. */
  public Trace {
    ports = List.copyOf(ports);
    rows = List.copyOf(rows);
  }

  /**
   * All cycles that a DUT was driven through by {@link Dut#cycle} and {@link Dut#cycles}, which are
   * run again for that; also of one that has ended or is closed.
   *
   * @param dut a DUT
   * @param most cycles
   * @return the rows from the first cycle on, one a cycle; none where there are more, or it was
   *     driven by batches
   */
  public static Trace fromStart(Dut dut, int most) {
    synchronized (dut) {
      return dut.inside().fromStart(most);
    }
  }

  /**
   * What ports had in a cycle: of several that were run by one call, in the last.
   *
   * @param cycle cycles since the DUT was opened, the first one is 0; rows without a clock
   * @param values one a port, below 0 only where it is signed
   */
  public record Row(long cycle, List<BigInteger> values) {
    /** Copies the list. */
    public Row {
      values = List.copyOf(values);
    }
  }
}
