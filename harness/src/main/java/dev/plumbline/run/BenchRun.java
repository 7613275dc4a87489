package dev.plumbline.run;

import dev.plumbline.contract.CoveragePoints;
import dev.plumbline.verdict.Layout;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Row;
import dev.plumbline.verdict.Verdict;
import dev.plumbline.verdict.Verdict.Outcome;
import java.util.ArrayList;
import java.util.List;
import java.util.NavigableMap;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.TreeMap;
import java.util.stream.Collectors;

/** One run of a bench: the segments, the comparison of initial states, the evidence. */
public final class BenchRun {
  /** Rows kept before and after a mismatch. */
  private static final int BEFORE = 12;

  private static final int AFTER = 6;

  /** Cases that are run again from other initial states. */
  private static final int STATE_CASES = 4096;

  private final Plan plan;
  private final Binding binding;
  private final Layout layout;
  private final long started = System.nanoTime();

  public BenchRun(Plan plan) {
    this.plan = plan;
    this.binding = plan.binding();
    this.layout = binding.layout();
  }

  /** A verdict, and what the DUT threw when it ended by itself. */
  public record Ending(Verdict verdict, Throwable thrown) {}

  public Ending run() throws InterruptedException {
    Totals totals = noTotals();
    long segments = (plan.cases() + Segment.CASES - 1) / Segment.CASES;
    new SegmentPool<>(segments, totals, this::bulkRunner).run(plan.threads());
    if (totals.thrown() != null) {
      return ended(totals, totals.thrown());
    }
    if (totals.failing() != null) {
      return new Ending(mismatch(totals), null);
    }
    try {
      Optional<Verdict> differs = totals.cases() == 0 ? Optional.empty() : compareInitialStates();
      return new Ending(differs.orElseGet(() -> withoutMismatch(totals)), null);
    } catch (RuntimeException e) {
      return ended(totals, e);
    }
  }

  private Totals noTotals() {
    return new Totals(binding.checks(), coverageNames().size());
  }

  private List<String> coverageNames() {
    return plan.coverage().map(CoveragePoints::names).orElse(List.of());
  }

  private SegmentPool.Runner<SegmentRunner.Result> bulkRunner() {
    SegmentRunner runner =
        new SegmentRunner(binding, plan.settings(), plan.maker(), plan.coverage());
    return number -> runner.run(Segment.of(plan.streamSeed(), number, plan.cases()));
  }

  private SegmentRunner runner() {
    return new SegmentRunner(binding, plan.settings(), plan.maker());
  }

  private Ending ended(Totals totals, Throwable thrown) {
    String message = thrown.getMessage() == null ? thrown.toString() : thrown.getMessage();
    return new Ending(
        verdict(Outcome.DUT_ENDED, message, totals, 0, List.of(), List.of(), -1, ""), thrown);
  }

  private Verdict withoutMismatch(Totals totals) {
    String explanation = "";
    if (totals.cases() == 0) {
      explanation = "no result was ever due: not one case was compared";
    } else {
      for (Verdict.Bounds output : totals.bounds()) {
        if (output.compared() == 0) {
          int check =
              layout.outputs().stream().map(o -> o.name()).toList().indexOf(output.output());
          int flag = binding.checks()[check].flag();
          explanation =
              "output "
                  + output.output()
                  + " was never compared: "
                  + layout.outputs().get(flag).name()
                  + " was never 1";
          break;
        }
      }
    }
    Outcome outcome = explanation.isEmpty() ? Outcome.PASS : Outcome.NOTHING_CHECKED;
    if (outcome == Outcome.PASS) {
      explanation =
          met(totals).stream()
              .filter(point -> point.met() == 0)
              .map(Verdict.CoveragePoint::name)
              .collect(Collectors.joining(", "));
      outcome = explanation.isEmpty() ? Outcome.PASS : Outcome.NOT_REACHED;
    }
    return verdict(outcome, explanation, totals, 0, List.of(), List.of(), -1, "");
  }

  private List<Verdict.CoveragePoint> met(Totals totals) {
    List<Verdict.CoveragePoint> met = new ArrayList<>();
    for (String name : coverageNames()) {
      met.add(new Verdict.CoveragePoint(name, totals.met()[met.size()]));
    }
    return met;
  }

  private Verdict mismatch(Totals totals) {
    SegmentRunner.Result failing = totals.failing();
    long[] cycles = failing.tally().rows();
    Mismatch.Kind[] kinds = failing.tally().kinds();
    WindowRecorder recorder = new WindowRecorder(binding, cycles, reach());
    SegmentRunner runner = runner();
    String text = runner.run(failing.segment(), recorder).text();
    Diagnosis diagnosis = new Diagnosis(binding, recorder.rows());
    List<Mismatch> kept = new ArrayList<>();
    for (int i = 0; i < cycles.length; i++) {
      kept.add(diagnosis.of(cycles[i], kinds[i]));
    }
    if (dependsOnInitialState(runner, failing.segment(), recorder.rows().get(cycles[0]))) {
      kept.set(0, as(Mismatch.Kind.INITIAL_STATE_SHOWS, kept.get(0)));
    }
    return verdict(
        Outcome.MISMATCH,
        "",
        totals,
        failing.tally().mismatches,
        kept,
        window(recorder.rows(), kept),
        failing.segment().number(),
        text);
  }

  private static int reach() {
    return Diagnosis.FARTHEST + Diagnosis.RUN;
  }

  private static Mismatch as(Mismatch.Kind kind, Mismatch mismatch) {
    return new Mismatch(
        kind,
        0,
        mismatch.cycle(),
        mismatch.caseNumber(),
        mismatch.signal(),
        mismatch.output(),
        mismatch.actual(),
        mismatch.low(),
        mismatch.high());
  }

  /** Whether another initial state changes what the first mismatching row shows. */
  private boolean dependsOnInitialState(SegmentRunner runner, Segment segment, Row seen) {
    if (plan.initialStates() < 2) {
      return false;
    }
    for (Engine.Start start : List.of(Engine.Start.ZEROS, Engine.Start.ONES)) {
      WindowRecorder recorder = new WindowRecorder(binding, new long[] {seen.cycle()}, 0);
      runner.run(segment.startingFrom(start), recorder);
      Row other = recorder.rows().get(seen.cycle());
      if (other == null
          || !other.controls().equals(seen.controls())
          || (seen.isDue() && !other.outputs().equals(seen.outputs()))) {
        return true;
      }
    }
    return false;
  }

  private Optional<Verdict> compareInitialStates() {
    SegmentRunner runner = runner();
    Segment first = Segment.of(plan.streamSeed(), 0, plan.cases());
    StateComparison before = null;
    Segment beforeSegment = null;
    for (int i = 0; i < plan.initialStates() && plan.initialStates() > 1; i++) {
      Segment segment = first.startingFrom(start(i), STATE_CASES, i);
      StateComparison notes = new StateComparison(binding);
      SegmentRunner.Result result = runner.run(segment, notes);
      if (result.tally().mismatches > 0) {
        return Optional.of(mismatch(only(result)));
      }
      long cycle = before == null ? -1 : notes.firstDifference(before);
      if (cycle >= 0) {
        return Optional.of(statesDiffer(runner, cycle, beforeSegment, result));
      }
      before = notes;
      beforeSegment = segment;
    }
    return Optional.empty();
  }

  private static Engine.Start start(int i) {
    return i == 0 ? Engine.Start.ZEROS : i == 1 ? Engine.Start.ONES : Engine.Start.RANDOM;
  }

  private Verdict statesDiffer(
      SegmentRunner runner, long cycle, Segment before, SegmentRunner.Result result) {
    WindowRecorder was = new WindowRecorder(binding, new long[] {cycle}, reach());
    WindowRecorder is = new WindowRecorder(binding, new long[] {cycle}, reach());
    runner.run(before, was);
    String text = runner.run(result.segment(), is).text();
    Row left = was.rows().get(cycle);
    Row right = is.rows().get(cycle);
    Mismatch mismatch = null;
    for (int o = 0; right.isDue() && mismatch == null && o < right.outputs().size(); o++) {
      if (!right.outputs().get(o).equals(left.outputs().get(o))) {
        mismatch =
            new Mismatch(
                Mismatch.Kind.INITIAL_STATE_SHOWS,
                0,
                cycle,
                right.caseOut(),
                layout.outputPorts().get(o),
                OptionalInt.of(o),
                right.outputs().get(o),
                left.outputs().get(o),
                left.outputs().get(o));
      }
    }
    if (mismatch == null) {
      int valid = layout.controls().indexOf(binding.contract().flow().outValid());
      mismatch =
          new Mismatch(
              Mismatch.Kind.INITIAL_STATE_SHOWS,
              0,
              cycle,
              right.caseOut(),
              layout.controls().get(valid),
              OptionalInt.empty(),
              right.controls().get(valid),
              left.controls().get(valid),
              left.controls().get(valid));
    }
    List<Mismatch> kept = List.of(mismatch);
    return verdict(
        Outcome.MISMATCH,
        "",
        only(result),
        1,
        kept,
        window(is.rows(), kept),
        result.segment().number(),
        text);
  }

  private List<Row> window(NavigableMap<Long, Row> rows, List<Mismatch> kept) {
    TreeMap<Long, Row> window = new TreeMap<>();
    for (Mismatch mismatch : kept) {
      window.putAll(rows.subMap(mismatch.cycle() - BEFORE, true, mismatch.cycle() + AFTER, true));
    }
    for (Mismatch mismatch : kept) {
      window.computeIfPresent(mismatch.cycle(), (cycle, row) -> row.withVerdict(mismatch.words()));
    }
    window.replaceAll(
        (cycle, row) ->
            row.verdict().equals("ok") && row.wrong().contains(true)
                ? row.withVerdict("value wrong")
                : row);
    return List.copyOf(window.values());
  }

  private Totals only(SegmentRunner.Result result) {
    Totals totals = noTotals();
    totals.add(result);
    return totals;
  }

  private Verdict verdict(
      Outcome outcome,
      String explanation,
      Totals totals,
      long mismatches,
      List<Mismatch> kept,
      List<Row> rows,
      long segment,
      String text) {
    return new Verdict(
        plan.name(),
        outcome,
        explanation,
        totals.cases(),
        totals.cycles(),
        mismatches,
        kept,
        segment,
        layout,
        rows,
        totals.bounds(),
        met(totals),
        (System.nanoTime() - started) / 1e9,
        plan.seed(),
        plan.contentHash(),
        text,
        plan.repeat(),
        Optional.empty());
  }
}
