package dev.plumbline.stage;

import dev.plumbline.cosim.DutException;
import dev.plumbline.cosim.Watch;
import dev.plumbline.drive.Binding;
import dev.plumbline.drive.Engine;
import dev.plumbline.drive.Segment;
import dev.plumbline.drive.Settings;
import dev.plumbline.judge.ContractRunner;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.verdict.Fact;
import dev.plumbline.verdict.Inside;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Row;
import dev.plumbline.verdict.Stage;
import dev.plumbline.verdict.Wave;
import dev.plumbline.verdict.Waveform;
import dev.plumbline.verdict.WaveformRequest;
import dev.plumbline.window.Recording;
import dev.plumbline.window.WindowRecorder;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Predicate;

/** Looks inside a DUT by running a segment again in its probe build. */
public final class InsideFinder {
  /** Rows in which steps are looked for. */
  private static final int SAMPLE = 4096;

  /** A block that takes more of them for a case is looked at for longer, up to so many times. */
  private static final int A_FEW = 8;

  private static final int MOST_TIMES = 8;

  private static final int BEFORE = 12;
  private static final int AFTER = 6;

  /** Rows shown from the one in which a case went in, at most. */
  private static final int FARTHEST = 512;

  private static final String STEPS =
      "reference.steps: each step of the reference in the cycle in which its signal has it";

  /** Longest latency at which steps are looked for. */
  private static final int MOST_DELAY = 256;

  private final Binding binding;
  private final Settings settings;
  private final Engine.Maker maker;

  public InsideFinder(Binding binding, Settings settings, Engine.Maker maker) {
    this.binding = binding;
    this.settings = settings;
    this.maker = maker;
  }

  /**
   * Looks at rows around mismatches, or around the one in which the DUT ended.
   *
   * @param changes of the reference that explain the mismatches, by number
   */
  public Inside around(Segment segment, List<Mismatch> kept, long[] rows, List<Integer> changes) {
    long middle = rows[0];
    int most = Math.min(MOST_DELAY, binding.contract().flow().mostLatency());
    int sampled = sampled();
    long first = Math.max(0, middle - Math.max(sampled / 2, most + BEFORE));
    long last = Math.max(first + sampled, middle + most + AFTER);
    AtomicReference<Watch> opened = new AtomicReference<>();
    Optional<Engine.Maker> probe = maker.watching(first, (int) (last - first), opened::set);
    if (probe.isEmpty()) {
      return Inside.NOTHING;
    }
    WindowRecorder recorder = new WindowRecorder(binding, rows, Math.min(FARTHEST, most) + BEFORE);
    StepSample cases = new StepSample(recorder, first, last);
    SignalSample sample = run(segment, probe.get(), cases, opened);
    String port = kept.isEmpty() ? "" : kept.get(0).signal().replaceFirst("\\[.*", "");
    StageFinder finder =
        new StageFinder(
            cases,
            sample,
            datapath(),
            maker.sources(),
            top(sample) + "." + port,
            most,
            settings.stages());
    List<Stage> stages = new ArrayList<>();
    List<Fact> facts = new ArrayList<>();
    int n = kept.isEmpty() ? -1 : cases.indexOf(kept.get(0).caseNumber());
    if (!kept.isEmpty() && (n >= 0 || kept.get(0).output().isEmpty())) {
      boolean hasSteps = n >= 0 && !cases.steps().isEmpty();
      stages.addAll(hasSteps ? finder.stages(n) : List.of());
      OptionalInt output = kept.get(0).output();
      Optional<FirstWrong.Found> found =
          hasSteps && output.isPresent()
              ? finder.firstWrong(
                  binding.contract().reference(),
                  binding.checks(),
                  output.getAsInt(),
                  n,
                  kept.get(0).cycles() > 0)
              : Optional.empty();
      List<ChangedStep.Found> changed =
          hasSteps && output.isPresent() ? finder.changed(changes, found) : List.of();
      facts.addAll(finder.facts(kept.get(0), found, changed));
    }
    List<String> about =
        List.of(
            beginning(segment) + "; around cycles " + Arrays.toString(rows),
            STEPS,
            Waves.ABOUT_EXPECTED);
    SortedSet<Long> shown = shown(sample, recorder, rows);
    Waveform waveform = waveform(about, sample, recorder, cases, finder, shown, path -> true);
    return new Inside(Optional.of(waveform), stages, finder.named(), facts);
  }

  /** Rows that hold cases enough, of a block that takes several for each. */
  private int sampled() {
    int each = binding.contract().flow().cyclesOfCase() / A_FEW;
    return SAMPLE * Math.max(1, Math.min(MOST_TIMES, each));
  }

  private String beginning(Segment segment) {
    boolean hasReset = binding.contract().reset().port() != null;
    return "segment " + segment.number() + (hasReset ? ", from reset" : ", from its start");
  }

  private static String top(SignalSample sample) {
    String path = sample.signals().get(0).path();
    return path.substring(0, path.indexOf('.'));
  }

  /** A waveform of given cycles, without a mismatch. */
  public Optional<Waveform> waveform(Segment segment, WaveformRequest request) {
    int most = Math.min(MOST_DELAY, binding.contract().flow().mostLatency());
    long first = Math.max(0, request.first() - most);
    long last = Math.max(request.last(), first + SAMPLE);
    AtomicReference<Watch> opened = new AtomicReference<>();
    Optional<Engine.Maker> probe = maker.watching(first, (int) (last - first + 1), opened::set);
    if (probe.isEmpty()) {
      return Optional.empty();
    }
    long[] middle = {(request.first() + request.last()) / 2};
    int reach = (int) ((request.last() - request.first()) / 2 + 1);
    WindowRecorder recorder = new WindowRecorder(binding, middle, reach);
    StepSample cases = new StepSample(recorder, first, last);
    SignalSample sample = run(segment, probe.get(), cases, opened);
    StageFinder finder =
        new StageFinder(cases, sample, datapath(), maker.sources(), "", most, settings.stages());
    SortedSet<Long> shown = Waves.cycles(sample.watch(), request.first(), request.last());
    List<String> about = List.of(beginning(segment), STEPS, Waves.ABOUT_EXPECTED);
    return Optional.of(waveform(about, sample, recorder, cases, finder, shown, request::takes));
  }

  private SignalSample run(
      Segment segment, Engine.Maker probe, StepSample cases, AtomicReference<Watch> opened) {
    try {
      new ContractRunner(binding, settings, probe).run(segment, cases);
    } catch (DutException e) {
      // it ended again; what was recorded until then is there
    }
    cases.evaluate(binding.contract().reference());
    return new SignalSample(opened.get());
  }

  private Optional<Datapath> datapath() {
    return binding.contract().reference().steps();
  }

  private static SortedSet<Long> shown(SignalSample sample, WindowRecorder recorder, long[] rows) {
    SortedSet<Long> shown = new TreeSet<>();
    for (long row : rows) {
      Row at = recorder.rows().get(row);
      Row origin = at == null ? null : recorder.origins().get(at.caseOut());
      long from = origin == null ? row - BEFORE : Math.min(row - BEFORE, origin.cycle() - 1);
      shown.addAll(Waves.cycles(sample.watch(), Math.max(from, row - FARTHEST), row + AFTER));
    }
    return shown;
  }

  private Waveform waveform(
      List<String> about,
      SignalSample sample,
      WindowRecorder recorder,
      StepSample cases,
      StageFinder finder,
      SortedSet<Long> shown,
      Predicate<String> wanted) {
    List<Wave> waves = new ArrayList<>(Waves.inside(sample.watch(), shown, wanted));
    Recording.Stream due = new Recording.Stream(binding.layout(), recorder.rows());
    waves.addAll(Waves.expected("reference.expected", due, shown));
    Map<Long, Integer> byRow = new HashMap<>();
    for (int n = 0; n < cases.count(); n++) {
      byRow.put(cases.row(n), n);
    }
    waves.addAll(Waves.steps(cases, byRow, finder, shown));
    return new Waveform(about, List.copyOf(shown), waves);
  }
}
