package dev.plumbline.rtl;

/**
 * An input port of the top module that sensitivity lists use as a clock.
 *
 * <p>It may be used anywhere in the hierarchy, through instances, interfaces, aliases and
 * inversions. Behind a clock gate or switch only ports known as clocks from elsewhere count, or
 * every input of the gate when none is. A bit of a wider port is never listed, since it cannot be
 * driven alone.
 *
 * @param port the port's name
 * @param edge the edges of the port on which logic acts, inversions on the way counted
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
