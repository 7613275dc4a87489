package dev.plumbline.rtl;

/**
 * An input port of the top module that sensitivity lists use as a clock.
 *
 * @param port the port's name
 * @param edge the edges on which logic acts
 * @param location a sensitivity list that uses it
 */
public record Clock(String port, Edge edge, SourceLocation location) {
  /** The edges on which logic acts. */
  public enum Edge {
    /** The rising edge only. */
    RISING,
    /** The falling edge only. */
    FALLING,
    /** Both edges. */
    BOTH
  }
}
