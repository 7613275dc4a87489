package dev.plumbline.models.solid;

import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.IdealEvaluation;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.solid.WidthCases.CaseKind;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * How wide bounds are beside what good hardware needs: half of the width over the largest error
 * that any of several units of other builds makes in the same case, by kind and output.
 */
final class GoodErrors {
  /** Decided cases that make a median. */
  private static final int ENOUGH = 10;

  /** Cases of a kind drawn at once, from which on what it has of decided ones is all. */
  private static final int MOST_CASES = 100_000;

  private final Datapath datapath;
  private final List<Operand> outputs;
  private final List<Unit> units;

  /** A unit of another build: the results of a case that mean something in it. */
  interface Unit {
    Map<String, Long> run(long[][] columns, int i);
  }

  /** What was found of a kind: cases that are surely hit, and by output the ratios of those. */
  private static final class Found {
    private final Map<String, List<Double>> ratios = new LinkedHashMap<>();
    private int decided;

    boolean few() {
      return decided < ENOUGH || ratios.values().stream().anyMatch(all -> all.size() < ENOUGH);
    }
  }

  GoodErrors(Datapath datapath, List<Unit> units) {
    this.datapath = datapath;
    this.outputs = datapath.outputs();
    this.units = units;
  }

  /**
   * Median ratios by kind and output; cases in which nothing may be off at all are left out. A kind
   * of which chance decides few cases is drawn on until an output has enough of them: a median of
   * one case would be that case.
   */
  Map<String, Map<String, Double>> medians(
      Map<String, CaseKind> kinds, List<String> of, int cases, long seed) {
    long[][] columns = WidthCases.columns(datapath, kinds.values(), cases, seed);
    Map<String, Map<String, Double>> medians = new LinkedHashMap<>();
    int from = 0;
    for (Map.Entry<String, CaseKind> kind : kinds.entrySet()) {
      Found found = new Found();
      add(found, part(columns, from, cases), of, true);
      for (int more = cases; more < MOST_CASES && found.few(); more *= 2) {
        Collection<CaseKind> again = List.of(kind.getValue());
        add(found, WidthCases.columns(datapath, again, more, seed + more), of, false);
      }
      found.ratios.forEach(
          (output, all) ->
              medians
                  .computeIfAbsent(kind.getKey(), k -> new LinkedHashMap<>())
                  .put(output, all.stream().sorted().toList().get(all.size() / 2)));
      from += cases;
    }
    return medians;
  }

  private static long[][] part(long[][] columns, int from, int cases) {
    return Arrays.stream(columns)
        .map(column -> Arrays.copyOfRange(column, from, from + cases))
        .toArray(long[][]::new);
  }

  /** Adds the ratios of cases in columns: of all, or until there are enough. */
  private void add(Found found, long[][] columns, List<String> of, boolean all) {
    Bounds bounds = new Bounds(datapath, columns);
    Map<String, double[]> ideal = ideal(columns, of);
    boolean decides = outputs.stream().anyMatch(output -> output.name().equals("hit"));
    for (int i = 0; i < columns[0].length && (all || found.few()); i++) {
      if (!decides || bounds.low("hit", i) == 1) {
        found.decided++;
        add(found.ratios, columns, i, bounds, ideal);
      }
    }
  }

  private void add(
      Map<String, List<Double>> ratios,
      long[][] columns,
      int i,
      Bounds bounds,
      Map<String, double[]> ideal) {
    Map<String, Double> worst = new LinkedHashMap<>();
    for (Unit unit : units) {
      Map<String, Long> results = unit.run(columns, i);
      ideal.forEach(
          (output, reals) -> {
            Long code = results.get(output);
            if (code != null) {
              assertTrue(
                  bounds.holds(output, i, code),
                  () ->
                      output + " " + code + " in " + bounds.describe(output, i) + ": no good unit");
              worst.merge(output, Math.abs(code - reals[i]), Math::max);
            }
          });
    }
    worst.forEach(
        (output, error) -> {
          long width = bounds.width(output, i);
          if (width > 0 || error > 1e-6) {
            ratios.computeIfAbsent(output, o -> new ArrayList<>()).add(width / 2.0 / error);
          }
        });
  }

  /** The mathematics, in LSB of each output, within its format. */
  private Map<String, double[]> ideal(long[][] columns, List<String> of) {
    int cases = columns[0].length;
    IdealEvaluation ideal = datapath.ideal(cases);
    for (int k = 0; k < columns.length; k++) {
      System.arraycopy(columns[k], 0, ideal.input(k, 0), 0, cases);
    }
    ideal.run(cases);
    Map<String, double[]> reals = new LinkedHashMap<>();
    for (int o = 0; o < outputs.size(); o++) {
      if (of.contains(outputs.get(o).name())) {
        reals.put(outputs.get(o).name(), inLsbs(ideal.output(o), outputs.get(o), cases));
      }
    }
    return reals;
  }

  private static double[] inLsbs(double[] reals, Operand output, int cases) {
    double[] lsbs = new double[cases];
    for (int i = 0; i < cases; i++) {
      double code = Math.scalb(reals[i], output.format().fractionBits());
      double least = output.format().minCode().doubleValue();
      lsbs[i] = Math.max(least, Math.min(output.format().maxCode().doubleValue(), code));
    }
    return lsbs;
  }
}
