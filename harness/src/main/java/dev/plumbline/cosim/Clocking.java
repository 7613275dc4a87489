package dev.plumbline.cosim;

import dev.plumbline.rtl.Clock;
import dev.plumbline.rtl.Design;
import java.util.ArrayList;
import java.util.List;

/**
 * Which inputs are clocks, and how they lie against each other.
 *
 * <pre>{@code
 * Clocking clocking = Clocking.of("clk", 10).with("pixel_clk", 7, 3);
 * }</pre>
 *
 * <p>Times are in any unit, the same for all. A row is one cycle of the first clock: from a fall of
 * it, where the row's inputs are applied, over its rise, just before which the outputs are sampled,
 * to its next fall. The further clocks tick meanwhile; they are low before their first rise and
 * then high for half of each period. Edges at the same moment happen together, and inputs applied
 * at such a moment are already seen by them.
 */
public final class Clocking {
  /**
   * One clock.
   *
   * @param port the input it drives, one bit wide
   * @param period time from rise to rise, 1 or more
   * @param phase time of its first rise after the first clock's first rise, 0 or more
   */
  public record Signal(String port, int period, int phase) {
    /** Checks the ranges. */
    public Signal {
      if (period < 1) {
        throw new IllegalArgumentException(
            "Clock \"" + port + "\" has a period of " + period + "; allowed is 1 or more.");
      }
      if (phase < 0) {
        throw new IllegalArgumentException(
            "Clock \"" + port + "\" has a phase of " + phase + "; allowed is 0 or more.");
      }
    }
  }

  private final List<Signal> signals;
  private final boolean everyRise;

  private Clocking(List<Signal> signals, boolean everyRise) {
    this.signals = List.copyOf(signals);
    this.everyRise = everyRise;
  }

  /**
   * One clock; a row is one cycle of it.
   *
   * @param port the input it drives
   * @param period time from rise to rise, 1 or more; matters only against further clocks
   * @return the clocking
   */
  public static Clocking of(String port, int period) {
    return new Clocking(List.of(new Signal(port, period, 0)), false);
  }

  /**
   * One clock whose period matters to nothing else.
   *
   * @param port the input it drives
   * @return the clocking
   */
  public static Clocking of(String port) {
    return of(port, 1);
  }

  /**
   * No clock: every input is an ordinary one, and a row is one evaluation.
   *
   * @return the clocking
   */
  public static Clocking none() {
    return new Clocking(List.of(), false);
  }

  /** The clock of a design that has one; none where it has none. */
  static Clocking only(Design design) {
    List<String> clocks = design.clocks().stream().map(Clock::port).toList();
    if (clocks.size() > 1) {
      throw new PortException(
          "Module "
              + design.top()
              + " has several clocks, "
              + String.join(", ", clocks)
              + "; say which is driven how by DutOptions.withClocking");
    }
    return clocks.isEmpty() ? none() : of(clocks.get(0));
  }

  /**
   * Adds a clock.
   *
   * @param port the input it drives
   * @param period time from rise to rise, 1 or more
   * @param phase time of its first rise after the first clock's first rise, 0 or more
   * @return a copy with that clock
   */
  public Clocking with(String port, int period, int phase) {
    if (signals.isEmpty()) {
      throw new IllegalArgumentException(
          "Clock \"" + port + "\" cannot be a further one: there is no first; begin with of().");
    }
    if (signals.stream().anyMatch(signal -> signal.port().equals(port))) {
      throw new IllegalArgumentException("Clock \"" + port + "\" is named twice; name each once.");
    }
    List<Signal> more = new ArrayList<>(signals);
    more.add(new Signal(port, period, phase));
    return new Clocking(more, everyRise);
  }

  /**
   * The same clocks with a row for each moment at which any of them rises: from just after the rise
   * before, where the row's inputs are applied, to this one, just before which the outputs are
   * sampled. Clocks that rise at the same moment share a row.
   *
   * @return a copy
   */
  public Clocking withRowsAtEveryRise() {
    return new Clocking(signals, true);
  }

  /**
   * Whether a row ends wherever any clock rises.
   *
   * @return false where a row is a cycle of the first clock
   */
  public boolean hasRowsAtEveryRise() {
    return everyRise;
  }

  /**
   * The clocks, the first one first.
   *
   * @return the clocks; empty without any
   */
  public List<Signal> signals() {
    return signals;
  }

  @Override
  public String toString() {
    return signals + (everyRise ? " at every rise" : "");
  }
}
