package dev.plumbline.stage;

import dev.plumbline.cosim.Watch;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.rtl.Signal;
import dev.plumbline.verdict.Row;
import dev.plumbline.verdict.Wave;
import dev.plumbline.window.Recording;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.function.Function;
import java.util.function.Predicate;

/** Makes the signals of a waveform from what was recorded. */
public final class Waves {
  /** What the scope of expected outputs shows, for a waveform's comment. */
  public static final String ABOUT_EXPECTED =
      "reference.expected: what is due at outputs; x where nothing is";

  private Waves() {}

  /** The cycles of a record from one to another. */
  public static SortedSet<Long> cycles(Watch watch, long first, long last) {
    SortedSet<Long> cycles = new TreeSet<>();
    long end = Math.min(last, watch.firstCycle() + watch.rows() - 1);
    for (long cycle = Math.max(first, watch.firstCycle()); cycle <= end; cycle++) {
      cycles.add(cycle);
    }
    return cycles;
  }

  /** Signals inside, those that are wanted by name. */
  public static List<Wave> inside(Watch watch, SortedSet<Long> shown, Predicate<String> wanted) {
    SignalSample sample = new SignalSample(watch);
    List<Wave> waves = new ArrayList<>();
    for (int g = 0; g < sample.signals().size(); g++) {
      String path = sample.name(g);
      if (!wanted.test(path)) {
        continue;
      }
      Signal signal = sample.signals().get(g);
      List<BigInteger> values = new ArrayList<>();
      for (long row : shown) {
        values.add(sample.bits(g, row));
      }
      String name = path.substring(signal.scope().length() + 1);
      waves.add(new Wave(signal.scope(), name, signal.width(), values));
    }
    return waves;
  }

  /** What was due at the outputs of a stream of results, and the number of its case. */
  public static List<Wave> expected(String scope, Recording.Stream stream, SortedSet<Long> shown) {
    List<Wave> waves = new ArrayList<>();
    List<Operand> outputs = stream.layout().outputs();
    for (int o = 0; o < outputs.size(); o++) {
      String port = stream.layout().outputPorts().get(o).replace('.', '_');
      int width = outputs.get(o).format().width();
      int number = o;
      boolean exact =
          stream.rows().values().stream()
              .allMatch(
                  row -> !row.isDue() || row.low().get(number).equals(row.high().get(number)));
      String low = exact ? port : port + "_low";
      waves.add(due(scope, low, width, stream, shown, row -> row.low().get(number)));
      if (!exact) {
        waves.add(due(scope, port + "_high", width, stream, shown, row -> row.high().get(number)));
      }
      waves.add(
          due(
              scope,
              port + "_wrong",
              1,
              stream,
              shown,
              row -> row.wrong().get(number) ? BigInteger.ONE : BigInteger.ZERO));
    }
    waves.add(due(scope, "case_out", 32, stream, shown, row -> BigInteger.valueOf(row.caseOut())));
    return waves;
  }

  private static Wave due(
      String scope,
      String name,
      int width,
      Recording.Stream stream,
      SortedSet<Long> shown,
      Function<Row, BigInteger> code) {
    List<BigInteger> values = new ArrayList<>();
    for (long at : shown) {
      Row row = stream.rows().get(at);
      values.add(row == null || !row.isDue() ? null : bits(code.apply(row), width));
    }
    return new Wave(scope, name, width, values);
  }

  /** Each step of the reference in the cycle in which its signal has it. */
  static List<Wave> steps(
      StepSample cases, Map<Long, Integer> caseAtRow, StageFinder finder, SortedSet<Long> shown) {
    List<Wave> waves = new ArrayList<>();
    for (int step = 0; step < cases.steps().size(); step++) {
      Operand operand = cases.steps().get(step);
      int delay = finder.delay(step);
      int dot = operand.name().lastIndexOf('.');
      List<BigInteger> values = new ArrayList<>();
      for (long row : shown) {
        Integer n = caseAtRow.get(row - delay);
        values.add(n == null ? null : bits(cases.code(step, n), operand.format().width()));
      }
      waves.add(
          new Wave(
              "reference.steps" + (dot < 0 ? "" : "." + operand.name().substring(0, dot)),
              operand.name().substring(dot + 1),
              operand.format().width(),
              values));
    }
    return waves;
  }

  private static BigInteger bits(BigInteger code, int width) {
    return code.mod(BigInteger.ONE.shiftLeft(width));
  }
}
