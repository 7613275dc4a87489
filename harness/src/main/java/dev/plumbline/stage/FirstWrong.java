package dev.plumbline.stage;

import dev.plumbline.drive.OutputCheck;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.rtl.Signal;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;

/**
 * Finds the earliest signal from which on all is right though the signal is not: of all signals on
 * the way to a wrong output, at every delay, in the place of every step, the first from which the
 * reference goes on to everything that the DUT gave ({@link Onward}). What is wrong lies right
 * before it. A signal that is right at another delay is one that meets the others in a wrong cycle.
 *
 * <p>A block that stands there several times, once an axis or so, has a fault several times: such
 * signals are also tried together, in the place of steps that are alike.
 */
final class FirstWrong {
  /** How far from its own cycle a right signal may be taken. */
  private static final int FARTHEST = 3;

  /** Bits that a signal may have fewer than its step needs. */
  private static final int SHORT = 8;

  /** Words in names that tell signals and steps apart that are alike otherwise. */
  private static final Set<String> SIDES =
      Set.of("x", "y", "z", "min", "max", "entry", "exit", "near", "far", "nearer", "farther");

  private static final Set<String> AXES = Set.of("x", "y", "z");

  /**
   * What was found.
   *
   * @param steps in whose place the signals stand
   * @param signals their places in the sample
   * @param delay cycles after the case went in
   * @param rightAt the delay at which a signal is right; -1 where it never is
   * @param wrong wrong results that follow from it
   * @param results that follow from it, these among them
   */
  record Found(
      List<Operand> steps, List<Integer> signals, int delay, int rightAt, int wrong, int results) {}

  private record Candidate(int signal, int delay, int rightAt) {}

  private final StepSample cases;
  private final SignalSample sample;
  private final Onward onward;
  private final Depths depths;
  private final int mostDelay;
  private final List<Candidate> candidates = new ArrayList<>();
  private final Map<String, List<String>> operands;
  private final Map<String, Integer> earliest = new HashMap<>(); // of steps that are found
  private final Map<String, Integer> readyAfter = new HashMap<>();
  private final Map<Integer, Integer> neededBits = new HashMap<>();

  FirstWrong(
      Datapath datapath,
      StepSample cases,
      SignalSample sample,
      List<List<Station>> stations,
      Set<String> suspects,
      Depths depths,
      OutputCheck[] checks,
      int output,
      int mostDelay,
      int chosen) {
    this.cases = cases;
    this.sample = sample;
    this.depths = depths;
    this.mostDelay = mostDelay;
    this.operands = datapath.operands();
    for (int s = 0; s < stations.size(); s++) {
      String name = cases.steps().get(s).name();
      stations.get(s).stream()
          .filter(Station::isExact)
          .mapToInt(Station::delay)
          .min()
          .ifPresent(delay -> earliest.put(name, delay));
    }
    this.onward = new Onward(datapath, cases, sample, checks, output, mostDelay, chosen);
    if (onward.wrongs() > 0) {
      collect(stations, suspects);
    }
  }

  private void collect(List<List<Station>> stations, Set<String> suspects) {
    Map<Integer, Set<Integer>> right = new HashMap<>();
    stations.stream()
        .flatMap(List::stream)
        .filter(Station::isExact)
        .forEach(
            one -> right.computeIfAbsent(one.signal(), key -> new HashSet<>()).add(one.delay()));
    Map<List<Object>, Candidate> copies = new LinkedHashMap<>();
    for (int g = 0; g < sample.signals().size(); g++) {
      if (!suspects.contains(sample.name(g)) || sample.columns(g).length > 2) {
        continue;
      }
      Set<Integer> rightAt = right.getOrDefault(g, Set.of());
      int from = rightAt.isEmpty() ? depths.least(sample.name(g)) : 0;
      int to = rightAt.isEmpty() ? depths.most(sample.name(g)) : mostDelay;
      for (int delay = from; delay <= Math.min(to, mostDelay); delay++) {
        int at = delay;
        int nearest =
            rightAt.stream()
                .min(Comparator.comparingInt(own -> Math.abs(own - at)))
                .orElse(Integer.MIN_VALUE);
        boolean never = rightAt.isEmpty();
        if (never || (nearest != delay && Math.abs(nearest - delay) <= FARTHEST)) {
          Candidate one = new Candidate(g, delay, never ? -1 : nearest);
          List<Object> key =
              List.of(codes(g, delay), Math.min(2, sample.signals().get(g).width()), never);
          copies.merge(key, one, this::better);
        }
      }
    }
    candidates.addAll(copies.values());
  }

  /**
   * Of copies the first, and of several in one cycle a register; of right ones in a wrong cycle the
   * last, where they meet others.
   */
  private Candidate better(Candidate a, Candidate b) {
    int sign = a.rightAt() < 0 ? 1 : -1;
    return Comparator.comparingInt((Candidate one) -> sign * one.delay())
                .thenComparing(one -> !sample.signals().get(one.signal()).register())
                .compare(b, a)
            < 0
        ? b
        : a;
  }

  /** A number that differs where codes do, over all cases. */
  private long codes(int g, int delay) {
    long[][] columns = sample.columns(g);
    long mixed = 0;
    for (int n : onward.usable()) {
      int row = (int) (cases.row(n) - sample.firstRow()) + delay;
      for (long[] column : columns) {
        mixed = (mixed ^ column[row]) * 0x9E3779B97F4A7C15L;
        mixed ^= mixed >>> 29;
      }
    }
    return mixed;
  }

  Optional<Found> find() {
    Found best = null;
    List<Operand> steps = cases.steps();
    for (boolean never : new boolean[] {true, false}) {
      List<Candidate> all = List.copyOf(candidates);
      candidates.removeIf(one -> one.rightAt() < 0 != never);
      Found found = null;
      for (int s = 0; s < steps.size() && !candidates.isEmpty(); s++) {
        found = earlier(found, alone(s));
      }
      for (Set<String> telling : List.of(AXES, SIDES)) {
        found = candidates.isEmpty() ? found : earlier(found, together(telling));
      }
      best = earlier(best, found);
      candidates.clear();
      candidates.addAll(all);
    }
    return Optional.ofNullable(best);
  }

  /**
   * The first that is never right; a right one in a wrong cycle before that, the last of them.
   * Right ones pass for wrong ones everywhere before they meet others.
   */
  private Found earlier(Found best, Found other) {
    if (best == null || other == null) {
      return best == null ? other : best;
    }
    if (best.rightAt() < 0 && other.rightAt() < 0) {
      boolean same = other.delay() == best.delay();
      return other.delay() < best.delay() || (same && registers(other) > registers(best))
          ? other
          : best;
    }
    if (best.rightAt() >= 0 && other.rightAt() >= 0) {
      return other.delay() > best.delay() ? other : best;
    }
    Found shifted = best.rightAt() >= 0 ? best : other;
    Found never = best.rightAt() >= 0 ? other : best;
    return shifted.delay() <= never.delay() ? shifted : never;
  }

  private double registers(Found found) {
    List<Integer> signals = found.signals();
    return (double) signals.stream().filter(g -> sample.signals().get(g).register()).count()
        / signals.size();
  }

  private Found alone(int s) {
    Operand step = cases.steps().get(s);
    List<Onward.Place> places = new ArrayList<>();
    Map<Onward.Place, Candidate> of = new HashMap<>();
    for (Candidate one : candidates) {
      if (fits(step, s, one.signal()) && one.delay() >= ready(s)) {
        Onward.Place place = new Onward.Place(List.of(one.signal()), one.delay());
        places.add(place);
        of.put(place, one);
      }
    }
    return first(List.of(step), places, of);
  }

  private Found first(
      List<Operand> steps, List<Onward.Place> places, Map<Onward.Place, Candidate> of) {
    List<Onward.Place> left = new ArrayList<>(onward.agreeAtFirst(steps, places));
    left.sort(Comparator.comparingInt(Onward.Place::delay));
    if (!left.isEmpty() && of.get(left.get(0)).rightAt() >= 0) {
      Collections.reverse(left);
    }
    for (Onward.Place place : left) {
      if (onward.resembles(steps, place) && onward.agrees(steps, place)) {
        return new Found(
            steps,
            place.signals(),
            place.delay(),
            of.get(place).rightAt(),
            onward.wrongs(),
            onward.results());
      }
    }
    return null;
  }

  private boolean fits(Operand step, int s, int g) {
    int width = sample.signals().get(g).width();
    int needed = needed(s);
    return step.format().width() == 1
        ? width == 1
        : width > 1 && width >= Math.min(needed, Math.max(2, needed - SHORT));
  }

  /** No signal can be a step before those that it is made from are there. */
  private int ready(int s) {
    return readyAfter.computeIfAbsent(cases.steps().get(s).name(), this::readyAfter);
  }

  private int readyAfter(String step) {
    int ready = 0;
    for (String operand : operands.getOrDefault(step, List.of())) {
      Integer found = earliest.get(operand);
      if (found == null && !operand.equals(step)) {
        found = readyAfter(operand);
      }
      ready = Math.max(ready, found == null ? 0 : found);
    }
    return ready;
  }

  private int needed(int s) {
    return neededBits.computeIfAbsent(
        s,
        key -> {
          long[][] codes = cases.codes(key);
          if (codes.length > 1) {
            return cases.steps().get(key).format().width();
          }
          long used = 0;
          boolean negative = false;
          for (int n = 0; n < cases.count(); n++) {
            used |= codes[0][n] < 0 ? ~codes[0][n] : codes[0][n];
            negative |= codes[0][n] < 0;
          }
          return 64 - Long.numberOfLeadingZeros(used) + (negative ? 1 : 0);
        });
  }

  /** What is left of a name without the words that tell, and these in order. */
  private record Alike(String rest, List<String> told) {
    static Alike of(String name, Set<String> telling) {
      StringBuilder rest = new StringBuilder();
      List<String> told = new ArrayList<>();
      for (String word : name.split("(?<=[_.\\[\\]])|(?=[_.\\[\\]])", -1)) {
        if (telling.contains(word)) {
          told.add(word);
          rest.append('*');
        } else {
          rest.append(word);
        }
      }
      told.sort(Comparator.naturalOrder());
      return new Alike(rest.toString(), told);
    }
  }

  /** Several signals in the place of as many steps, by the words that tell them apart. */
  private Found together(Set<String> telling) {
    Map<String, Map<List<String>, Integer>> steps = new TreeMap<>();
    for (int s = 0; s < cases.steps().size(); s++) {
      Alike alike = Alike.of(cases.steps().get(s).name(), telling);
      if (!alike.told().isEmpty()) {
        steps.computeIfAbsent(alike.rest(), key -> new LinkedHashMap<>()).put(alike.told(), s);
      }
    }
    Map<List<Object>, Map<List<String>, Candidate>> signals = new LinkedHashMap<>();
    for (Candidate one : candidates) {
      Signal signal = sample.signals().get(one.signal());
      Alike alike = Alike.of(signal.path(), telling);
      if (!alike.told().isEmpty()) {
        signals
            .computeIfAbsent(List.of(alike.rest(), one.delay()), key -> new LinkedHashMap<>())
            .put(alike.told(), one);
      }
    }
    Found best = null;
    for (Map<List<String>, Integer> some : steps.values()) {
      if (some.size() < 2) {
        continue;
      }
      List<Operand> replaced = new ArrayList<>();
      some.values().forEach(s -> replaced.add(cases.steps().get(s)));
      List<Onward.Place> places = new ArrayList<>();
      Map<Onward.Place, Candidate> of = new HashMap<>();
      for (Map<List<String>, Candidate> group : signals.values()) {
        if (!group.keySet().equals(some.keySet())) {
          continue;
        }
        List<Integer> chosen = new ArrayList<>();
        boolean fit = true;
        for (Map.Entry<List<String>, Integer> step : some.entrySet()) {
          Candidate one = group.get(step.getKey());
          chosen.add(one.signal());
          fit &= fits(cases.steps().get(step.getValue()), step.getValue(), one.signal());
          fit &= one.delay() >= ready(step.getValue());
        }
        if (fit) {
          Candidate any = group.values().iterator().next();
          Onward.Place place = new Onward.Place(chosen, any.delay());
          places.add(place);
          of.put(place, any);
        }
      }
      best = earlier(best, first(replaced, places, of));
    }
    return best;
  }
}
