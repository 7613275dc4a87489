package dev.plumbline.stage;

import dev.plumbline.drive.GivenStage;
import java.math.BigInteger;
import java.util.List;

/** The signals that were given for steps of the reference, as stations. */
final class GivenStations {
  /** Cases that a delay is looked for in. */
  private static final int MOST_CASES = 256;

  private GivenStations() {}

  /** The station of each step, in place of those that were found. */
  static void replace(
      List<GivenStage> given,
      StepSample cases,
      SignalSample sample,
      List<List<Station>> stations,
      int mostDelay) {
    for (GivenStage stage : given) {
      int g = sample.find(stage.signal());
      if (g < 0 && sample.rows() > 0) {
        String first = sample.signals().get(0).path();
        g = sample.find(first.substring(0, first.indexOf('.') + 1) + stage.signal());
      }
      for (int step = 0; g >= 0 && step < cases.steps().size(); step++) {
        if (cases.steps().get(step).name().equals(stage.step())) {
          stations.set(step, List.of(station(stage, step, g, cases, sample, mostDelay)));
        }
      }
    }
  }

  private static Station station(
      GivenStage stage, int step, int g, StepSample cases, SignalSample sample, int mostDelay) {
    Station best = null;
    int from = stage.delay().orElse(0);
    for (int cycles = from; cycles <= stage.delay().orElse(mostDelay); cycles++) {
      Station one = at(step, g, cycles, cases, sample);
      best = best == null || one.matches() > best.matches() ? one : best;
    }
    return best;
  }

  private static Station at(int step, int g, int cycles, StepSample cases, SignalSample sample) {
    int matches = 0;
    int seen = 0;
    BigInteger span = BigInteger.ONE.shiftLeft(sample.signals().get(g).width());
    for (int n = 0; n < cases.count() && seen < MOST_CASES; n++) {
      BigInteger value = sample.value(g, cases.row(n) + cycles);
      if (value != null) {
        seen++;
        matches += cases.code(step, n).subtract(value).mod(span).signum() == 0 ? 1 : 0;
      }
    }
    return new Station(g, cycles, matches, Math.max(1, seen), true);
  }
}
