package dev.plumbline.stage;

import java.util.ArrayList;
import java.util.List;

/**
 * Signals in the place of steps, one for each, each so many cycles after its case went in.
 *
 * @param signals their places in the sample
 * @param delays those cycles
 * @param readings what their bits mean
 */
record Place(List<Integer> signals, List<Integer> delays, List<Reading> readings) {
  Place {
    signals = List.copyOf(signals);
    delays = List.copyOf(delays);
    readings = List.copyOf(readings);
  }

  static Place of(int signal, int delay, Reading reading) {
    return new Place(List.of(signal), List.of(delay), List.of(reading));
  }

  /** Several signals at one delay, as they are. */
  static Place of(List<Integer> signals, int delay) {
    List<Integer> delays = new ArrayList<>();
    List<Reading> readings = new ArrayList<>();
    for (int n = 0; n < signals.size(); n++) {
      delays.add(delay);
      readings.add(Reading.PLAIN);
    }
    return new Place(signals, delays, readings);
  }

  /** This and another, for more steps. */
  Place and(Place other) {
    List<Integer> all = new ArrayList<>(signals);
    all.addAll(other.signals);
    List<Integer> allDelays = new ArrayList<>(delays);
    allDelays.addAll(other.delays);
    List<Reading> allReadings = new ArrayList<>(readings);
    allReadings.addAll(other.readings);
    return new Place(all, allDelays, allReadings);
  }

  /** Cycles to the first of them. */
  int delay() {
    return delays.stream().mapToInt(Integer::intValue).min().orElseThrow();
  }
}
