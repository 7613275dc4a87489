package dev.plumbline.lockstep;

import dev.plumbline.cosim.DutException;
import dev.plumbline.cosim.Watch;
import dev.plumbline.drive.Engine;
import dev.plumbline.drive.Segment;
import dev.plumbline.judge.CycleTally;
import dev.plumbline.judge.SegmentRunner;
import dev.plumbline.judge.Tally;
import dev.plumbline.rtl.Design;
import dev.plumbline.run.Explained;
import dev.plumbline.run.Subject;
import dev.plumbline.stage.Waves;
import dev.plumbline.verdict.CycleBudget;
import dev.plumbline.verdict.Fact;
import dev.plumbline.verdict.Inside;
import dev.plumbline.verdict.Layout;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.MismatchGroup;
import dev.plumbline.verdict.Stage;
import dev.plumbline.verdict.Wave;
import dev.plumbline.verdict.Waveform;
import dev.plumbline.verdict.WaveformRequest;
import dev.plumbline.window.Recording;
import dev.plumbline.window.StateNotes;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SortedSet;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Predicate;
import java.util.stream.Stream;

/** An executor's rays. */
final class LockstepSubject implements Subject {
  /** Cycles shown before a mismatch. */
  private static final int BEFORE = 200;

  /** A mismatch in so many cycles and fewer is looked at from the start of its segment. */
  private static final int FAR = 200_000;

  /** Cycles before a mismatch in which signals are held against operations. */
  private static final int SAMPLE = 2048;

  private final Executor executor;
  private final Ports ports;
  private final Driving driving;
  private final Engine.Maker maker;
  private final List<String> coverage;
  private final boolean explains;
  private final AtomicReference<Change> agreed = new AtomicReference<>(); // of the latest look

  /** Declares coverage points, and says more of a mismatch, only when asked to. */
  LockstepSubject(
      Executor executor,
      Ports ports,
      Driving driving,
      Engine.Maker maker,
      boolean covered,
      boolean explains) {
    this.explains = explains;
    this.executor = executor;
    this.ports = ports;
    this.driving = driving;
    this.maker = maker;
    this.coverage = covered ? newCoverage().names() : List.of();
  }

  /** The same, given a script. */
  LockstepSubject playing(SceneScript script) {
    return new LockstepSubject(executor, ports, driving.playing(script), maker, false, false);
  }

  /** Keeps a change that the DUT agrees with; those who look inside know what to look for. */
  void agreesWith(Change change) {
    agreed.compareAndSet(null, change);
  }

  /** The same on DUTs that are opened otherwise. */
  LockstepSubject through(Engine.Maker other) {
    return new LockstepSubject(executor, ports, driving, other, false, false);
  }

  /** Points to count, as they can come up at these ports. */
  SceneCoverage newCoverage() {
    return new SceneCoverage(
        executor,
        ports.takesAnyHit(),
        ports.has("ray_limit"),
        ports.tagMask() != 0,
        ports.has(Ports.ABORT) && driving.resetChance() > 0);
  }

  Design design() {
    return ports.design();
  }

  Executor executor() {
    return executor;
  }

  Ports ports() {
    return ports;
  }

  Driving driving() {
    return driving;
  }

  Engine open(Segment segment, int rows) {
    return maker.open(segment.opening(rows, Optional.of(ports.handshake())));
  }

  /** A ray takes about a hundred cycles, so that a segment is as long as one of other cases. */
  @Override
  public int segmentCases() {
    return 1024;
  }

  @Override
  public int stateCases() {
    return 256;
  }

  @Override
  public boolean hasReset() {
    return ports.has("rst");
  }

  @Override
  public List<String> outputs() {
    return Stream.of(ports.retired(), ports.results())
        .flatMap(List::stream)
        .map(output -> output.port)
        .toList();
  }

  @Override
  public List<String> formats() {
    return outputs().stream().map(output -> "").toList();
  }

  @Override
  public Tally emptyTally() {
    return new Tally(ports.retired().size() + ports.results().size());
  }

  @Override
  public List<CycleBudget> budgets(
      CycleTally promised, CycleTally taken, long cases, boolean held) {
    return taken.count() == 0
        ? List.of()
        : List.of(
            new CycleBudget(
                "a ray, from its acceptance to its result",
                "each ray's own, " + promised.words(),
                taken.words()));
  }

  @Override
  public Layout layout() {
    return Layout.NOTHING;
  }

  @Override
  public List<String> coverage() {
    return coverage;
  }

  @Override
  public SegmentRunner runner() {
    return new LockstepRunner(this);
  }

  @Override
  public void preparesToLookInside() {
    maker.preparesToWatch();
  }

  @Override
  public Recording record(Segment segment, long[] rows) {
    LockstepRecorder recorder = new LockstepRecorder(executor, ports, rows[0]);
    String text = new LockstepRunner(this).run(segment, recorder).text();
    return recorder.recording(text);
  }

  @Override
  public Inside inside(Segment segment, List<Mismatch> kept, long[] rows, Explained explained) {
    if (!kept.isEmpty() && rows[0] > FAR) {
      Optional<SceneExplanations.Nearer> nearer = new SceneExplanations(this, "", segment).nearer();
      if (nearer.isPresent()) {
        return playing(nearer.get().script()).inside(nearer.get(), segment, rows[0]);
      }
    }
    return inside(segment, kept.isEmpty(), rows[0]);
  }

  private Inside inside(SceneExplanations.Nearer nearer, Segment segment, long far) {
    Inside found = inside(nearer.script().segment(), false, nearer.row());
    List<Fact> facts = new ArrayList<>(found.facts());
    facts.add(
        Fact.of(
            "inside",
            "looked at from a reset on, not far before: its waveform has cycle "
                + far
                + " of segment "
                + segment.number()
                + " as cycle "
                + nearer.row()));
    return found.withFacts(facts);
  }

  private Inside inside(Segment segment, boolean ended, long wrong) {
    long first = Math.max(0, wrong - BEFORE);
    long last = wrong + LockstepRecording.AFTER;
    List<String> about =
        List.of("segment " + segment.number() + ", from reset; around cycle " + wrong);
    List<Stage> stages = List.of();
    if (!ended) {
      stages =
          executor.timing() == null
              ? stages(segment, wrong)
              : ExecutorStages.of(this, maker, segment, wrong, agreed.get());
    }
    return new Inside(
        waveform(segment, first, last, wrong, about, path -> true),
        stages,
        List.of(),
        StageFacts.of(stages));
  }

  /** What belongs to the operation that retires wrongly in a row, beside the signals inside. */
  private List<Stage> stages(Segment segment, long wrong) {
    long first = Math.max(0, wrong - SAMPLE);
    AtomicReference<Watch> opened = new AtomicReference<>();
    RetirementStages seen = retirements(segment, first, wrong, opened);
    Watch watch = opened.get();
    if (watch != null && watch.firstCycle() + watch.rows() <= wrong) {
      // Of very many signals fewer cycles are recorded: the last ones count.
      seen = retirements(segment, wrong - watch.rows() + 1, wrong, opened);
    }
    return watch == null ? List.of() : seen.stages(opened.get());
  }

  private RetirementStages retirements(
      Segment segment, long first, long wrong, AtomicReference<Watch> opened) {
    RetirementStages seen = new RetirementStages(executor, first, wrong);
    maker
        .watching(first, (int) (wrong - first + 1), opened::set)
        .ifPresent(
            probe -> {
              try {
                new LockstepRunner(
                        new LockstepSubject(executor, ports, driving, probe, false, false))
                    .run(segment, seen);
              } catch (DutException e) {
                // it ended again; what was recorded until then is there
              }
            });
    return seen;
  }

  @Override
  public Optional<Waveform> waveform(Segment segment, WaveformRequest request) {
    List<String> about = List.of("segment " + segment.number() + ", from reset");
    return waveform(
        segment, request.first(), request.last(), request.last(), about, request::takes);
  }

  private Optional<Waveform> waveform(
      Segment segment,
      long first,
      long last,
      long centre,
      List<String> about,
      Predicate<String> wanted) {
    AtomicReference<Watch> opened = new AtomicReference<>();
    Optional<Engine.Maker> probe = maker.watching(first, (int) (last - first + 1), opened::set);
    if (probe.isEmpty()) {
      return Optional.empty();
    }
    LockstepRecorder recorder = new LockstepRecorder(executor, ports, centre);
    try {
      new LockstepRunner(new LockstepSubject(executor, ports, driving, probe.get(), false, false))
          .run(segment, recorder);
    } catch (DutException e) {
      // it ended again; what was recorded until then is there
    }
    SortedSet<Long> shown = Waves.cycles(opened.get(), first, last);
    List<Wave> waves = new ArrayList<>(Waves.inside(opened.get(), shown, wanted));
    List<Recording.Stream> streams = recorder.streams();
    for (int s = 0; s < streams.size(); s++) {
      String scope = "reference.expected." + (s == streams.size() - 1 ? "result" : "retired");
      waves.addAll(Waves.expected(scope, streams.get(s), shown));
    }
    List<String> comment = new ArrayList<>(about);
    comment.add(Waves.ABOUT_EXPECTED);
    return Optional.of(new Waveform(comment, List.copyOf(shown), waves));
  }

  @Override
  public Explained explain(String bench, SegmentRunner.Result failing, List<Mismatch> kept) {
    return explains
        ? Explained.of(
            new SceneExplanations(this, bench, failing.segment()).ofMismatch(kept.get(0)))
        : Explained.NOTHING;
  }

  @Override
  public List<MismatchGroup> explainEnd(String bench, Segment segment, DutException end) {
    return explains ? new SceneExplanations(this, bench, segment).ofEnd(end) : List.of();
  }

  @Override
  public List<String> oscillating(Segment segment) {
    return maker.oscillating(
        probe ->
            new LockstepRunner(new LockstepSubject(executor, ports, driving, probe, false, false))
                .run(segment));
  }

  @Override
  public Noted note(Segment segment) {
    StateNotes notes = new StateNotes(Math.max(words(ports.retired()), words(ports.results())));
    SegmentRunner.Result result =
        new LockstepRunner(this)
            .run(
                segment,
                new LockstepRunner.Watcher() {
                  private boolean diverged;

                  @Override
                  public void row(LockstepRunner.Call call, int row) {
                    note(notes, call, row);
                    diverged = call.checker().divergence() != null;
                  }

                  @Override
                  public boolean wantsMore() {
                    return !diverged;
                  }
                });
    return new Noted(result, notes);
  }

  private static int words(List<Output> outputs) {
    return outputs.stream().mapToInt(Output::words).sum();
  }

  private static void note(StateNotes notes, LockstepRunner.Call call, int row) {
    ExecutorColumns columns = call.columns();
    if (columns.reset != null && columns.reset[row] == 1) {
      return;
    }
    for (boolean ofResult : new boolean[] {false, true}) {
      long[] valid = columns.valid(ofResult);
      if (valid != null && valid[row] == 1) {
        notes.begin(call.block().firstRow + call.from() + row, ofResult ? 1 : 0);
        for (Output output : columns.outputs(ofResult)) {
          for (long[] word : output.sampled()) {
            notes.add(word[row]);
          }
        }
      }
    }
  }

  @Override
  public String neverCompared(int output) {
    return outputs().get(output) + " was never compared";
  }
}
