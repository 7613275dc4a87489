package dev.plumbline.run;

import dev.plumbline.cosim.DutException;
import dev.plumbline.cosim.Watch;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.rtl.Signal;
import dev.plumbline.verdict.Fact;
import dev.plumbline.verdict.Inside;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Row;
import dev.plumbline.verdict.Stage;
import dev.plumbline.verdict.Wave;
import dev.plumbline.verdict.Waveform;
import dev.plumbline.verdict.WaveformRequest;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.NavigableMap;
import java.util.Optional;
import java.util.TreeSet;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Predicate;

/** Looks inside a DUT by running a segment again in its probe build. */
final class InsideFinder {
  /** Rows in which steps are looked for. */
  private static final int SAMPLE = 4096;

  private static final int BEFORE = 12;
  private static final int AFTER = 6;

  /** Rows shown from the one in which a case went in, at most. */
  private static final int FARTHEST = 512;

  private static final String STEPS =
      "reference.steps: each step of the reference in the cycle in which its signal has it";

  private static final String EXPECTED =
      "reference.expected: what is due at outputs; x where nothing is";

  /** Longest latency at which steps are looked for. */
  private static final int MOST_DELAY = 256;

  private final Binding binding;
  private final Settings settings;
  private final Engine.Maker maker;

  InsideFinder(Binding binding, Settings settings, Engine.Maker maker) {
    this.binding = binding;
    this.settings = settings;
    this.maker = maker;
  }

  /** Looks at rows around mismatches, or around the one in which the DUT ended. */
  Inside around(Segment segment, List<Mismatch> kept, long[] rows) {
    long middle = rows[0];
    int most = Math.min(MOST_DELAY, binding.contract().flow().mostLatency());
    long first = Math.max(0, middle - Math.max(SAMPLE / 2, most + BEFORE));
    long last = Math.max(first + SAMPLE, middle + most + AFTER);
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
        new StageFinder(cases, sample, operands(), maker.sources(), top(sample) + "." + port, most);
    List<Stage> stages = new ArrayList<>();
    List<Fact> facts = new ArrayList<>();
    int n = kept.isEmpty() ? -1 : cases.indexOf(kept.get(0).caseNumber());
    if (n >= 0 && !cases.steps().isEmpty()) {
      stages.addAll(finder.stages(n));
      facts.addAll(finder.facts());
    }
    List<String> about =
        List.of(
            "segment " + segment.number() + ", from reset; around cycles " + Arrays.toString(rows),
            STEPS,
            EXPECTED);
    TreeSet<Long> shown = shown(sample, recorder, rows);
    Waveform waveform = waveform(about, sample, recorder, cases, finder, shown, path -> true);
    return new Inside(Optional.of(waveform), stages, facts);
  }

  private static String top(SignalSample sample) {
    String path = sample.signals().get(0).path();
    return path.substring(0, path.indexOf('.'));
  }

  /** A waveform of given cycles, without a mismatch. */
  Optional<Waveform> waveform(Segment segment, WaveformRequest request) {
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
    StageFinder finder = new StageFinder(cases, sample, operands(), maker.sources(), "", most);
    TreeSet<Long> shown = new TreeSet<>();
    long end = Math.min(request.last(), sample.firstRow() + sample.rows() - 1);
    for (long row = request.first(); row <= end; row++) {
      shown.add(row);
    }
    List<String> about = List.of("segment " + segment.number() + ", from reset", STEPS, EXPECTED);
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

  private Map<String, List<String>> operands() {
    return binding.contract().reference().steps().map(Datapath::operands).orElse(Map.of());
  }

  private static TreeSet<Long> shown(SignalSample sample, WindowRecorder recorder, long[] rows) {
    TreeSet<Long> shown = new TreeSet<>();
    for (long row : rows) {
      Row at = recorder.rows().get(row);
      Row origin = at == null ? null : recorder.origins().get(at.caseOut());
      long from = origin == null ? row - BEFORE : Math.min(row - BEFORE, origin.cycle() - 1);
      for (long r = Math.max(from, row - FARTHEST); r <= row + AFTER; r++) {
        if (r >= sample.firstRow() && r < sample.firstRow() + sample.rows()) {
          shown.add(r);
        }
      }
    }
    return shown;
  }

  private Waveform waveform(
      List<String> about,
      SignalSample sample,
      WindowRecorder recorder,
      StepSample cases,
      StageFinder finder,
      TreeSet<Long> shown,
      Predicate<String> wanted) {
    List<Wave> waves = new ArrayList<>();
    for (int g = 0; g < sample.signals().size(); g++) {
      Signal signal = sample.signals().get(g);
      int signalNumber = g;
      if (!wanted.test(sample.name(g))) {
        continue;
      }
      String name = sample.name(g).substring(signal.scope().length() + 1);
      waves.add(
          new Wave(
              signal.scope(),
              name,
              signal.width(),
              shown.stream().map(row -> sample.bits(signalNumber, row)).toList()));
    }
    expected(waves, shown, recorder.rows());
    steps(waves, shown, cases, finder);
    return new Waveform(about, List.copyOf(shown), waves);
  }

  /** What was due at the outputs, beside the number of the case. */
  private void expected(List<Wave> waves, TreeSet<Long> shown, NavigableMap<Long, Row> rows) {
    List<Operand> outputs = binding.layout().outputs();
    for (int o = 0; o < outputs.size(); o++) {
      String port = binding.layout().outputPorts().get(o).replace('.', '_');
      int width = outputs.get(o).format().width();
      int number = o;
      boolean exact =
          rows.values().stream()
              .allMatch(
                  row -> !row.isDue() || row.low().get(number).equals(row.high().get(number)));
      add(waves, exact ? port : port + "_low", width, shown, rows, row -> row.low().get(number));
      if (!exact) {
        add(waves, port + "_high", width, shown, rows, row -> row.high().get(number));
      }
      add(
          waves,
          port + "_wrong",
          1,
          shown,
          rows,
          row -> row.wrong().get(number) ? BigInteger.ONE : BigInteger.ZERO);
    }
    add(waves, "case_out", 32, shown, rows, row -> BigInteger.valueOf(row.caseOut()));
  }

  private static void add(
      List<Wave> waves,
      String name,
      int width,
      TreeSet<Long> shown,
      NavigableMap<Long, Row> rows,
      java.util.function.Function<Row, BigInteger> code) {
    List<BigInteger> values = new ArrayList<>();
    for (long at : shown) {
      Row row = rows.get(at);
      values.add(row == null || !row.isDue() ? null : bits(code.apply(row), width));
    }
    waves.add(new Wave("reference.expected", name, width, values));
  }

  private static BigInteger bits(BigInteger code, int width) {
    return code.mod(BigInteger.ONE.shiftLeft(width));
  }

  private static void steps(
      List<Wave> waves, TreeSet<Long> shown, StepSample cases, StageFinder finder) {
    Map<Long, Integer> byRow = new HashMap<>();
    for (int n = 0; n < cases.count(); n++) {
      byRow.put(cases.row(n), n);
    }
    for (int step = 0; step < cases.steps().size(); step++) {
      Operand operand = cases.steps().get(step);
      int delay = finder.delay(step);
      int dot = operand.name().lastIndexOf('.');
      List<BigInteger> values = new ArrayList<>();
      for (long row : shown) {
        Integer n = byRow.get(row - delay);
        values.add(n == null ? null : bits(cases.code(step, n), operand.format().width()));
      }
      waves.add(
          new Wave(
              "reference.steps" + (dot < 0 ? "" : "." + operand.name().substring(0, dot)),
              operand.name().substring(dot + 1),
              operand.format().width(),
              values));
    }
  }
}
