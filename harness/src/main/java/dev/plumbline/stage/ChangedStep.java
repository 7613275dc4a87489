package dev.plumbline.stage;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * Finds the signal that does what explains the mismatches. A reference with one step changed gives
 * all that the DUT gave; a signal that equals this step as changed in every case, and not as
 * described, is where the DUT does the same.
 */
final class ChangedStep {
  /** Changes that are tried: those that explain the same, most likely first. */
  private static final int MOST = 12;

  private final Datapath datapath;
  private final StepSample cases;
  private final SignalSample sample;
  private final Map<String, List<String>> operands;
  private final List<List<Station>> stations;
  private final Set<String> way;
  private final Map<String, List<String>> sources;
  private final int mostDelay;
  private final StationFinder described;

  /**
   * A signal that is a step as changed.
   *
   * @param step its place among the steps
   * @param station where it was found
   * @param unlike cases in which it differs from the step as described
   * @param isAlone whether this change is the only one that explains the mismatches
   */
  record Found(int step, Station station, int unlike, boolean isAlone) {}

  ChangedStep(
      Datapath datapath,
      StepSample cases,
      SignalSample sample,
      List<List<Station>> stations,
      Set<String> way,
      Map<String, List<String>> sources,
      int mostDelay) {
    this.datapath = datapath;
    this.cases = cases;
    this.sample = sample;
    this.operands = datapath.operands();
    this.stations = stations;
    this.way = way;
    this.sources = sources;
    this.mostDelay = mostDelay;
    this.described = finder(cases);
  }

  /**
   * Whether such signals tell more than the first from which all follows: there is none, or they
   * lie behind it; or no other change explains the mismatches, and the first is not made from what
   * its step is made from.
   */
  boolean tellMore(List<Found> changed, Optional<FirstWrong.Found> found) {
    if (changed.isEmpty() || found.isEmpty()) {
      return !changed.isEmpty();
    }
    FirstWrong.Found first = found.get();
    Station station = changed.get(0).station();
    boolean isBefore =
        station.delay() <= first.delay()
            && !first.signals().contains(station.signal())
            && first.signals().stream().allMatch(g -> isMadeFrom(g, station.signal()));
    boolean isBehind =
        first.signals().stream().anyMatch(g -> isMadeFrom(station.signal(), g))
            && hasOperands(first);
    return first.rightAt() < 0 && (isBefore || (changed.get(0).isAlone() && !isBehind));
  }

  private boolean isMadeFrom(int signal, int other) {
    return Blame.wayTo(sample.name(signal), sources).contains(sample.name(other));
  }

  /** Whether one of the signals is made from all operands of its step that were found. */
  private boolean hasOperands(FirstWrong.Found first) {
    for (int i = 0; i < Math.min(first.steps().size(), first.signals().size()); i++) {
      Set<String> way = Blame.wayTo(sample.name(first.signals().get(i)), sources);
      boolean has = true;
      for (String operand : operands.getOrDefault(first.steps().get(i).name(), List.of())) {
        int index = cases.stepNamed(operand);
        List<Station> own = index < 0 ? List.of() : stations.get(index);
        has &=
            own.isEmpty() || own.stream().anyMatch(one -> way.contains(sample.name(one.signal())));
      }
      if (has) {
        return true;
      }
    }
    return false;
  }

  /** The signals of the first change for which there are some; none where no change has any. */
  List<Found> of(List<Integer> changes) {
    return changes.stream()
        .limit(MOST)
        .map(change -> of(change, changes.size() == 1))
        .filter(found -> !found.isEmpty())
        .findFirst()
        .orElse(List.of());
  }

  private List<Found> of(int change, boolean isAlone) {
    List<Found> found = new ArrayList<>();
    Optional<StepSample> changed = cases.changed(datapath, change);
    if (changed.isEmpty()) {
      return found;
    }
    StationFinder finder = finder(changed.get());
    for (int step = 0; step < cases.steps().size(); step++) {
      if (isChangedFirst(step, changed.get())) {
        int s = step;
        List<Integer> held = described.mattering(step);
        first(
                finder.exact(step, held).stream()
                    .filter(one -> way.contains(sample.name(one.signal())))
                    .filter(one -> unlike(s, one, held) > 0)
                    .filter(one -> one.named() || !isStep(one))
                    .toList())
            .map(one -> new Found(s, one, unlike(s, one, held), isAlone))
            .ifPresent(found::add);
      }
    }
    return found;
  }

  /** Whether a signal is, as described, another step then: it is right. */
  private boolean isStep(Station station) {
    return stations.stream()
        .flatMap(List::stream)
        .filter(Station::isExact)
        .anyMatch(one -> one.signal() == station.signal() && one.delay() == station.delay());
  }

  private StationFinder finder(StepSample some) {
    return new StationFinder(some, sample, operands, Set.of(), Optional.of(datapath), mostDelay);
  }

  /** Of several names for one thing the one that the others come from. */
  private Optional<Station> first(List<Station> stations) {
    Optional<Station> first = stations.stream().findFirst();
    for (Station one : stations) {
      String behind = first.map(Station::signal).map(sample::name).orElseThrow();
      boolean isOfTime = one.delay() == first.get().delay();
      if (isOfTime
          && !sample.name(one.signal()).equals(behind)
          && isMadeFrom(first.get().signal(), one.signal())) {
        first = Optional.of(one);
      }
    }
    return first;
  }

  /** Whether a step is another though what it is made from is the same. */
  private boolean isChangedFirst(int step, StepSample changed) {
    return differs(step, changed)
        && operands.getOrDefault(cases.steps().get(step).name(), List.of()).stream()
            .noneMatch(operand -> differs(cases.stepNamed(operand), changed));
  }

  private boolean differs(int step, StepSample changed) {
    for (int w = 0; step >= 0 && w < cases.codes(step).length; w++) {
      for (int n = 0; n < cases.count(); n++) {
        if (cases.codes(step)[w][n] != changed.codes(step)[w][n]) {
          return true;
        }
      }
    }
    return false;
  }

  /** In how many cases a signal, with the bits it has, is not the step as described. */
  private int unlike(int step, Station station, List<Integer> held) {
    int unlike = 0;
    Format format = cases.steps().get(step).format();
    int width = Math.min(sample.signals().get(station.signal()).width(), format.width());
    int above = Math.max(0, Long.SIZE - width);
    long[][] columns = sample.columns(station.signal());
    long[][] codes = cases.codes(step);
    for (int n : held) {
      int row = (int) (cases.row(n) - sample.firstRow()) + station.delay();
      long bits = columns[0][row] << above;
      unlike += (format.signed() ? bits >> above : bits >>> above) != codes[0][n] ? 1 : 0;
    }
    return unlike;
  }
}
