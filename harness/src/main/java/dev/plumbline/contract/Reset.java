package dev.plumbline.contract;

import java.util.List;

/**
 * How the block is reset.
 *
 * @param port the port; null where there is none
 * @param activeLow whether a 0 resets
 * @param cycles how long a reset lasts, in cycles
 * @param further resets that are asserted with the first one
 */
public record Reset(String port, boolean activeLow, int cycles, List<Line> further) {
  /** Copies the list. */
  public Reset {
    further = List.copyOf(further);
  }

  /**
   * A further reset.
   *
   * @param port the port
   * @param activeLow whether a 0 resets
   */
  public record Line(String port, boolean activeLow) {}
}
