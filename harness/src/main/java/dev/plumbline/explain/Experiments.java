package dev.plumbline.explain;

import dev.plumbline.contract.Flow;
import dev.plumbline.drive.Binding;
import dev.plumbline.drive.Engine;
import dev.plumbline.drive.Script;
import dev.plumbline.drive.Script.Line;
import dev.plumbline.drive.Segment;
import dev.plumbline.judge.ContractRunner;
import dev.plumbline.judge.ScriptRecorder;
import dev.plumbline.judge.Tally;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.MismatchGroup.Hypothesis;
import dev.plumbline.verdict.MismatchGroup.LikelyKind;
import dev.plumbline.window.Lateness;
import dev.plumbline.window.Observation;
import dev.plumbline.window.Observation.Result;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * Runs what was wrong again with one thing taken away: resets in mid-stream, bubbles, a consumer
 * that is not ready, the cases before. What is right then depended on that.
 */
final class Experiments {
  /** Rows before and after the first mismatch. */
  private static final int BEFORE = 512;

  /** Where resets are what matters, since these are rare. */
  private static final int FAR_AFTER = 16_384;

  /** Most cases that are run in another company. */
  private static final int MOST_REPEATED = 384;

  /** Most bubbles between cases. */
  private static final int FARTHEST = 256;

  /** Mismatches that prove something. */
  private static final int FEWEST = 2;

  /** Most wrong cases that are run alone. */
  private static final int MOST_ALONE = 6;

  private final ContractRunner runner;
  private final Binding binding;
  private final Segment segment;

  Experiments(ContractRunner runner, Binding binding, Segment segment) {
    this.runner = runner;
    this.binding = binding;
    this.segment = segment;
  }

  /**
   * Whether nothing is wrong without resets in mid-stream, or without cases offered in a reset.
   * What a reset leaves in mid-stream it leaves of the initial state too, so that the first one is
   * left out as well where registers that wake up at 0 do without.
   */
  Optional<Hypothesis> reset(long row) {
    if (binding.contract().reset().port() == null || binding.beats().areSeveral()) {
      return Optional.empty();
    }
    ScriptRecorder recorder = new ScriptRecorder(row + FAR_AFTER);
    runner.run(segment, recorder);
    Script whole = recorder.script(segment);
    Tally with = runner.play(whole, new Until(row + FAR_AFTER)).tally();
    if (with.mismatches < FEWEST) {
      return Optional.empty();
    }
    int head = 0;
    while (head < whole.lines().size() && whole.lines().get(head).reset()) {
      head++;
    }
    List<Line> never = whole.lines().stream().filter(line -> !line.reset()).toList();
    List<Line> once = new ArrayList<>(whole.lines().subList(0, head));
    once.addAll(never);
    if (isRight(whole.with(once))) {
      return Optional.of(reset("without resets in mid-stream nothing is wrong", with));
    }
    boolean calm = binding.contract().flow().inValid() != null;
    List<Line> silent =
        whole.lines().stream()
            .map(
                line ->
                    line.reset() && calm ? new Line(true, false, line.ready(), line.words()) : line)
            .toList();
    if (isRight(whole.with(silent))) {
      return Optional.of(reset("without cases offered during a reset nothing is wrong", with));
    }
    Script zeros = whole.startingFrom(Engine.Start.ZEROS);
    Tally fromZeros = runner.play(zeros, new Until(row + FAR_AFTER)).tally();
    if (fromZeros.mismatches < FEWEST) {
      return Optional.empty();
    }
    return isRight(zeros.with(once)) || isRight(zeros.with(never))
        ? Optional.of(
            reset("without resets, from registers that wake up at 0, nothing is wrong", fromZeros))
        : Optional.empty();
  }

  private static Hypothesis reset(String words, Tally with) {
    return hypothesis(LikelyKind.RESET, words, with);
  }

  private boolean isRight(Script script) {
    return wrong(script) == 0;
  }

  /**
   * Runs the cases around the mismatch again in other company: one after the other, by twos, after
   * a bubble each, and far apart. Where they are all right in one way and not in another, it is the
   * gap that matters.
   */
  Optional<Hypothesis> gap(long row) {
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
    int far = Math.min(FARTHEST, 2 * flow.mostLatency() + flow.interval());
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
    List<Line> lines = Scripts.head(binding);
    for (int n = 0; n < cases.size(); n++) {
      for (int i = 0; i < (n % 2 == 0 ? beforeOthers : before); i++) {
        lines.add(new Line(false, false, true, Scripts.zeros(binding)));
      }
      lines.add(new Line(false, true, true, cases.get(n)));
    }
    return wrong(new Script(Engine.Start.ZEROS, segment.seed(), 0, lines));
  }

  private long wrong(Script script) {
    return runner.play(script, new Until(Scripts.lastRow(binding, script))).tally().mismatches;
  }

  /**
   * Whether every result comes as many cycles late or early as one does: held to a latency that is
   * so much longer or shorter, none is at a wrong time.
   */
  Optional<Hypothesis> late(Mismatch one) {
    Flow flow = binding.contract().flow();
    int cycles = one.kind() == Mismatch.Kind.EARLY ? -one.cycles() : one.cycles();
    int least = flow.leastLatency() + cycles;
    if (cycles == 0 || least < 0 || flow.latencyOf() != null) {
      return Optional.empty();
    }
    int most = flow.mostLatency() + cycles;
    ScriptRecorder recorder = new ScriptRecorder(one.cycle() + FAR_AFTER);
    runner.run(segment, recorder);
    Script whole = recorder.script(segment);
    Until last = new Until(Scripts.lastRow(binding, whole));
    Tally with = runner.play(whole, last).tally();
    Tally other =
        runner.within(flow.within(least, most, flow.interval())).play(whole, last).tally();
    boolean isInTime =
        other.groups().keySet().stream()
            .allMatch(group -> group.kind() == Mismatch.Kind.VALUE_WRONG);
    if (with.mismatches < FEWEST || other.cases < FEWEST || !isInTime) {
      return Optional.empty();
    }
    String words =
        String.format(
            Locale.ROOT,
            "every result comes %s; held to a latency of %d%s, none is early or late",
            Lateness.words(cycles),
            least,
            most == least ? "" : " to " + most);
    return Optional.of(hypothesis(LikelyKind.TIMING, words, with));
  }

  /** Whether nothing is wrong where the consumer takes every result at once. */
  Optional<Hypothesis> stall(long row) {
    if (binding.contract().flow().outReady() == null) {
      return Optional.empty();
    }
    ScriptRecorder recorder = new ScriptRecorder(row + BEFORE);
    runner.run(segment, recorder);
    Script whole = recorder.script(segment);
    Tally with = runner.play(whole, new Until(row + BEFORE)).tally();
    List<Line> ready =
        whole.lines().stream()
            .map(line -> new Line(line.reset(), line.valid(), true, line.words()))
            .toList();
    return with.mismatches < FEWEST || !isRight(whole.with(ready))
        ? Optional.empty()
        : Optional.of(
            hypothesis(
                LikelyKind.STALL, "where every result is taken at once nothing is wrong", with));
  }

  /** Whether wrong cases are right behind a reset, each alone: the reference has no state. */
  Optional<Hypothesis> alone(long row) {
    boolean hasState = binding.contract().reference().isStateful();
    if (hasState || binding.contract().reset().port() == null || binding.beats().areSeveral()) {
      return Optional.empty();
    }
    Observation around = new Observation(binding, Math.max(0, row - BEFORE), row + FAR_AFTER);
    runner.run(segment, around);
    List<Result> wrong = around.results().stream().filter(Result::wrong).toList();
    if (wrong.size() < FEWEST) {
      return Optional.empty();
    }
    for (Result one : wrong.subList(0, Math.min(MOST_ALONE, wrong.size()))) {
      long[] words = around.places().get(one.place());
      if (wrong(Scripts.following(binding, segment.seed(), List.of(words))) > 0) {
        return Optional.empty();
      }
    }
    return Optional.of(
        new Hypothesis(
            LikelyKind.LEFT_OVER,
            "behind a reset, without the cases before, those that are wrong are right",
            wrong.size(),
            around.results().size() - wrong.size()));
  }

  private static Hypothesis hypothesis(LikelyKind kind, String words, Tally with) {
    return new Hypothesis(
        kind, words, (int) with.mismatches, (int) Math.max(0, with.cases - with.mismatches));
  }
}
