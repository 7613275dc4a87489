package dev.plumbline.check;

import dev.plumbline.check.Verdict.Outcome;
import java.util.ArrayList;
import java.util.List;
import java.util.NavigableMap;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.TreeMap;
import java.util.stream.Collectors;

/** One run of a bench: the stretches, the comparison of initial states, the evidence. */
final class BenchRun {
  /** Rows kept before and after a mismatch. */
  private static final int BEFORE = 12;

  private static final int AFTER = 6;

  /** Cases that are run again from other initial states. */
  private static final int STATE_CASES = 4096;

  private final Bench bench;
  private final Binding binding;
  private final Layout layout;
  private final long started = System.nanoTime();

  BenchRun(Bench bench) {
    this.bench = bench;
    this.binding = bench.binding();
    this.layout = binding.layout();
  }

  /** A verdict, and what the DUT threw when it ended by itself. */
  record Ending(Verdict verdict, Throwable thrown) {}

  Ending run() throws InterruptedException {
    Totals totals = noTotals();
    long stretches = (bench.cases() + Stretch.CASES - 1) / Stretch.CASES;
    new StretchPool<>(stretches, totals, this::bulkRunner).run(bench.threads());
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
    return new Totals(binding.checks(), situationNames().size());
  }

  private List<String> situationNames() {
    return bench.situations().map(Situations::names).orElse(List.of());
  }

  private StretchPool.Runner<StretchRunner.Result> bulkRunner() {
    StretchRunner runner =
        new StretchRunner(binding, bench.settings(), bench.maker(), bench.situations());
    return number -> runner.run(Stretch.of(bench.streamSeed(), number, bench.cases()));
  }

  private StretchRunner runner() {
    return new StretchRunner(binding, bench.settings(), bench.maker());
  }

  private Ending ended(Totals totals, Throwable thrown) {
    String message = thrown.getMessage() == null ? thrown.toString() : thrown.getMessage();
    return new Ending(
        verdict(Outcome.DUT_ENDED, message, totals, 0, List.of(), List.of(), -1, ""), thrown);
  }

  private Verdict withoutMismatch(Totals totals) {
    String explanation = "";
    if (totals.cases() == 0) {
      explanation = "no answer was ever due: not one case was compared";
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
              .filter(situation -> situation.met() == 0)
              .map(Verdict.Situation::name)
              .collect(Collectors.joining(", "));
      outcome = explanation.isEmpty() ? Outcome.PASS : Outcome.NEVER_MET;
    }
    return verdict(outcome, explanation, totals, 0, List.of(), List.of(), -1, "");
  }

  private List<Verdict.Situation> met(Totals totals) {
    List<Verdict.Situation> met = new ArrayList<>();
    for (String name : situationNames()) {
      met.add(new Verdict.Situation(name, totals.met()[met.size()]));
    }
    return met;
  }

  private Verdict mismatch(Totals totals) {
    StretchRunner.Result failing = totals.failing();
    long[] cycles = failing.tally().rows();
    Mismatch.Kind[] kinds = failing.tally().kinds();
    WindowRecorder recorder = new WindowRecorder(binding, cycles, reach());
    StretchRunner runner = runner();
    String text = runner.run(failing.stretch(), recorder).text();
    Diagnosis diagnosis = new Diagnosis(binding, recorder.rows());
    List<Mismatch> kept = new ArrayList<>();
    for (int i = 0; i < cycles.length; i++) {
      kept.add(diagnosis.of(cycles[i], kinds[i]));
    }
    if (dependsOnInitialState(runner, failing.stretch(), recorder.rows().get(cycles[0]))) {
      kept.set(0, as(Mismatch.Kind.INITIAL_STATE_SHOWS, kept.get(0)));
    }
    return verdict(
        Outcome.MISMATCH,
        "",
        totals,
        failing.tally().mismatches,
        kept,
        window(recorder.rows(), kept),
        failing.stretch().number(),
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
  private boolean dependsOnInitialState(StretchRunner runner, Stretch stretch, Row seen) {
    if (bench.initialStates() < 2) {
      return false;
    }
    for (Engine.Start start : List.of(Engine.Start.ZEROS, Engine.Start.ONES)) {
      WindowRecorder recorder = new WindowRecorder(binding, new long[] {seen.cycle()}, 0);
      runner.run(stretch.startingFrom(start), recorder);
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
    StretchRunner runner = runner();
    Stretch first = Stretch.of(bench.streamSeed(), 0, bench.cases());
    StateComparison before = null;
    Stretch beforeStretch = null;
    for (int i = 0; i < bench.initialStates() && bench.initialStates() > 1; i++) {
      Stretch stretch = first.startingFrom(start(i), STATE_CASES, i);
      StateComparison notes = new StateComparison(binding);
      StretchRunner.Result result = runner.run(stretch, notes);
      if (result.tally().mismatches > 0) {
        return Optional.of(mismatch(only(result)));
      }
      long cycle = before == null ? -1 : notes.firstDifference(before);
      if (cycle >= 0) {
        return Optional.of(statesDiffer(runner, cycle, beforeStretch, result));
      }
      before = notes;
      beforeStretch = stretch;
    }
    return Optional.empty();
  }

  private static Engine.Start start(int i) {
    return i == 0 ? Engine.Start.ZEROS : i == 1 ? Engine.Start.ONES : Engine.Start.RANDOM;
  }

  private Verdict statesDiffer(
      StretchRunner runner, long cycle, Stretch before, StretchRunner.Result result) {
    WindowRecorder was = new WindowRecorder(binding, new long[] {cycle}, reach());
    WindowRecorder is = new WindowRecorder(binding, new long[] {cycle}, reach());
    runner.run(before, was);
    String text = runner.run(result.stretch(), is).text();
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
        result.stretch().number(),
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

  private Totals only(StretchRunner.Result result) {
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
      long stretch,
      String text) {
    return new Verdict(
        bench.name(),
        outcome,
        explanation,
        totals.cases(),
        totals.cycles(),
        mismatches,
        kept,
        stretch,
        layout,
        rows,
        totals.bounds(),
        met(totals),
        (System.nanoTime() - started) / 1e9,
        bench.seed(),
        bench.contentHash(),
        text,
        bench.reproduce(),
        Optional.empty());
  }
}
