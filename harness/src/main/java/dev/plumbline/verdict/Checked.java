package dev.plumbline.verdict;

import java.util.List;

/**
 * How much a bench checked, and how sharply.
 *
 * @param cases results that were compared, up to the end of the first segment with a mismatch
 * @param cycles cycles that were run for them, resets included
 * @param seconds wall-clock time
 * @param bounds how each output was compared
 * @param deviations how far the outputs were off, of which more than one code passes
 * @param coverage how often each coverage point was met, where the bench declares some
 * @param budgets cycles that are promised, and those that were taken
 */
public record Checked(
    long cases,
    long cycles,
    double seconds,
    List<Verdict.Bounds> bounds,
    List<Deviation> deviations,
    List<Verdict.CoveragePoint> coverage,
    List<CycleBudget> budgets) {

  /** Nothing was run. */
  public static final Checked NOTHING = of(0, 0, 0);

  public Checked {
    bounds = List.copyOf(bounds);
    deviations = List.copyOf(deviations);
    coverage = List.copyOf(coverage);
    budgets = List.copyOf(budgets);
  }

  /**
   * What promises no cycles.
   *
   * @param cases results that were compared
   * @param cycles cycles that were run for them
   * @param seconds wall-clock time
   * @param bounds how each output was compared
   * @param deviations how far the outputs were off
   * @param coverage how often each coverage point was met
   */
  public Checked(
      long cases,
      long cycles,
      double seconds,
      List<Verdict.Bounds> bounds,
      List<Deviation> deviations,
      List<Verdict.CoveragePoint> coverage) {
    this(cases, cycles, seconds, bounds, deviations, coverage, List.of());
  }

  /**
   * What was compared bit for bit, without coverage points.
   *
   * @param cases results that were compared
   * @param cycles cycles that were run for them
   * @param seconds wall-clock time
   * @return no bounds, deviations or coverage points
   */
  public static Checked of(long cases, long cycles, double seconds) {
    return new Checked(cases, cycles, seconds, List.of(), List.of(), List.of());
  }

  /**
   * The same with cycles that are promised.
   *
   * @param promised them, and those that were taken
   * @return a copy
   */
  public Checked withBudgets(List<CycleBudget> promised) {
    return new Checked(cases, cycles, seconds, bounds, deviations, coverage, promised);
  }
}
