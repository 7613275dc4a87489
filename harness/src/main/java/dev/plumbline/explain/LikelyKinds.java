package dev.plumbline.explain;

import dev.plumbline.contract.Reference;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.datapath.Variation;
import dev.plumbline.models.datapath.Variations;
import dev.plumbline.models.fixed.Format;
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

  private static final int[] NEIGHBOURS = {1, -1, 2, -2, 3, -3};

  /** Most changes of one kind that are told. */
  private static final int MOST_TOLD = 3;

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
  private final Function<List<long[]>, Observation> more;
  private final Map<LikelyKind, List<String>> holding = new EnumMap<>(LikelyKind.class);
  private int tried;

  /**
   * Takes what was observed.
   *
   * @param more plays further cases, one after the other
   */
  LikelyKinds(
      Reference reference, List<Observation> seen, Function<List<long[]>, Observation> more) {
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

  /** What holds, one for each kind, most likely first; none where nothing was wrong. */
  List<Hypothesis> find() {
    if (wrong(seen.get(0)).isEmpty() || reference.isStateful() || !reference.givesOneForEach()) {
      return List.of();
    }
    // In bounds any rounding is right, so that a changed one would explain nothing.
    reference
        .steps()
        .filter(steps -> reference.isExact())
        .ifPresentOrElse(this::steps, this::operands);
    List<Hypothesis> found = new ArrayList<>();
    holding.forEach((kind, changes) -> found.add(hypothesis(kind, changes)));
    return found;
  }

  private Hypothesis hypothesis(LikelyKind kind, List<String> changes) {
    String words =
        String.join("; or, the same, ", changes.subList(0, Math.min(MOST_TOLD, changes.size())));
    int more = changes.size() - MOST_TOLD;
    int wrong = seen.stream().mapToInt(one -> wrong(one).size()).sum();
    int all = seen.stream().mapToInt(one -> one.results().size()).sum();
    return new Hypothesis(
        kind,
        more > 0 ? words + "; or " + more + " more that give the same" : words,
        wrong,
        all - wrong);
  }

  private void holds(LikelyKind kind, String words) {
    holding.computeIfAbsent(kind, key -> new ArrayList<>()).add(words);
  }

  /** One step of a datapath at a time. */
  private void steps(Datapath datapath) {
    List<Result> wrong = wrong(seen.get(0));
    Predictor few =
        Predictor.near(
            seen.get(0), wrong.subList(0, Math.min(FIRST, wrong.size())), REACH, reference);
    Set<Integer> left = new LinkedHashSet<>();
    Variations quick = datapath.variations(few.places());
    few.fill(quick::input);
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
    told(left, disturbed, quick);
  }

  private void hold(
      Datapath datapath, Observation one, Set<Integer> left, Map<Integer, Integer> disturbed) {
    if (left.isEmpty() || one.places().isEmpty()) {
      return;
    }
    Predictor all = new Predictor(one, one.places(), one.results(), reference);
    Variations whole = datapath.variations(all.places());
    all.fill(whole::input);
    left.removeIf(i -> !all.agrees(whole, whole.all().get(i)));
    left.forEach(i -> disturbed.merge(i, all.disturbed(whole, whole.all().get(i)), Integer::sum));
  }

  /**
   * Those that are left give the same on every case that was tried, so that they are one
   * hypothesis. It is told by its simplest form: a change of one place before one of several; then
   * the one that changes least besides, since a step that is another in many right cases is less
   * likely; then by kind, those first that say most.
   */
  private void told(Set<Integer> left, Map<Integer, Integer> disturbed, Variations variations) {
    List<Integer> sorted = new ArrayList<>(left);
    sorted.sort(
        Comparator.comparing((Integer i) -> variations.all().get(i).places() > 1)
            .thenComparing(disturbed::get)
            .thenComparing(i -> SIMPLEST.indexOf(variations.all().get(i).kind()))
            .thenComparing(i -> i));
    if (!sorted.isEmpty()) {
      Variation first = variations.all().get(sorted.get(0));
      LikelyKind kind = LikelyKind.valueOf(first.kind().name());
      sorted.forEach(i -> holds(kind, variations.all().get(i).toString()));
    }
  }

  /** Without steps, the operands as the DUT may have taken them. */
  private void operands() {
    List<Operand> inputs = reference.inputs();
    List<Held> held = seen.stream().filter(one -> !one.places().isEmpty()).map(this::hold).toList();
    for (int i = 0; i < inputs.size(); i++) {
      int operand = i;
      Format format = inputs.get(i).format();
      if (format.words() > 1) {
        continue;
      }
      String name = "input " + inputs.get(i).name();
      for (int rows : seen.get(0).isByRow() ? NEIGHBOURS : new int[0]) {
        int far = Math.abs(rows);
        String when = far + (far == 1 ? " cycle " : " cycles ") + (rows > 0 ? "later" : "before");
        one(
            held,
            LikelyKind.NEIGHBOUR,
            name + " is that of " + when,
            (columns, places) -> move(columns.column(operand, 0), rows, places));
      }
      for (int j = i + 1; j < inputs.size(); j++) {
        int other = j;
        if (inputs.get(j).format().equals(format)) {
          one(
              held,
              LikelyKind.EXCHANGED,
              name + " and " + inputs.get(j).name() + " are exchanged",
              (columns, places) ->
                  exchange(columns.column(operand, 0), columns.column(other, 0), places));
        }
      }
      for (int bit = 0; bit < format.width(); bit++) {
        long mask = 1L << bit;
        for (boolean high : new boolean[] {false, true}) {
          one(
              held,
              LikelyKind.STUCK_BIT,
              name + " has bit " + bit + " always " + (high ? 1 : 0),
              (columns, places) -> stick(columns.column(operand, 0), format, mask, high, places));
        }
      }
    }
  }

  private static void move(long[] column, int rows, int places) {
    int length = Math.max(0, places - Math.abs(rows));
    System.arraycopy(column, Math.max(rows, 0), column, Math.max(-rows, 0), length);
  }

  private static void exchange(long[] a, long[] b, int places) {
    for (int n = 0; n < places; n++) {
      long code = a[n];
      a[n] = b[n];
      b[n] = code;
    }
  }

  private static void stick(long[] column, Format format, long mask, boolean high, int places) {
    for (int n = 0; n < places; n++) {
      column[n] = format.extend(high ? column[n] | mask : column[n] & ~mask);
    }
  }

  /** An observation beside an evaluation that has room for it. */
  private record Held(Predictor predictor, Reference.Evaluation evaluation) {}

  private Held hold(Observation one) {
    Predictor all = new Predictor(one, one.places(), one.results(), reference);
    return new Held(all, reference.open(all.places()));
  }

  /** What happens to the columns of the operands. */
  @FunctionalInterface
  private interface Change {
    void apply(Predictor.Inputs columns, int places);
  }

  private void one(List<Held> held, LikelyKind kind, String words, Change change) {
    tried++;
    for (Held each : held) {
      each.predictor().fill(each.evaluation()::input);
      change.apply(each.evaluation()::input, each.predictor().places());
      try {
        each.evaluation().run(each.predictor().places());
      } catch (RuntimeException e) {
        return; // an operand that the reference refuses
      }
      if (!each.predictor().agrees(each.evaluation())) {
        return;
      }
    }
    holds(kind, words);
  }
}
