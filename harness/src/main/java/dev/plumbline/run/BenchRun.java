package dev.plumbline.run;

import dev.plumbline.contract.ContractException;
import dev.plumbline.cosim.DutException;
import dev.plumbline.drive.Engine;
import dev.plumbline.drive.Segment;
import dev.plumbline.judge.SegmentRunner;
import dev.plumbline.verdict.Checked;
import dev.plumbline.verdict.Fact;
import dev.plumbline.verdict.Findings;
import dev.plumbline.verdict.Inside;
import dev.plumbline.verdict.Layout;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.Row;
import dev.plumbline.verdict.Verdict;
import dev.plumbline.verdict.Verdict.Outcome;
import dev.plumbline.window.EndFacts;
import dev.plumbline.window.Recording;
import dev.plumbline.window.StateNotes;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.function.Supplier;
import java.util.stream.Collectors;

/** One run of a bench: the segments, the comparison of initial states, the evidence. */
public final class BenchRun {
  /** Results in which what was in a pipeline before the first case may be seen. */
  private static final int FIRST_RESULTS = 64;

  private final Plan plan;
  private final Subject subject;
  private final long started = System.nanoTime();
  private boolean looksInside;

  /** Who hears that it is red before its evidence is there. */
  private Recorder listener = Recorder.none();

  public BenchRun(Plan plan, Subject subject) {
    this.plan = plan;
    this.subject = subject;
  }

  /**
   * Runs and records.
   *
   * @throws RuntimeException what the DUT threw, when it ended by itself; that verdict is recorded
   *     as well
   */
  public Verdict run(Recorder recorder) {
    looksInside = recorder.keepsInside();
    listener = recorder;
    Totals totals = new Totals(subject, cases -> recorder.checked(cases, plan.cases()));
    Verdict verdict;
    try {
      verdict = verdictOf(totals);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException(
          "Bench \"" + plan.name() + "\" was interrupted; it has no verdict. Run it again.", e);
    }
    return recorder.keep(verdict, totals.thrown());
  }

  /**
   * Runs a case that was kept, and nothing else, and records what came of it.
   *
   * @param segment of the script that the subject plays
   * @param file what reports call it
   * @throws RuntimeException what the DUT threw, when it ended by itself
   */
  public Verdict replay(Segment segment, String file, Recorder recorder) {
    Totals totals = new Totals(subject, cases -> recorder.checked(cases, segment.cases()));
    Verdict verdict;
    try {
      totals.add(subject.runner().run(segment));
      verdict = totals.failing() == null ? verdict(Outcome.PASS, "", totals) : mismatch(totals);
    } catch (DutException e) {
      totals.end(e);
      verdict = verdict(Outcome.DUT_ENDED, e.getMessage(), totals);
    }
    return recorder.keep(verdict.withRemark("Kept case: " + file), totals.thrown());
  }

  private Verdict verdictOf(Totals totals) throws InterruptedException {
    long segments = (plan.cases() + subject.segmentCases() - 1) / subject.segmentCases();
    new SegmentPool<>(segments, totals, this::bulkRunner).run(plan.threads());
    if (totals.thrown() instanceof ContractException refused) {
      throw refused; // the reference is at fault, not the DUT
    }
    if (totals.failing() != null) {
      return mismatch(totals);
    }
    if (totals.thrown() == null && totals.cases() > 0) {
      try {
        Optional<Verdict> differs = compareInitialStates();
        if (differs.isPresent()) {
          return differs.get();
        }
      } catch (RuntimeException e) {
        totals.end(e);
      }
    }
    return totals.thrown() == null ? withoutMismatch(totals) : ended(totals);
  }

  private Segment segment(long number) {
    Segment whole = Segment.of(plan.streamSeed(), number, plan.cases(), subject.segmentCases());
    return subject.sparesCases() ? whole.withoutResets() : whole;
  }

  private SegmentPool.Runner<SegmentRunner.Result> bulkRunner() {
    SegmentRunner runner = subject.runner();
    return number -> runner.run(segment(number));
  }

  /** What is inside is looked at last; a build for it takes longer than all that comes before. */
  private void turnsRed() {
    listener.turnsRed(plan.name());
    if (looksInside) {
      subject.preparesToLookInside();
    }
  }

  private Verdict ended(Totals totals) {
    turnsRed();
    Throwable thrown = totals.thrown();
    String message = thrown.getMessage() == null ? thrown.toString() : thrown.getMessage();
    if (!(thrown instanceof DutException end) || totals.failing() != null) {
      return verdict(Outcome.DUT_ENDED, message, totals);
    }
    Segment segment = segment(totals.segments());
    Optional<Recording> recording = subject.recordEnd(segment, end.cycle());
    List<Fact> details = new ArrayList<>();
    recording.ifPresent(
        rows -> details.addAll(EndFacts.of(end, segment.number(), subject.layout(), rows)));
    if (looksInside) {
      EndFacts.oscillation(end, () -> subject.oscillating(segment)).ifPresent(details::add);
    }
    return verdict(
        Outcome.DUT_ENDED,
        message,
        totals,
        new Findings(
            recording.isPresent() ? segment.number() : -1,
            0,
            List.of(),
            subject.layout(),
            recording.map(rows -> rows.window(0, List.of())).orElse(List.of()),
            details,
            subject.explainEnd(plan.name(), segment, end),
            recording.map(Recording::text).orElse(""),
            inside(segment, List.of(), Explained.NOTHING, end.cycle())));
  }

  private Verdict withoutMismatch(Totals totals) {
    if (totals.cases() == 0) {
      return verdict(
          Outcome.NOTHING_CHECKED, "no result was ever due: not one case was compared", totals);
    }
    List<Verdict.Bounds> bounds = totals.bounds();
    for (int output = 0; output < bounds.size(); output++) {
      if (bounds.get(output).compared() == 0) {
        return verdict(Outcome.NOTHING_CHECKED, "output " + subject.neverCompared(output), totals);
      }
      if (bounds.get(output).openShare() > plan.mostOpen()) {
        return verdict(Outcome.NOTHING_CHECKED, open(bounds.get(output)), totals);
      }
    }
    if (totals.cases() < plan.cases() && subject.required() > 0) {
      return verdict(
          Outcome.NOT_REACHED,
          String.format(
              Locale.ROOT,
              "%d of %d cases that are given one by one: resets in mid-stream took them. Leave out"
                  + " resets(...)",
              plan.cases() - totals.cases(),
              plan.cases()),
          totals);
    }
    String notMet =
        met(totals).stream()
            .filter(point -> point.met() == 0)
            .map(Verdict.CoveragePoint::name)
            .collect(Collectors.joining("; "));
    return verdict(notMet.isEmpty() ? Outcome.PASS : Outcome.NOT_REACHED, notMet, totals);
  }

  private String open(Verdict.Bounds output) {
    return String.format(
        Locale.ROOT,
        "output %s was open in %d of %d results: %s; a share of %s is allowed. Declare what narrows"
            + " the bounds (formats, formula, tolerance, budget), give cases that they decide, or"
            + " allow more by mostOpen(...)",
        output.output(),
        output.open(),
        output.compared(),
        output.isDecision()
            ? "0 and 1 would both have passed"
            : "more than half of all codes of " + output.format() + " would have passed",
        plan.mostOpen());
  }

  private List<Verdict.CoveragePoint> met(Totals totals) {
    List<Verdict.CoveragePoint> met = new ArrayList<>();
    for (String name : subject.coverage()) {
      met.add(new Verdict.CoveragePoint(name, totals.met()[met.size()]));
    }
    return met;
  }

  private Verdict mismatch(Totals totals) {
    turnsRed();
    SegmentRunner.Result failing = totals.failing();
    Recording recording = subject.record(failing.segment(), failing.tally().rows());
    Recording.Explanation explained = recording.explain(failing.tally());
    List<Mismatch> kept = new ArrayList<>(explained.kept());
    List<Fact> details = new ArrayList<>(explained.details());
    subject.given(failing.segment()).ifPresent(details::add);
    if (dependsOnInitialState(failing, recording, kept.get(0))) {
      kept.set(0, as(stateKind(failing.segment()), kept.get(0)));
    } else {
      subject.hint(failing.segment(), failing.tally().rows()).ifPresent(details::add);
    }
    Findings findings =
        findings(
            failing.segment(),
            failing.tally().mismatches,
            recording,
            explained.stream(),
            kept,
            details,
            subject.explain(plan.name(), failing, kept));
    return verdict(Outcome.MISMATCH, "", totals, findings);
  }

  /** What was asked for whatever the verdict. */
  private Inside wanted() {
    if (!looksInside || plan.waveform().isEmpty() || plan.cases() == 0) {
      return Inside.NOTHING;
    }
    return carefully(
        () ->
            new Inside(
                subject.waveform(segment(0), plan.waveform().get()),
                List.of(),
                List.of(),
                List.of()));
  }

  /** What is inside around mismatches; the verdict stands whatever becomes of that. */
  private Inside inside(Segment segment, List<Mismatch> kept, Explained explained, long... rows) {
    return looksInside
        ? carefully(() -> subject.inside(segment, kept, rows, explained))
        : Inside.NOTHING;
  }

  private static Inside carefully(Supplier<Inside> look) {
    try {
      return look.get();
    } catch (RuntimeException e) {
      String why = e.getMessage() == null ? e.toString() : e.getMessage();
      return Inside.NOTHING.withFacts(List.of(Fact.of("inside", "could not be looked at: " + why)));
    }
  }

  private Findings findings(
      Segment segment,
      long mismatches,
      Recording recording,
      int stream,
      List<Mismatch> kept,
      List<Fact> details,
      Explained explained) {
    return new Findings(
        segment.number(),
        mismatches,
        kept,
        recording.streams().get(stream).layout(),
        recording.window(stream, kept),
        details,
        explained.groups(),
        recording.text(),
        inside(segment, kept, explained, kept.stream().mapToLong(Mismatch::cycle).toArray()));
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
  private boolean dependsOnInitialState(
      SegmentRunner.Result failing, Recording recording, Mismatch first) {
    if (plan.initialStates() < 2) {
      return false;
    }
    long cycle = failing.tally().rows()[0];
    for (Engine.Start start : List.of(Engine.Start.ZEROS, Engine.Start.ONES)) {
      Recording other = subject.record(failing.segment().startingFrom(start), new long[] {cycle});
      if (recording.firstDifference(other, cycle, first.output().isPresent()) >= 0) {
        return true;
      }
    }
    return false;
  }

  /** What is known of an output that another initial state changes. */
  private Mismatch.Kind stateKind(Segment segment) {
    if (!subject.hasReset()) {
      return Mismatch.Kind.INITIAL_STATE_SHOWS_WITHOUT_RESET;
    }
    int cases = subject.stateCases();
    StateNotes zeros = subject.note(segment.startingFrom(Engine.Start.ZEROS, cases, 0)).notes();
    StateNotes ones = subject.note(segment.startingFrom(Engine.Start.ONES, cases, 1)).notes();
    return zeros.differsAtFirstOnly(ones, FIRST_RESULTS)
        ? Mismatch.Kind.STALE_DATA_SHOWS
        : Mismatch.Kind.INITIAL_STATE_SHOWS;
  }

  private Optional<Verdict> compareInitialStates() {
    Segment first = Segment.of(plan.streamSeed(), 0, plan.cases(), subject.segmentCases());
    Subject.Noted before = null;
    for (int i = 0; i < plan.initialStates() && plan.initialStates() > 1; i++) {
      Segment segment = first.startingFrom(start(i), subject.stateCases(), i);
      Subject.Noted now = subject.note(segment);
      if (now.result().tally().mismatches > 0) {
        return Optional.of(mismatch(only(now.result())));
      }
      long cycle = before == null ? -1 : now.notes().firstDifference(before.notes());
      if (cycle >= 0) {
        return Optional.of(statesDiffer(cycle, before.result(), now.result()));
      }
      before = now;
    }
    return Optional.empty();
  }

  private static Engine.Start start(int i) {
    return i == 0 ? Engine.Start.ZEROS : i == 1 ? Engine.Start.ONES : Engine.Start.RANDOM;
  }

  private Verdict statesDiffer(
      long cycle, SegmentRunner.Result before, SegmentRunner.Result result) {
    Recording was = subject.record(before.segment(), new long[] {cycle});
    Recording is = subject.record(result.segment(), new long[] {cycle});
    int stream = Math.max(0, is.firstDifference(was, cycle, true));
    Recording.Stream observed = is.streams().get(stream);
    List<Mismatch> kept =
        List.of(
            difference(
                stateKind(result.segment()),
                observed.layout(),
                was.streams().get(stream).rows().get(cycle),
                observed.rows().get(cycle)));
    Findings findings =
        findings(result.segment(), 1, is, stream, kept, List.of(), Explained.NOTHING);
    return verdict(Outcome.MISMATCH, "", only(result), findings);
  }

  /** The first output that differs, or else the last valid or ready. */
  private static Mismatch difference(Mismatch.Kind kind, Layout layout, Row was, Row is) {
    for (int o = 0; is.isDue() && o < is.outputs().size(); o++) {
      if (!is.outputs().get(o).equals(was.outputs().get(o))) {
        return stateShows(
            kind,
            is,
            layout.outputPorts().get(o),
            OptionalInt.of(o),
            is.outputs().get(o),
            was.outputs().get(o));
      }
    }
    int control = is.controls().size() - 1;
    while (control > 0 && is.controls().get(control).equals(was.controls().get(control))) {
      control--;
    }
    return stateShows(
        kind,
        is,
        layout.controls().get(control),
        OptionalInt.empty(),
        is.controls().get(control),
        was.controls().get(control));
  }

  private static Mismatch stateShows(
      Mismatch.Kind kind,
      Row row,
      String signal,
      OptionalInt output,
      BigInteger actual,
      BigInteger before) {
    return new Mismatch(
        kind, 0, row.cycle(), row.caseOut(), signal, output, actual, before, before);
  }

  private Totals only(SegmentRunner.Result result) {
    Totals totals = new Totals(subject, cases -> {});
    totals.add(result);
    return totals;
  }

  private Verdict verdict(Outcome outcome, String explanation, Totals totals) {
    return verdict(outcome, explanation, totals, Findings.nothing(subject.layout(), wanted()));
  }

  private Verdict verdict(Outcome outcome, String explanation, Totals totals, Findings findings) {
    Checked checked =
        new Checked(
            totals.cases(),
            totals.cycles(),
            (System.nanoTime() - started) / 1e9,
            totals.bounds(),
            subject.deviations(totals.deviations(), this::segment),
            met(totals),
            subject.budgets(
                totals.promisedCycles(),
                totals.takenCycles(),
                totals.cases(),
                totals.failing() == null && totals.thrown() == null));
    return Verdict.of(plan.name(), outcome, explanation, checked, plan.origin(), findings);
  }
}
