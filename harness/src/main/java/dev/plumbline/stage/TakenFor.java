package dev.plumbline.stage;

import dev.plumbline.models.datapath.Operand;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * Finds a signal that always is one step of the reference and stands in the place of another, whose
 * name it has: the wrong one of two was connected, or what tells both apart is missing.
 */
final class TakenFor {
  private final List<Operand> steps;
  private final List<List<Station>> stations;
  private final List<String> way;
  private final SignalSample sample;

  /** A place for a step. */
  private record Choice(int step, Place place, int away) {}

  /** Whether a signal may stand in the place of a step, so many cycles after its case. */
  @FunctionalInterface
  interface Fit {
    boolean mayBe(int step, int signal, int delay);
  }

  /**
   * Looks among these.
   *
   * @param way signals on the way to the wrong output, those near it first
   */
  TakenFor(
      List<Operand> steps, List<List<Station>> stations, List<String> way, SignalSample sample) {
    this.steps = steps;
    this.stations = stations;
    this.way = way;
    this.sample = sample;
  }

  /** The earliest, of several at one time the one nearest to the output. */
  Optional<FirstWrong.Found> find(Onward held, Fit fit) {
    List<Choice> choices = new ArrayList<>();
    for (int s = 0; s < steps.size(); s++) {
      for (int other = 0; other < steps.size(); other++) {
        for (Station station : stations.get(other)) {
          int away = way.indexOf(sample.name(station.signal()));
          if (other != s
              && station.isExact()
              && away >= 0
              && isNamed(station.signal(), s)
              && fit.mayBe(s, station.signal(), station.delay())) {
            Place place = Place.of(station.signal(), station.delay(), Reading.PLAIN);
            choices.add(new Choice(s, place, away));
          }
        }
      }
    }
    choices.sort(
        Comparator.comparingInt((Choice one) -> one.place().delay())
            .thenComparingInt(Choice::away));
    for (Choice one : choices) {
      List<Operand> step = List.of(steps.get(one.step()));
      if (!held.agreeAtFirst(step, List.of(one.place())).isEmpty()
          && held.agrees(step, one.place())) {
        return Optional.of(
            new FirstWrong.Found(
                step,
                one.place().signals(),
                one.place().delay(),
                -1,
                false,
                held.wrongs(),
                held.results()));
      }
    }
    return Optional.empty();
  }

  /** Whether a signal's name begins as the step's does, a word of it. */
  private boolean isNamed(int g, int s) {
    String step = steps.get(s).name();
    String plain = step.substring(step.lastIndexOf('.') + 1);
    int end = plain.indexOf('_');
    String word = end < 0 ? plain : plain.substring(0, end);
    String name = sample.signals().get(g).name();
    return name.equals(word) || name.startsWith(word + "_");
  }
}
