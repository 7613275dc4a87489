package dev.plumbline.run;

import dev.plumbline.contract.CoveragePoints;
import dev.plumbline.contract.Flow;
import dev.plumbline.cosim.DutException;
import dev.plumbline.drive.Binding;
import dev.plumbline.drive.CaseDrawing;
import dev.plumbline.drive.Engine;
import dev.plumbline.drive.Feed;
import dev.plumbline.drive.Hookup;
import dev.plumbline.drive.OutputCheck;
import dev.plumbline.drive.Script;
import dev.plumbline.drive.Segment;
import dev.plumbline.drive.Settings;
import dev.plumbline.judge.Checker;
import dev.plumbline.judge.ContractRunner;
import dev.plumbline.judge.CycleTally;
import dev.plumbline.judge.DeviationTally;
import dev.plumbline.judge.SegmentRunner;
import dev.plumbline.judge.Tally;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.stage.InsideFinder;
import dev.plumbline.verdict.CycleBudget;
import dev.plumbline.verdict.Deviation;
import dev.plumbline.verdict.Fact;
import dev.plumbline.verdict.Inside;
import dev.plumbline.verdict.Layout;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.MismatchGroup;
import dev.plumbline.verdict.Waveform;
import dev.plumbline.verdict.WaveformRequest;
import dev.plumbline.window.ContractRecording;
import dev.plumbline.window.Nearer;
import dev.plumbline.window.Recording;
import dev.plumbline.window.StateNotes;
import dev.plumbline.window.Timing;
import dev.plumbline.window.WindowRecorder;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.LongFunction;
import java.util.stream.Collectors;
import java.util.stream.LongStream;
import java.util.stream.Stream;

/**
 * A contract's cases.
 *
 * @param binding the contract joined to the design
 * @param settings how the DUT is driven
 * @param maker opens a DUT
 * @param points coverage points, where there are any
 * @param alternatives what else a DUT that mismatches might follow
 * @param explainer says more of mismatches
 */
public record ContractSubject(
    Binding binding,
    Settings settings,
    Engine.Maker maker,
    Optional<CoveragePoints> points,
    Alternatives alternatives,
    Explainer explainer)
    implements Subject {
  public static final int SEGMENT_CASES = 65_536;

  private static final int STATE_CASES = 4096;
  private static final int LEAST_STATE_CASES = 64;

  /** Cycles from each initial state that are worth their time, of a block that is slow. */
  private static final int STATE_CYCLES = 1_000_000;

  @Override
  public int segmentCases() {
    return SEGMENT_CASES;
  }

  @Override
  public int stateCases() {
    int each = Math.max(1, binding.contract().flow().cyclesOfCase());
    return Math.max(LEAST_STATE_CASES, Math.min(STATE_CASES, STATE_CYCLES / each));
  }

  @Override
  public boolean hasReset() {
    return binding.contract().reset().port() != null;
  }

  @Override
  public boolean sparesCases() {
    return settings.spares();
  }

  @Override
  public long required() {
    return binding.contract().reference().givesOneForEach()
        ? settings.stimulus().size(binding.contract().reference().inputs()).orElse(0)
        : 0;
  }

  @Override
  public List<String> outputs() {
    return Stream.of(binding.checks()).map(check -> check.operand().name()).toList();
  }

  @Override
  public List<String> formats() {
    return Stream.of(binding.checks()).map(check -> check.operand().meaning()).toList();
  }

  @Override
  public Tally emptyTally() {
    return new Tally(binding.checks());
  }

  @Override
  public Layout layout() {
    return binding.layout();
  }

  @Override
  public List<String> coverage() {
    return points.map(CoveragePoints::names).orElse(List.of());
  }

  @Override
  public SegmentRunner runner() {
    return new ContractRunner(binding, settings, maker, points);
  }

  @Override
  public void preparesToLookInside() {
    maker.preparesToWatch();
  }

  @Override
  public Recording record(Segment segment, long[] rows) {
    WindowRecorder recorder = new WindowRecorder(binding, rows, Timing.reach(binding));
    String text = new ContractRunner(binding, settings, maker).run(segment, recorder).text();
    return new ContractRecording(binding, recorder.rows(), recorder.origins(), text);
  }

  @Override
  public Optional<Recording> recordEnd(Segment segment, long cycle) {
    WindowRecorder recorder =
        new WindowRecorder(binding, new long[] {cycle}, ContractRecording.BEFORE_END);
    try {
      new ContractRunner(binding, settings, maker).run(segment, recorder);
      return Optional.empty(); // it did not end again
    } catch (DutException e) {
      return Optional.of(
          new ContractRecording(binding, recorder.rows(), recorder.origins(), e.text()));
    }
  }

  @Override
  public Optional<Fact> given(Segment segment) {
    Map<String, BigInteger> held = binding.heldByChance(segment);
    return held.isEmpty()
        ? Optional.empty()
        : Optional.of(
            Fact.of(
                "held",
                held.entrySet().stream()
                    .map(port -> port.getKey() + " = 0x" + port.getValue().toString(16))
                    .collect(Collectors.joining(", "))));
  }

  @Override
  public Optional<Fact> hint(Segment segment, long[] rows) {
    return alternatives.hint(segment, rows, settings, maker);
  }

  @Override
  public Inside inside(Segment segment, List<Mismatch> kept, long[] rows, Explained explained) {
    boolean isFar = !kept.isEmpty() && rows[0] > Nearer.FAR;
    return (isFar
            ? Nearer.of(binding, settings, maker, segment, kept.get(0))
            : Optional.<Nearer>empty())
        .map(one -> inside(one, explained.changes()))
        .orElseGet(
            () ->
                new InsideFinder(binding, settings, maker)
                    .around(segment, kept, rows, explained.changes()));
  }

  private Inside inside(Nearer nearer, List<Integer> changes) {
    Mismatch mismatch = nearer.mismatch();
    Inside found =
        new InsideFinder(binding, settings.playing(nearer.script()), maker)
            .around(
                nearer.script().segment(),
                List.of(mismatch),
                new long[] {mismatch.cycle()},
                changes);
    List<Fact> facts = new ArrayList<>(found.facts());
    facts.add(
        Fact.of(
            "inside",
            "looked at from a reset on, not far before: its waveform has the mismatch in cycle "
                + mismatch.cycle()));
    return found.withFacts(facts);
  }

  @Override
  public Optional<Waveform> waveform(Segment segment, WaveformRequest request) {
    return new InsideFinder(binding, settings, maker).waveform(segment, request);
  }

  /** A result that is not there when it is due is a mismatch, so that a pass tells of each. */
  @Override
  public List<CycleBudget> budgets(
      CycleTally promised, CycleTally taken, long cases, boolean held) {
    Flow flow = binding.contract().flow();
    if (flow.mostLatency() == 0) {
      return List.of(); // no clock, or a result in the cycle of its case
    }
    boolean isOne = flow.leastLatency() == flow.mostLatency() && flow.latencyOf() == null;
    String words =
        isOne
            ? Integer.toString(flow.mostLatency())
            : flow.latencyOf() != null
                ? "each case's own, at most " + flow.mostLatency()
                : flow.leastLatency() + " to " + flow.mostLatency();
    String measured = held && cases > 0 ? words + " for each of " + cases : "";
    return List.of(new CycleBudget("a result, from its case", words, measured));
  }

  @Override
  public List<Deviation> deviations(DeviationTally[] measured, LongFunction<Segment> segments) {
    List<Deviation> deviations = new ArrayList<>();
    for (int c = 0; c < measured.length; c++) {
      if (measured[c] != null && measured[c].measured() > 0) {
        deviations.add(deviation(binding.checks()[c].operand(), measured[c], segments));
      }
    }
    return deviations;
  }

  /** The operands are drawn again: a run that passes keeps none. */
  private Deviation deviation(
      Operand output, DeviationTally measured, LongFunction<Segment> segments) {
    long caseNumber = -1;
    List<BigInteger> operands = List.of();
    if (measured.segment() >= 0) {
      Segment segment = segments.apply(measured.segment());
      caseNumber = segment.firstCase() + measured.caseNumber();
      operands = new CaseDrawing(binding, settings).operands(segment, measured.caseNumber());
    }
    return new Deviation(
        output,
        binding.contract().reference().isExact(),
        measured.measured(),
        measured.largest(),
        measured.segment(),
        caseNumber,
        binding.layout().inputs(),
        operands,
        LongStream.of(measured.histogram()).boxed().toList());
  }

  @Override
  public Explained explain(String bench, SegmentRunner.Result failing, List<Mismatch> kept) {
    return explainer.explain(bench, this, failing, kept);
  }

  @Override
  public List<MismatchGroup> explainEnd(String bench, Segment segment, DutException end) {
    return explainer.explainEnd(bench, this, segment, end);
  }

  @Override
  public List<String> oscillating(Segment segment) {
    return maker.oscillating(probe -> new ContractRunner(binding, settings, probe).run(segment));
  }

  /** The same, given the rows of a script. */
  public ContractSubject playing(Script script) {
    return new ContractSubject(
        binding, settings.playing(script), maker, Optional.empty(), alternatives, Explainer.none());
  }

  @Override
  public Noted note(Segment segment) {
    StateNotes notes = new StateNotes(words());
    return new Noted(
        new ContractRunner(binding, settings, maker)
            .run(segment, (firstRow, feed, checker) -> note(notes, firstRow, feed, checker)),
        notes);
  }

  private int words() {
    return 1 + Stream.of(binding.checks()).mapToInt(OutputCheck::words).sum();
  }

  /** Valid where it is held to account, outputs where they count. */
  private void note(StateNotes notes, long firstRow, Feed feed, Checker checker) {
    OutputCheck[] checks = binding.checks();
    Hookup dut = feed.to;
    int excused = // first rows of a design without reset
        binding.contract().reset().port() == null
            ? binding.rowsOf(binding.contract().flow().mostLatency())
            : 0;
    for (int row = 0; row < feed.rows; row++) {
      boolean valid = dut.outValid != null && dut.outValid[row] != 0;
      boolean due = checker.entry(row) >= 0;
      boolean counted = feed.isResultEdge(row) && (valid || due);
      if (feed.reset[row] != 0 || firstRow + row < excused || !counted) {
        continue;
      }
      notes.begin(firstRow + row, 0);
      notes.add(valid ? 1 : 0);
      for (int c = 0; c < checks.length; c++) {
        boolean counts = due && checks[c].counts(dut.outputs, row);
        for (long[] column : dut.outputs[c]) {
          notes.add(counts ? column[row] : 0);
        }
      }
    }
  }

  @Override
  public String neverCompared(int output) {
    return outputs().get(output)
        + " was never compared: "
        + outputs().get(binding.checks()[output].flag())
        + (binding.checks()[output].flagLow() ? " was never 0" : " was never 1");
  }
}
