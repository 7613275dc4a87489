package dev.plumbline.explain;

import dev.plumbline.contract.Flow;
import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.DutException;
import dev.plumbline.drive.Binding;
import dev.plumbline.drive.Engine;
import dev.plumbline.drive.Feed;
import dev.plumbline.drive.Script;
import dev.plumbline.drive.Script.Line;
import dev.plumbline.drive.Segment;
import dev.plumbline.judge.Checker;
import dev.plumbline.judge.ContractRunner;
import dev.plumbline.judge.ScriptRecorder;
import dev.plumbline.judge.Tally;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.MismatchGroup.Hypothesis;
import dev.plumbline.verdict.MismatchGroup.LikelyKind;
import dev.plumbline.window.Lateness;
import dev.plumbline.window.Observation;
import dev.plumbline.window.Observation.Result;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Supplier;

/**
 * What may be behind mismatches of one group: by changed references on what was observed around the
 * first, and on cases made near to those that are wrong; by running wrong cases in another company.
 */
final class Hypotheses {
  /** Rows before and after the first mismatch that are observed. */
  private static final int BEFORE = 512;

  private static final int AFTER = 2_048;

  /** The same where resets are what matters, since these are rare. */
  private static final int FAR_AFTER = 16_384;

  /** Wrong cases that others are made near to, and how many near each. */
  private static final int WRONG_CASES = 6;

  private static final int NEAR = 48;

  /** Most cases that are run in another company. */
  private static final int MOST_REPEATED = 384;

  /** Rows in which results of a stream are waited for. */
  private static final int MOST_WAIT = 4_096;

  private final ContractRunner runner;
  private final Binding binding;
  private final Segment segment;
  private int tried;

  Hypotheses(ContractRunner runner, Binding binding, Segment segment) {
    this.runner = runner;
    this.binding = binding;
    this.segment = segment;
  }

  /** How many were tried. */
  int tried() {
    return tried;
  }

  List<Hypothesis> of(Tally.Group group, long row, Optional<Mismatch> diagnosed) {
    List<Supplier<List<Hypothesis>>> inTurn = new ArrayList<>();
    if (diagnosed.filter(Hypotheses::isOfState).isPresent()) {
      inTurn.add(() -> one(() -> state(row)));
    }
    if (binding.isFixed()) {
      inTurn.add(() -> one(() -> shift(group, row)));
    }
    if (group.kind() == Mismatch.Kind.VALUE_WRONG) {
      inTurn.add(() -> values(row));
    }
    inTurn.add(() -> one(() -> reset(row)));
    inTurn.add(() -> one(() -> gap(row)));
    for (Supplier<List<Hypothesis>> next : inTurn) {
      List<Hypothesis> found = next.get();
      if (!found.isEmpty()) {
        return found;
      }
    }
    return List.of();
  }

  private List<Hypothesis> one(Supplier<Optional<Hypothesis>> hypothesis) {
    tried++;
    try {
      return hypothesis.get().stream().toList();
    } catch (DutException e) {
      return List.of(); // it ends soon after the mismatch
    }
  }

  private static boolean isOfState(Mismatch mismatch) {
    return switch (mismatch.kind()) {
      case INITIAL_STATE_SHOWS, STALE_DATA_SHOWS, INITIAL_STATE_SHOWS_WITHOUT_RESET -> true;
      default -> false;
    };
  }

  /** Whether each of the first mismatches goes away from some other initial state. */
  private Optional<Hypothesis> state(long row) {
    Tally own = runner.run(segment, new Until(row + AFTER)).tally();
    Set<Long> left = rows(own);
    int before = left.size();
    for (Engine.Start start : List.of(Engine.Start.ZEROS, Engine.Start.ONES)) {
      Segment other = segment.startingFrom(start);
      left.retainAll(rows(runner.run(other, new Until(row + AFTER)).tally()));
    }
    return left.isEmpty() && before > 0
        ? Optional.of(
            new Hypothesis(
                LikelyKind.INITIAL_STATE,
                "from registers that wake up at 0, or at 1, it is not there",
                before,
                (int) own.cases))
        : Optional.empty();
  }

  private static Set<Long> rows(Tally tally) {
    Set<Long> rows = new HashSet<>();
    tally.groups().values().forEach(rows::addAll);
    return rows;
  }

  private record Until(long last) implements ContractRunner.Watcher {
    @Override
    public void block(long firstRow, Feed feed, Checker checker) {
      // the tally is all that is wanted
    }

    @Override
    public boolean wantsMore(long rowsSoFar) {
      return rowsSoFar <= last;
    }
  }

  /** Whether everything is right at another time, of all results around. */
  private Optional<Hypothesis> shift(Tally.Group group, long row) {
    Lateness lateness = new Lateness(binding, Math.max(0, row - BEFORE), row + AFTER);
    runner.run(segment, lateness);
    Optional<Lateness.Shift> shift =
        group.kind() == Mismatch.Kind.VALUE_WRONG
            ? lateness.ofOutput(group.output())
            : lateness.ofValid();
    return shift.map(
        found -> new Hypothesis(LikelyKind.TIMING, found.words(), found.explained(), found.near()));
  }

  private List<Hypothesis> values(long row) {
    Reference reference = binding.contract().reference();
    Observation around = new Observation(binding, Math.max(0, row - BEFORE), row + AFTER);
    try {
      runner.run(segment, around);
      Observation beside = play(near(around));
      LikelyKinds kinds = new LikelyKinds(reference, List.of(around, beside), this::play);
      List<Hypothesis> found = kinds.find();
      tried += kinds.tried();
      return found;
    } catch (DutException e) {
      return List.of(); // it ends soon after the mismatch
    }
  }

  /** Runs cases one after the other. */
  private Observation play(List<long[]> cases) {
    List<Line> lines = head();
    cases.forEach(words -> lines.add(new Line(false, true, true, words)));
    Observation seen =
        new Observation(binding, 0, lines.size() + Math.max((long) latency(), MOST_WAIT));
    runner.play(new Script(Engine.Start.ZEROS, segment.seed(), 0, lines), seen);
    return seen;
  }

  /** Cases near those that are wrong: some bits of one operand are others, the rest is the same. */
  private List<long[]> near(Observation around) {
    RandomStream chance = RandomStream.of(segment.seed());
    List<long[]> near = new ArrayList<>();
    around.results().stream()
        .filter(Result::wrong)
        .limit(WRONG_CASES)
        .map(result -> around.places().get(result.place()))
        .forEach(
            words -> {
              for (int n = 0; n < NEAR; n++) {
                near.add(n == 0 ? words : changed(words, chance));
              }
            });
    return near;
  }

  private long[] changed(long[] words, RandomStream chance) {
    long[] other = words.clone();
    List<Operand> operands = binding.contract().reference().inputs();
    int chosen = chance.below(operands.size());
    int at = 0;
    for (int i = 0; i < operands.size(); i++) {
      Format format = operands.get(i).format();
      if (i == chosen && format.words() == 1) {
        long bits = 1L << chance.below(format.width());
        other[at] = format.extend(chance.below(2) == 0 ? words[at] ^ bits : words[at] + bits);
      }
      at += format.words();
    }
    return other;
  }

  private List<Line> head() {
    List<Line> lines = new ArrayList<>();
    boolean hasReset = binding.contract().reset().port() != null;
    for (int i = 0; hasReset && i < binding.contract().reset().cycles(); i++) {
      lines.add(new Line(true, binding.contract().flow().inValid() == null, true, zeros()));
    }
    return lines;
  }

  private long[] zeros() {
    return new long
        [binding.contract().reference().inputs().stream()
            .mapToInt(operand -> operand.format().words())
            .sum()];
  }

  private int latency() {
    return binding.contract().flow().mostLatency();
  }

  /** Whether nothing is wrong without resets in mid-stream, or without cases offered in a reset. */
  private Optional<Hypothesis> reset(long row) {
    if (binding.contract().reset().port() == null || binding.beats().areSeveral()) {
      return Optional.empty();
    }
    ScriptRecorder recorder = new ScriptRecorder(row + FAR_AFTER);
    runner.run(segment, recorder);
    Script whole = recorder.script(segment);
    Tally with = runner.play(whole, new Until(row + FAR_AFTER)).tally();
    int head = 0;
    while (head < whole.lines().size() && whole.lines().get(head).reset()) {
      head++;
    }
    List<Line> without = new ArrayList<>(whole.lines().subList(0, head));
    whole.lines().stream().skip(head).filter(line -> !line.reset()).forEach(without::add);
    boolean calm = binding.contract().flow().inValid() != null;
    List<Line> silent =
        whole.lines().stream()
            .map(
                line ->
                    line.reset() && calm ? new Line(true, false, line.ready(), line.words()) : line)
            .toList();
    if (with.mismatches < 2) { // one alone proves nothing
      return Optional.empty();
    }
    if (isRight(whole.with(without))) {
      return Optional.of(reset("without resets in mid-stream nothing is wrong", with));
    }
    return isRight(whole.with(silent))
        ? Optional.of(reset("without cases offered during a reset nothing is wrong", with))
        : Optional.empty();
  }

  private static Hypothesis reset(String words, Tally with) {
    return new Hypothesis(
        LikelyKind.RESET, words, (int) with.mismatches, (int) (with.cases - with.mismatches));
  }

  private boolean isRight(Script script) {
    return runner.play(script, new Until(script.lines().size() + MOST_WAIT)).tally().mismatches
        == 0;
  }

  /**
   * Runs the cases around the mismatch again in other company: one after the other, by twos, after
   * a bubble each, and far apart. Where they are all right in one way and not in another, it is the
   * gap that matters.
   */
  private Optional<Hypothesis> gap(long row) {
    Flow flow = binding.contract().flow();
    if (!flow.hasValid() || binding.beats().areSeveral()) {
      return Optional.empty();
    }
    ScriptRecorder recorder = new ScriptRecorder(row + BEFORE);
    runner.run(segment, recorder);
    List<long[]> cases =
        recorder.script(segment).lines().stream()
            .filter(line -> line.isCase() && line.words() != null)
            .map(Line::words)
            .toList();
    cases = cases.subList(Math.max(0, cases.size() - MOST_REPEATED), cases.size());
    int least = flow.interval() - 1;
    int far = 2 * flow.mostLatency() + flow.interval();
    long close = wrong(cases, least, least);
    long twos = wrong(cases, least, least + 1);
    long after = wrong(cases, least + 1, least + 1);
    long apart = wrong(cases, far, far);
    String words =
        close == 0 && after > 0
            ? "right where cases follow each other, wrong after a bubble"
            : close > 0 && apart == 0
                ? "right where cases are far apart, wrong where they follow each other"
                : close == 0 && twos > 0
                    ? "right where cases follow each other, wrong where two follow a bubble"
                    : "";
    int most = (int) Math.max(Math.max(close, twos), Math.max(after, apart));
    return words.isEmpty()
        ? Optional.empty()
        : Optional.of(new Hypothesis(LikelyKind.GAP, words, most, cases.size()));
  }

  /** Mismatches of cases with so many bubbles before each first and each second. */
  private long wrong(List<long[]> cases, int before, int beforeOthers) {
    List<Line> lines = head();
    for (int n = 0; n < cases.size(); n++) {
      for (int i = 0; i < (n % 2 == 0 ? beforeOthers : before); i++) {
        lines.add(new Line(false, false, true, zeros()));
      }
      lines.add(new Line(false, true, true, cases.get(n)));
    }
    Script script = new Script(Engine.Start.ZEROS, segment.seed(), 0, lines);
    long last = lines.size() + Math.max((long) latency(), MOST_WAIT);
    return runner.play(script, new Until(last)).tally().mismatches;
  }
}
