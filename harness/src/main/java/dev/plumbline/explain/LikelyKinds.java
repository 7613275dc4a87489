package dev.plumbline.explain;

import dev.plumbline.contract.Reference;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Variation;
import dev.plumbline.models.datapath.Variations;
import dev.plumbline.verdict.MismatchGroup.Hypothesis;
import dev.plumbline.verdict.MismatchGroup.LikelyKind;
import dev.plumbline.window.Observation;
import dev.plumbline.window.Observation.Result;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;

/**
 * Tries changed references on what was observed: one holds when every result agrees with it, those
 * that are wrong and those that are right. The unchanged one does not hold where a result is wrong.
 */
final class LikelyKinds {
  /** Wrong results that are looked at first, to be quickly done with most changes. */
  private static final int FIRST = 8;

  /** Cycles around them that are looked at with them. */
  private static final int REACH = 4;

  /** Most changes of one kind that are reported. */
  private static final int MOST_REPORTED = 3;

  /** How often cases are made that tell apart what is left. */
  private static final int MOST_ROUNDS = 8;

  /** Of changes that cannot be told apart, the kind that says most comes first. */
  private static final List<Variation.Kind> SIMPLEST =
      List.of(
          Variation.Kind.ROUNDING,
          Variation.Kind.OVERFLOW,
          Variation.Kind.CONSTANT,
          Variation.Kind.DECISION,
          Variation.Kind.SIGN,
          Variation.Kind.EXCHANGED,
          Variation.Kind.WIDTH,
          Variation.Kind.NEIGHBOUR,
          Variation.Kind.STUCK_BIT);

  private final List<Observation> seen; // the first has a wrong result
  private final Reference reference;
  private final Function<List<long[]>, Optional<Observation>> more;
  private final Map<LikelyKind, List<String>> holding = new EnumMap<>(LikelyKind.class);
  private List<Integer> changes = List.of();
  private int tried;

  /**
   * Takes what was observed.
   *
   * @param more plays further cases, one after the other, if the reference is for such cases
   */
  LikelyKinds(
      Reference reference,
      List<Observation> seen,
      Function<List<long[]>, Optional<Observation>> more) {
    this.reference = reference;
    this.seen = new ArrayList<>(seen);
    this.more = more;
  }

  private static List<Result> wrong(Observation one) {
    return one.results().stream().filter(Result::wrong).toList();
  }

  int tried() {
    return tried;
  }

  /** The changes of steps that hold, by their number, most likely first. */
  List<Integer> changes() {
    return changes;
  }

  /** What holds, one for each kind, most likely first; none where nothing was wrong. */
  List<Hypothesis> find() {
    if (wrong(seen.get(0)).isEmpty() || !reference.givesOneForEach()) {
      return List.of();
    }
    // In bounds any rounding is right, so that a changed one would explain nothing.
    reference.exactSteps().ifPresent(this::steps);
    if (holding.isEmpty()) {
      SuspectKinds suspects = new SuspectKinds(reference, seen);
      suspects
          .find()
          .forEach(one -> holds(LikelyKind.valueOf(one.kind().name()), List.of(one.words())));
      tried += suspects.tried();
    }
    if (holding.isEmpty()) {
      ResultKinds results = new ResultKinds(reference, seen);
      results.find().forEach(this::holds);
      tried += results.tried();
    }
    List<Hypothesis> found = new ArrayList<>();
    holding.forEach((kind, changes) -> found.add(hypothesis(kind, changes)));
    return found;
  }

  private Hypothesis hypothesis(LikelyKind kind, List<String> changes) {
    String words =
        String.join(
            "; or, the same, ", changes.subList(0, Math.min(MOST_REPORTED, changes.size())));
    int more = changes.size() - MOST_REPORTED;
    int wrong = seen.stream().mapToInt(one -> wrong(one).size()).sum();
    int all = seen.stream().mapToInt(one -> one.results().size()).sum();
    return new Hypothesis(
        kind,
        more > 0 ? words + "; or " + more + " more that give the same" : words,
        wrong,
        all - wrong);
  }

  private void holds(LikelyKind kind, List<String> words) {
    holding.computeIfAbsent(kind, key -> new ArrayList<>()).addAll(words);
  }

  /** One step of a datapath at a time. */
  private void steps(Datapath datapath) {
    List<Result> wrong = wrong(seen.get(0));
    List<Result> first = wrong.subList(0, Math.min(FIRST, wrong.size()));
    ChangedReference few =
        datapath.hasState()
            ? ChangedReference.upTo(seen.get(0), first, reference)
            : ChangedReference.near(seen.get(0), first, REACH, reference);
    Set<Integer> left = new LinkedHashSet<>();
    Variations quick = datapath.variations(few.places());
    few.fill(quick::input);
    quick.renewBefore(few.begins());
    quick.takeAt(few.taken());
    for (int i = 0; i < quick.all().size(); i++) {
      Variation change = quick.all().get(i);
      if (change.kind() == Variation.Kind.NEIGHBOUR && !seen.get(0).isByRow()) {
        continue;
      }
      tried++;
      if (few.agrees(quick, change)) {
        left.add(i);
      }
    }
    Map<Integer, Integer> disturbed = new HashMap<>();
    seen.forEach(one -> hold(datapath, one, left, disturbed));
    Separator separator = new Separator(datapath, reference, more);
    for (int round = 0; round < MOST_ROUNDS && left.size() > 1; round++) {
      Optional<Observation> further = separator.further(left, seen, round);
      if (further.isEmpty()) {
        break;
      }
      seen.add(further.get());
      hold(datapath, further.get(), left, disturbed);
    }
    report(left, disturbed, quick);
  }

  private void hold(
      Datapath datapath, Observation one, Set<Integer> left, Map<Integer, Integer> disturbed) {
    if (left.isEmpty() || one.places().isEmpty()) {
      return;
    }
    ChangedReference all = new ChangedReference(one, one.places(), one.results(), reference);
    Variations whole = datapath.variations(all.places());
    all.fill(whole::input);
    whole.renewBefore(all.begins());
    whole.takeAt(all.taken());
    left.removeIf(i -> !all.agrees(whole, whole.all().get(i)));
    left.forEach(i -> disturbed.merge(i, all.disturbed(whole, whole.all().get(i)), Integer::sum));
  }

  /**
   * Those that are left give the same on every case that was tried, so that they are one
   * hypothesis. It is reported by its simplest form: a change of one place before one of several;
   * then what a decision rests on before another flag that happens to be the same; then the one
   * that changes least besides, since a step that is another in many right cases is less likely;
   * then by kind, those first that say most.
   */
  private void report(Set<Integer> left, Map<Integer, Integer> disturbed, Variations variations) {
    List<Integer> sorted = new ArrayList<>(left);
    sorted.sort(
        Comparator.comparing((Integer i) -> variations.all().get(i).places() > 1)
            .thenComparing(i -> variations.all().get(i).isOtherFlag())
            .thenComparing(disturbed::get)
            .thenComparing(i -> SIMPLEST.indexOf(variations.all().get(i).kind()))
            .thenComparing(i -> i));
    changes = List.copyOf(sorted);
    if (!sorted.isEmpty()) {
      Variation first = variations.all().get(sorted.get(0));
      LikelyKind kind = LikelyKind.valueOf(first.kind().name());
      holds(kind, sorted.stream().map(i -> variations.all().get(i).toString()).toList());
    }
  }
}
