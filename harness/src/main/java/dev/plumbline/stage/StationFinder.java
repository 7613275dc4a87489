package dev.plumbline.stage;

import dev.plumbline.models.datapath.Datapath;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * Finds the signals that are steps of the reference, by holding each against each at every delay
 * over all cases of a sample. Where the DUT is right up to a step, the step's signal equals it in
 * every case; where it is wrong now and then, in most.
 *
 * <p>What counts is agreement beyond chance (J. Cohen, "A coefficient of agreement for nominal
 * scales", Educational and Psychological Measurement 20, 1960): a flag that is nearly always 0
 * agrees with many signals.
 */
final class StationFinder {
  /** Least agreement beyond chance of a signal that is wrong now and then. */
  private static final double LEAST = 0.4;

  /** The same over cases whose results are right. */
  private static final double SURE = 0.8;

  /** By how much less it then has to agree where results are wrong. */
  private static final double CLEAR = 0.3;

  /** Cases whose results are right, for those to decide. */
  private static final int MANY = 24;

  /** Least number of cases, chance taken off. */
  private static final double FEW = 6;

  /** Cases that are looked at before the rest. */
  private static final int FIRST = 24;

  private final StepSample cases;
  private final SignalSample sample;
  private final Set<String> suspects;
  private final int mostDelay;
  private final List<Integer> usable = new ArrayList<>();
  private final List<Integer> moving = new ArrayList<>();
  private final Map<String, List<String>> operands;
  private final Map<String, Integer> earliest =
      new HashMap<>(); // delay of a step, or of its operands
  private final Datapath datapath; // null where every case matters to every step
  private int[] order = {};
  private int[] at = {}; // of each case in that order: where its row is in the sample

  /**
   * Prepares to look.
   *
   * @param suspects the signals that may be wrong now and then; others are steps only if always
   *     right
   * @param datapath the steps, where there are any; of hardware that has one case in hand at a time
   *     a signal is a step if it is right wherever the step matters
   */
  StationFinder(
      StepSample cases,
      SignalSample sample,
      Map<String, List<String>> operands,
      Set<String> suspects,
      Optional<Datapath> datapath,
      int mostDelay) {
    boolean inTurn = !cases.isDense(Candidates.FARTHEST);
    this.datapath = datapath.filter(steps -> inTurn && !steps.hasState()).orElse(null);
    this.operands = operands;
    this.suspects = suspects;
    this.cases = cases;
    this.sample = sample;
    this.mostDelay = mostDelay;
    for (int n = 0; n < cases.count(); n++) {
      long row = cases.row(n) - sample.firstRow();
      if (row >= 0 && row + mostDelay < sample.rows()) {
        usable.add(n);
      }
    }
    for (int g = 0; g < sample.signals().size(); g++) {
      if (sample.columns(g).length <= 2 && moves(sample.columns(g))) {
        moving.add(g);
      }
    }
  }

  private boolean moves(long[][] columns) {
    for (long[] column : columns) {
      for (int row = 1; row < sample.rows(); row++) {
        if (column[row] != column[0]) {
          return true;
        }
      }
    }
    return false;
  }

  /** The stations of each step, the earliest first; exact ones alone where there are some. */
  List<List<Station>> find() {
    List<List<Station>> found = new ArrayList<>();
    for (int step = 0; step < cases.steps().size(); step++) {
      List<Station> stations = cases.codes(step).length > 2 ? List.of() : ofStep(step);
      earliest.put(
          cases.steps().get(step).name(),
          stations.stream().mapToInt(Station::delay).min().orElse(readyAfter(step)));
      found.add(stations);
    }
    return found;
  }

  /** Cases in which a step matters that are in the sample with all their cycles. */
  List<Integer> mattering(int step) {
    if (datapath == null) {
      return usable;
    }
    boolean[] matters = cases.matters(datapath, step);
    // A reset ends a case in hand, which then is no longer computed.
    return usable.stream().filter(n -> matters[n] && cases.result(n) != null).toList();
  }

  /** The stations of one step that equal it in every one of some cases, the earliest first. */
  List<Station> exact(int step, List<Integer> held) {
    if (cases.codes(step).length > 2) {
      return List.of();
    }
    if (tooFew(step, held)) {
      return List.of();
    }
    List<Station> stations = stations(step, wide(step), 0, order.length);
    stations.sort(order(Comparator.comparing(station -> !station.named())));
    return stations;
  }

  /** Whether cases tell too little of a step, chance taken off; puts them in order. */
  private boolean tooFew(int step, List<Integer> held) {
    double chance = arrange(step, held);
    return held.size() * (1 - chance) < FEW;
  }

  private List<Integer> wide(int step) {
    int needed = neededBits(step);
    int least = Math.min(needed, Math.max(16, needed - 8));
    return moving.stream()
        .filter(g -> sample.signals().get(g).width() >= least)
        .filter(g -> sample.signals().get(g).width() <= 128)
        .toList();
  }

  private Comparator<Station> order(Comparator<Station> first) {
    return first
        .thenComparingInt(Station::delay)
        .thenComparing(station -> !station.named())
        .thenComparing(station -> depth(station.signal()))
        .thenComparing(station -> sample.name(station.signal()));
  }

  private List<Station> ofStep(int step) {
    List<Integer> mattering = mattering(step);
    List<Station> stations = exact(step, mattering);
    if (!stations.isEmpty() || tooFew(step, mattering)) {
      return stations;
    }
    stations = wrongNowAndThen(step, wide(step).stream().filter(this::isSuspect).toList());
    Comparator<Station> named = Comparator.comparing(station -> !station.named());
    stations.sort(
        order(
            named.thenComparingInt(
                station -> station.named() ? station.delay() : -station.matches())));
    return stations;
  }

  private boolean isSuspect(int g) {
    return suspects.contains(sample.name(g));
  }

  /**
   * Signals that are the step where the result is right, and not where it is wrong: what differs as
   * often in cases whose results are right is another quantity.
   */
  private List<Station> wrongNowAndThen(int step, List<Integer> signals) {
    List<Integer> mattering = mattering(step);
    List<Integer> right = mattering.stream().filter(n -> !cases.isWrong(n)).toList();
    List<Integer> wrong = mattering.stream().filter(cases::isWrong).toList();
    boolean known = right.size() >= MANY && !wrong.isEmpty();
    List<Integer> held = known ? right : mattering;
    double chance = arrange(step, held);
    if (held.size() * (1 - chance) < 2 * FEW) {
      return new ArrayList<>();
    }
    double share = chance + (known ? SURE : LEAST) * (1 - chance);
    List<Station> found = new ArrayList<>();
    for (Station station :
        stations(step, signals, readyAfter(step), (int) Math.ceil(order.length * share))) {
      long also =
          wrong.stream().filter(n -> agrees(step, station.signal(), station.delay(), n)).count();
      double rightShare = (double) station.matches() / order.length;
      if (!known || (double) also / wrong.size() <= rightShare - CLEAR) {
        int all = known ? (int) also : 0;
        found.add(
            new Station(
                station.signal(),
                station.delay(),
                station.matches() + all,
                known ? mattering.size() : order.length,
                station.named()));
      }
    }
    return found;
  }

  private boolean agrees(int step, int g, int delay, int n) {
    return same(step, g, n, (int) (cases.row(n) - sample.firstRow()) + delay);
  }

  private List<Station> stations(int step, List<Integer> signals, int from, int least) {
    List<Station> stations = new ArrayList<>();
    String name = cases.steps().get(step).name();
    for (int g : signals) {
      for (int delay = from; delay <= mostDelay; delay++) {
        int matches = matches(step, g, delay, least);
        if (matches >= least) {
          boolean named = Station.isNamed(sample.signals().get(g), name);
          stations.add(new Station(g, delay, matches, order.length, named));
        }
      }
    }
    return stations;
  }

  /** No signal can be a step before those that it is made from are there. */
  private int readyAfter(int step) {
    int ready = 0;
    for (String operand : operands.getOrDefault(cases.steps().get(step).name(), List.of())) {
      ready = Math.max(ready, earliest.getOrDefault(operand, 0));
    }
    return ready;
  }

  private int depth(int g) {
    return (int) sample.name(g).chars().filter(c -> c == '.').count();
  }

  /** Puts cases with rare codes first; gives the chance that two cases have the same code. */
  private double arrange(int step, List<Integer> held) {
    Map<Long, Integer> counts = new HashMap<>();
    long[] codes = cases.codes(step)[0];
    held.forEach(n -> counts.merge(codes[n], 1, Integer::sum));
    double chance = 0;
    for (int count : counts.values()) {
      double share = (double) count / held.size();
      chance += share * share;
    }
    List<Integer> sorted = new ArrayList<>(held);
    sorted.sort(Comparator.comparingInt(n -> counts.get(codes[n])));
    // Of a flag both values have to be among the first.
    List<Integer> mixed = new ArrayList<>();
    for (int i = 0, j = sorted.size() - 1; i <= j; ) {
      mixed.add(sorted.get(i++));
      if (i <= j) {
        mixed.add(sorted.get(j--));
      }
    }
    order = mixed.stream().mapToInt(Integer::intValue).toArray();
    at = mixed.stream().mapToInt(n -> (int) (cases.row(n) - sample.firstRow())).toArray();
    return chance;
  }

  private int neededBits(int step) {
    long[][] codes = cases.codes(step);
    if (codes.length > 1) {
      return cases.steps().get(step).format().width();
    }
    long used = 0;
    boolean negative = false;
    for (int n : usable) {
      long code = codes[0][n];
      used |= code < 0 ? ~code : code;
      negative |= code < 0;
    }
    return 64 - Long.numberOfLeadingZeros(used) + (negative ? 1 : 0);
  }

  /** In how many cases they agree; too small a number where they do not in most of the first. */
  private int matches(int step, int g, int delay, int least) {
    boolean exact = least == order.length;
    int matches = 0;
    for (int i = 0; i < order.length; i++) {
      boolean same = same(step, g, order[i], at[i] + delay);
      matches += same ? 1 : 0;
      if ((!same && exact) || (i == FIRST && matches < FIRST / 4)) {
        return -1;
      }
    }
    return matches;
  }

  /** Whether a signal has a step's code in a row, as far as it is wide. */
  private boolean same(int step, int g, int n, int row) {
    long[][] codes = cases.codes(step);
    long[][] columns = sample.columns(g);
    int width = sample.signals().get(g).width();
    long low = codes[0][n];
    if (width <= 64) {
      return (columns[0][row] ^ low) << (64 - width) == 0;
    }
    boolean negative = cases.steps().get(step).format().signed() && low < 0;
    long high = codes.length > 1 ? codes[1][n] : negative ? -1 : 0;
    return columns[0][row] == low && (columns[1][row] ^ high) << (128 - width) == 0;
  }
}
