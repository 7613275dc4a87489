package dev.plumbline.verdict;

import java.util.List;

/**
 * Signals over some cycles: those inside the DUT, and beside them what was expected.
 *
 * @param about what it is of, a few lines
 * @param cycles whose values there are, ascending; there may be gaps
 * @param waves the signals
 */
public record Waveform(List<String> about, List<Long> cycles, List<Wave> waves) {
  public Waveform {
    about = List.copyOf(about);
    cycles = List.copyOf(cycles);
    waves = List.copyOf(waves);
  }
}
