package dev.plumbline.stage;

import dev.plumbline.drive.OutputCheck;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.rtl.Signal;
import dev.plumbline.stage.Candidates.Candidate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.function.Supplier;
import java.util.stream.IntStream;

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
  /** Bits of an output that tell something by themselves. */
  private static final int FEW_BITS = 8;

  /** Bits of a register that may be the state of a machine, in which a decision shows. */
  private static final int STATE_BITS = 6;

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
   * @param byClue whether it is what the RTL says of itself that tells the signal from later ones
   * @param wrong wrong results that follow from it
   * @param results that follow from it, these among them
   */
  record Found(
      List<Operand> steps,
      List<Integer> signals,
      int delay,
      int rightAt,
      boolean byClue,
      int wrong,
      int results) {}

  private final StepSample cases;
  private final SignalSample sample;
  private final Supplier<Onward> single; // held to the wrong output
  private final Supplier<Onward> whole; // held to all outputs
  private final Function<Onward, Candidates> of;
  private final boolean isNarrow; // whether the wrong output has few bits
  private Onward onward;
  private boolean isLate; // whether the nearest to the output is taken
  private final List<String> way; // signals, those near the output first
  private final int firstUnknown;
  private final StageClues clues;
  private Candidates all;
  private List<Candidate> candidates = List.of(); // those at hand
  private final Map<String, List<String>> operands;
  private final Map<String, Integer> earliest = new HashMap<>(); // of steps that are found
  private final SettledSteps settled;
  private final TakenFor takenFor;
  private final Map<String, List<String>> sources;
  private boolean isShiftedAlone; // whether signals are tried that are right in another cycle
  private boolean wantsSettled; // whether steps are tried from which on all is right
  private final Map<String, Integer> readyAfter = new HashMap<>();
  private final Map<Integer, Integer> neededBits = new HashMap<>();

  /**
   * Looks from a wrong output.
   *
   * @param firstUnknown the delay of the first register on the way to it that is no step
   */
  FirstWrong(
      Datapath datapath,
      StepSample cases,
      SignalSample sample,
      List<List<Station>> stations,
      Set<String> suspects,
      Map<String, List<String>> sources,
      OutputCheck[] checks,
      int output,
      int mostDelay,
      int chosen,
      int firstUnknown) {
    this.cases = cases;
    this.firstUnknown = firstUnknown;
    this.sample = sample;
    this.operands = datapath.operands();
    for (int s = 0; s < stations.size(); s++) {
      String name = cases.steps().get(s).name();
      stations.get(s).stream()
          .filter(Station::isExact)
          .mapToInt(Station::delay)
          .min()
          .ifPresent(delay -> earliest.put(name, delay));
    }
    this.settled = new SettledSteps(datapath, cases.steps(), sample, stations, sources);
    this.way = List.copyOf(suspects);
    this.sources = sources;
    this.takenFor = new TakenFor(cases.steps(), stations, way, sample);
    this.clues = new StageClues(sample, sources, stations);
    Depths depths =
        new Depths(
            sources,
            path -> sample.find(path) >= 0 && sample.signals().get(sample.find(path)).register());
    this.of =
        held -> new Candidates(cases, sample, held.usable(), stations, suspects, depths, mostDelay);
    this.single =
        () ->
            new Onward(
                datapath, cases, sample, checks, new int[] {output}, false, mostDelay, chosen);
    int[] every = IntStream.range(0, checks.length).toArray();
    this.whole = () -> new Onward(datapath, cases, sample, checks, every, true, mostDelay, chosen);
    this.isNarrow = checks[output].operand().format().width() < FEW_BITS;
  }

  /**
   * What is found; an output of few bits tells little, since much makes it what it is, so that all
   * outputs have to follow if they can. If they cannot, the signal is taken that is nearest to the
   * output, of hardware in which every signal serves a case in turn.
   *
   * @param isOfTime whether results are right in another cycle: so is a signal then, unless what is
   *     made from that one is wrong by itself
   */
  Optional<Found> find(boolean isOfTime) {
    Optional<Found> found = find();
    if (!isOfTime || found.isEmpty() || found.get().rightAt() >= 0) {
      return found;
    }
    isShiftedAlone = true;
    Optional<Found> shifted = find();
    isShiftedAlone = false;
    Set<String> before = Blame.wayTo(sample.name(found.get().signals().get(0)), sources);
    return shifted
        .filter(one -> !before.contains(sample.name(one.signals().get(0))))
        .or(() -> found);
  }

  private Optional<Found> find() {
    Optional<Found> found = isNarrow ? find(whole.get()) : Optional.empty();
    if (found.isPresent()) {
      return found;
    }
    isLate = isNarrow && !cases.isDense(Candidates.FARTHEST);
    Onward held = single.get();
    found = find(held);
    if (found.isEmpty()) {
      found = takenFor.find(held, this::mayStandThere);
    }
    if (found.isEmpty()) {
      wantsSettled = true; // of hardware that has the same twice, one may be right
      found = look(held);
    }
    return found;
  }

  /** Among signals that are near their step where the result is right; else among all. */
  private Optional<Found> find(Onward held) {
    held.mindRightOnes(true);
    Optional<Found> found = look(held);
    held.mindRightOnes(false);
    return found.isPresent() ? found : look(held);
  }

  private Optional<Found> look(Onward held) {
    onward = held;
    if (onward.wrongs() == 0) {
      return Optional.empty();
    }
    all = of.apply(held);
    Found best = null;
    List<Operand> steps = cases.steps();
    for (boolean never : isShiftedAlone ? new boolean[] {false} : new boolean[] {true, false}) {
      candidates = all.of(never);
      Found found = null;
      for (int s = 0; s < steps.size() && !candidates.isEmpty(); s++) {
        found = mayBeWrong(s) ? earlier(found, alone(s)) : found;
      }
      for (Set<String> telling : List.of(AXES, SIDES)) {
        found = candidates.isEmpty() ? found : earlier(found, together(telling));
      }
      best = earlier(best, found);
    }
    boolean isEarly = best != null && all.isDense() && firstUnknown >= best.delay();
    if (best == null || (best.rightAt() < 0 && !isEarly)) {
      best = earlier(best, severalAlike(best));
    }
    return Optional.ofNullable(best).map(this::asToldByRtl);
  }

  /** What is wrong at several places of one name, where that is earlier. */
  private Found severalAlike(Found best) {
    Cover cover =
        new Cover(
            whole.get(),
            cases.steps(),
            operands,
            (s, one) ->
                mayBeWrong(s) && mayStand(one, s) && fits(cases.steps().get(s), s, one.signal()));
    Found found = null;
    for (List<Candidate> alike : all.alike().values()) {
      List<Candidate> before =
          alike.stream().filter(one -> best == null || one.delay() <= best.delay()).toList();
      boolean several = before.stream().map(Candidate::signal).distinct().count() > 1;
      boolean inTurn = !all.isDense() && before.size() > 1;
      if (!several && !inTurn) {
        continue;
      }
      Cover.Found one = cover.of(before).orElse(null);
      if (one != null) {
        found =
            earlier(
                found,
                new Found(
                    one.steps(),
                    one.place().signals().stream().distinct().toList(),
                    one.place().delay(),
                    -1,
                    false,
                    onward.wrongs(),
                    onward.results()));
      }
    }
    return found;
  }

  /** A right signal in a wrong cycle may have come there long before it meets others. */
  private Found asToldByRtl(Found found) {
    if (found.rightAt() < 0) {
      return found;
    }
    List<Integer> told = new ArrayList<>();
    for (int g : found.signals()) {
      clues.before(g).filter(first -> !told.contains(first)).ifPresent(told::add);
    }
    return told.isEmpty()
        ? found
        : new Found(
            found.steps(),
            told,
            found.delay(),
            found.rightAt(),
            true,
            found.wrong(),
            found.results());
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
      if (isLate) {
        return away(other.signals().get(0)) < away(best.signals().get(0)) ? other : best;
      }
      return other.delay() < best.delay() || (same && registers(other) > registers(best))
          ? other
          : best;
    }
    if (best.rightAt() >= 0 && other.rightAt() >= 0) {
      return other.delay() > best.delay() ? other : best;
    }
    Found shifted = best.rightAt() >= 0 ? best : other;
    Found never = best.rightAt() >= 0 ? other : best;
    return shifted.delay() < never.delay() ? shifted : never;
  }

  /** How far a signal is from the wrong output, against the flow of data. */
  private int away(int g) {
    return way.indexOf(sample.name(g));
  }

  private double registers(Found found) {
    List<Integer> signals = found.signals();
    return (double) signals.stream().filter(g -> sample.signals().get(g).register()).count()
        / signals.size();
  }

  private Found alone(int s) {
    Operand step = cases.steps().get(s);
    List<Place> places = new ArrayList<>();
    Map<Place, Candidate> of = new HashMap<>();
    for (Candidate one : candidates) {
      if (!mayStand(one, s)) {
        continue;
      }
      List<Reading> readings = new ArrayList<>();
      if (fits(step, s, one.signal())) {
        readings.add(Reading.PLAIN);
        if (step.format().width() == 1) {
          readings.add(Reading.INVERTED);
        }
      } else if (step.format().width() == 1 && one.rightAt() < 0 && isState(one.signal())) {
        onward.decided(s, one).ifPresent(readings::add);
      }
      for (Reading reading : readings) {
        Place place = Place.of(one.signal(), one.delay(), reading);
        places.add(place);
        of.put(place, one);
      }
    }
    return first(List.of(step), places, of);
  }

  private boolean isState(int g) {
    Signal signal = sample.signals().get(g);
    return signal.register() && signal.width() > 1 && signal.width() <= STATE_BITS;
  }

  private Found first(List<Operand> steps, List<Place> places, Map<Place, Candidate> of) {
    List<Place> left = new ArrayList<>(onward.agreeAtFirst(steps, places));
    left.sort(
        isLate
            ? Comparator.comparingInt((Place place) -> away(place.signals().get(0)))
            : Comparator.comparingInt(Place::delay));
    if (!left.isEmpty() && !isLate && of.get(left.get(0)).rightAt() >= 0) {
      Collections.reverse(left);
    }
    for (Place place : left) {
      if (onward.resembles(steps, place) && onward.agrees(steps, place)) {
        return new Found(
            steps,
            place.signals(),
            place.delay(),
            of.get(place).rightAt(),
            false,
            onward.wrongs(),
            onward.results());
      }
    }
    return null;
  }

  private boolean mayBeWrong(int s) {
    return wantsSettled || !settled.contains(cases.steps().get(s).name());
  }

  private boolean mayStand(Candidate one, int s) {
    return one.delay() >= ready(s)
        && (wantsSettled
            || one.rightAt() >= 0
            || settled.mayBe(cases.steps().get(s).name(), sample.name(one.signal())));
  }

  private boolean mayStandThere(int s, int g, int delay) {
    return delay >= ready(s) && fits(cases.steps().get(s), s, g);
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

  /** Several signals in the place of as many steps, by the words that tell them apart. */
  private Found together(Set<String> telling) {
    Map<String, Map<List<String>, Integer>> steps = new TreeMap<>();
    for (int s = 0; s < cases.steps().size(); s++) {
      AlikeName alike = AlikeName.of(cases.steps().get(s).name(), telling);
      if (!alike.told().isEmpty()) {
        steps.computeIfAbsent(alike.rest(), key -> new LinkedHashMap<>()).put(alike.told(), s);
      }
    }
    Map<List<Object>, Map<List<String>, Candidate>> signals = new LinkedHashMap<>();
    for (Candidate one : candidates) {
      Signal signal = sample.signals().get(one.signal());
      AlikeName alike = AlikeName.of(signal.path(), telling);
      if (!alike.told().isEmpty()) {
        signals
            .computeIfAbsent(List.of(alike.rest(), one.delay()), key -> new LinkedHashMap<>())
            .put(alike.told(), one);
      }
    }
    Found best = null;
    for (Map<List<String>, Integer> some : steps.values()) {
      if (some.size() < 2 || some.values().stream().noneMatch(this::mayBeWrong)) {
        continue;
      }
      List<Operand> replaced = new ArrayList<>();
      some.values().forEach(s -> replaced.add(cases.steps().get(s)));
      List<Place> places = new ArrayList<>();
      Map<Place, Candidate> of = new HashMap<>();
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
          fit &= mayStand(one, step.getValue());
        }
        if (fit) {
          Candidate any = group.values().iterator().next();
          Place place = Place.of(chosen, any.delay());
          places.add(place);
          of.put(place, any);
        }
      }
      best = earlier(best, first(replaced, places, of));
    }
    return best;
  }
}
