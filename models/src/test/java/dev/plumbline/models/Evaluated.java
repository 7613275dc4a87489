package dev.plumbline.models;

import dev.plumbline.models.datapath.BitEvaluation;
import dev.plumbline.models.datapath.BoundsEvaluation;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.IdealEvaluation;
import dev.plumbline.models.datapath.Operand;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** A datapath evaluated over columns of codes of any length; one column an input, one word each. */
public final class Evaluated {
  private static final int BLOCK = 1024;

  private final Datapath datapath;
  private final Map<String, long[]> columns = new LinkedHashMap<>();

  private Evaluated(Datapath datapath) {
    this.datapath = datapath;
  }

  /** The exact bits; steps may be kept by name besides the outputs. */
  public static Evaluated bits(Datapath datapath, long[][] inputs, String... steps) {
    BitEvaluation bits = datapath.bits(BLOCK);
    Evaluated result = new Evaluated(datapath);
    int cases = inputs[0].length;
    for (int from = 0; from < cases; from += BLOCK) {
      int count = Math.min(BLOCK, cases - from);
      for (int i = 0; i < inputs.length; i++) {
        System.arraycopy(inputs[i], from, bits.input(i, 0), 0, count);
      }
      bits.run(count);
      for (int i = 0; i < datapath.outputs().size(); i++) {
        result.keep(datapath.outputs().get(i).name(), cases, bits.output(i, 0), from, count);
      }
      for (String step : steps) {
        result.keep(step, cases, bits.step(step, 0), from, count);
      }
    }
    return result;
  }

  private void keep(String name, int cases, long[] column, int from, int count) {
    long[] all = columns.computeIfAbsent(name, n -> new long[cases]);
    System.arraycopy(column, 0, all, from, count);
  }

  /** The codes of an output, or of a step that was asked for. */
  public long[] codes(String name) {
    return columns.get(name);
  }

  /** The real values of an output. */
  public double real(String name, int i) {
    int index = outputs(datapath).indexOf(name);
    return datapath.outputs().get(index).format().toReal(columns.get(name)[i]);
  }

  private static List<String> outputs(Datapath datapath) {
    return datapath.outputs().stream().map(Operand::name).toList();
  }

  /** One case, given by operand name. */
  public static Map<String, Double> reals(Datapath datapath, Map<String, Long> codes) {
    long[][] inputs =
        datapath.inputs().stream()
            .map(o -> new long[] {codes.getOrDefault(o.name(), 0L)})
            .toArray(long[][]::new);
    Evaluated evaluated = bits(datapath, inputs);
    Map<String, Double> reals = new LinkedHashMap<>();
    for (String output : outputs(datapath)) {
      reals.put(output, evaluated.real(output, 0));
    }
    return reals;
  }

  /**
   * Checks the two laws of the three evaluations: bits within bounds, ideal within bounds.
   *
   * @param slack LSB that the arithmetic of doubles may lose
   * @return how wide the bounds were, one line an output: median and worst in LSB
   */
  public static List<Width> lawsHold(Datapath datapath, long[][] inputs, double slack) {
    Evaluated bits = bits(datapath, inputs);
    BoundsEvaluation bounds = datapath.bounds(BLOCK);
    IdealEvaluation ideal = datapath.ideal(BLOCK);
    int cases = inputs[0].length;
    List<long[]> widths = new ArrayList<>();
    datapath.outputs().forEach(o -> widths.add(new long[cases]));
    for (int from = 0; from < cases; from += BLOCK) {
      int count = Math.min(BLOCK, cases - from);
      for (int i = 0; i < inputs.length; i++) {
        System.arraycopy(inputs[i], from, bounds.input(i, 0), 0, count);
        System.arraycopy(inputs[i], from, ideal.input(i, 0), 0, count);
      }
      bounds.run(count);
      ideal.run(count);
      for (int o = 0; o < datapath.outputs().size(); o++) {
        Operand output = datapath.outputs().get(o);
        long[] exact = bits.codes(output.name());
        long[] low = bounds.low(o, 0);
        long[] high = bounds.high(o, 0);
        double lsbs = output.format().lsbs();
        for (int i = 0; i < count; i++) {
          double real = ideal.output(o)[i] / lsbs;
          // A wrap has no ideal: NaN, which no comparison rejects.
          if (exact[from + i] < low[i]
              || exact[from + i] > high[i]
              || real < low[i] - slack
              || real > high[i] + slack) {
            throw new AssertionError(
                output
                    + ": bounds "
                    + low[i]
                    + " to "
                    + high[i]
                    + ", bits "
                    + exact[from + i]
                    + ", ideal "
                    + real
                    + " for "
                    + describe(datapath, inputs, from + i));
          }
          widths.get(o)[from + i] = high[i] - low[i];
        }
      }
    }
    List<Width> result = new ArrayList<>();
    for (int o = 0; o < widths.size(); o++) {
      long[] sorted = widths.get(o);
      java.util.Arrays.sort(sorted);
      result.add(new Width(datapath.outputs().get(o).name(), sorted[cases / 2], sorted[cases - 1]));
    }
    return result;
  }

  /** The inputs of one case as text. */
  public static String describe(Datapath datapath, long[][] inputs, int i) {
    StringBuilder text = new StringBuilder();
    for (int k = 0; k < inputs.length; k++) {
      text.append(datapath.inputs().get(k).name()).append(' ').append(inputs[k][i]).append(' ');
    }
    return text.toString().trim();
  }

  /** How far apart the bounds of an output were, in its LSB. */
  public record Width(String output, long median, long worst) {}
}
