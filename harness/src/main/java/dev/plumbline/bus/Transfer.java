package dev.plumbline.bus;

import java.util.Locale;

/**
 * One transfer over a bus.
 *
 * @param cycle in which it began, as {@link dev.plumbline.cosim.Dut#cyclesRun} counts
 * @param isWrite whether data went to the DUT
 * @param address the address
 * @param data what was written or read, up to 64 bits
 * @param cycles how many it took, 1 or more
 * @param isRefused whether the DUT called it an error, where the bus has a port for that
 */
public record Transfer(
    long cycle, boolean isWrite, long address, long data, long cycles, boolean isRefused) {
  @Override
  public String toString() {
    return String.format(
        Locale.ROOT,
        "cycle %d: %s 0x%x at 0x%x in %d %s%s",
        cycle,
        isWrite ? "wrote" : "read",
        data,
        address,
        cycles,
        cycles == 1 ? "cycle" : "cycles",
        isRefused ? ", refused" : "");
  }
}
