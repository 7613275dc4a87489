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
