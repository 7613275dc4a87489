package dev.plumbline.models.datapath;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * Which of several descriptions somebody's results fit: how many cases lie outside the bounds of
 * each.
 *
 * <pre>{@code
 * BoundsFit<Sphere.Formula> fit =
 *     BoundsFit.of(sphere.byFormula(sphere.budget()), Map.of("entry", "hit", "exit", "hit"));
 * fit.see(operands, Map.of("hit", hit, "entry", entry, "exit", exit), 1000);
 * Optional<Sphere.Formula> formula = fit.narrowest();
 * }</pre>
 *
 * <p>It says what was met, no more: cases that no two descriptions tell apart fit both, and few
 * cases fit many. Operands and results take one word each. An instance belongs to one thread and
 * keeps counts alone; {@link #see} allocates nothing per case.
 *
 * @param <K> what names a description
 */
public final class BoundsFit<K> {
  private static final int BLOCK = 1024;

  private final Map<K, Candidate> candidates = new LinkedHashMap<>();
  private final Map<String, String> flags;
  private long cases;

  private static final class Candidate {
    private final Datapath datapath;
    private final BoundsEvaluation bounds;
    private final boolean[] outside = new boolean[BLOCK];
    private long cases;
    private double width;

    Candidate(Datapath datapath) {
      this.datapath = datapath;
      this.bounds = BoundsEvaluation.ofOutputs(datapath, BLOCK);
    }
  }

  private BoundsFit(Map<String, String> flags) {
    this.flags = Map.copyOf(flags);
  }

  /**
   * Nothing seen yet.
   *
   * @param candidates datapaths of the same inputs, by what names them
   * @param flags for a result that means something only at times, the result (a bit) that says
   *     when: it counts where the given bit is 1
   * @param <K> what names a description
   * @return counts of zero
   * @throws DatapathException when there is no candidate, or their inputs differ or are wider than
   *     a word
   */
  public static <K> BoundsFit<K> of(Map<K, Datapath> candidates, Map<String, String> flags) {
    BoundsFit<K> fit = new BoundsFit<>(flags);
    candidates.forEach((name, datapath) -> fit.candidates.put(name, new Candidate(datapath)));
    List<List<Operand>> inputs =
        candidates.values().stream().map(Datapath::inputs).distinct().toList();
    if (inputs.size() != 1 || inputs.get(0).stream().anyMatch(o -> o.format().words() > 1)) {
      throw new DatapathException(
          "Fit of results to "
              + candidates.keySet()
              + ": one candidate or more is needed, all of the same inputs of a word each, not "
              + inputs);
    }
    return fit;
  }

  /**
   * Holds cases against every candidate.
   *
   * @param operands a column of codes for each input, in order
   * @param results a column of codes for each result that there is, by the output's name; others
   *     are left unchecked
   * @param count cases from the first of each column
   * @throws DatapathException when a column is missing, a result is no output of a candidate, or an
   *     operand is outside its range
   */
  public void see(long[][] operands, Map<String, long[]> results, int count) {
    for (Map.Entry<K, Candidate> one : candidates.entrySet()) {
      see(one.getValue(), operands, results, count);
    }
    cases += count;
  }

  private void see(Candidate candidate, long[][] operands, Map<String, long[]> results, int count) {
    List<String> outputs = candidate.datapath.outputs().stream().map(Operand::name).toList();
    if (operands.length != candidate.datapath.inputs().size()
        || !outputs.containsAll(results.keySet())) {
      throw new DatapathException(
          "Fit of "
              + operands.length
              + " operands and results "
              + results.keySet()
              + " to "
              + candidate.datapath.title()
              + ": it takes "
              + candidate.datapath.inputs().size()
              + " operands and gives "
              + outputs);
    }
    for (int from = 0; from < count; from += BLOCK) {
      int block = Math.min(BLOCK, count - from);
      for (int k = 0; k < operands.length; k++) {
        System.arraycopy(operands[k], from, candidate.bounds.input(k, 0), 0, block);
      }
      candidate.bounds.run(block);
      Arrays.fill(candidate.outside, false);
      for (Map.Entry<String, long[]> result : results.entrySet()) {
        int output = outputs.indexOf(result.getKey());
        long[] flag = results.get(flags.getOrDefault(result.getKey(), ""));
        hold(candidate, output, result.getValue(), flag, from, block);
      }
      for (int i = 0; i < block; i++) {
        candidate.cases += candidate.outside[i] ? 1 : 0;
      }
    }
  }

  private static void hold(
      Candidate candidate, int output, long[] codes, long[] flag, int from, int count) {
    long[] low = candidate.bounds.low(output, 0);
    long[] high = candidate.bounds.high(output, 0);
    for (int i = 0; i < count; i++) {
      if (flag == null || flag[from + i] == 1) {
        long code = codes[from + i];
        candidate.outside[i] |= code < low[i] || code > high[i];
        candidate.width += (double) high[i] - low[i];
      }
    }
  }

  /**
   * Cases seen.
   *
   * @return 0 or more
   */
  public long cases() {
    return cases;
  }

  /**
   * Cases with a result outside a candidate's bounds.
   *
   * @param candidate as named
   * @return 0 to {@link #cases()}
   * @throws DatapathException when there is no such candidate
   */
  public long outside(K candidate) {
    Candidate found = candidates.get(candidate);
    if (found == null) {
      throw new DatapathException(
          "Fit of results to " + candidate + ": the candidates are " + candidates.keySet());
    }
    return found.cases;
  }

  /**
   * The candidates whose bounds every case lies in.
   *
   * @return in the order given; all of them before a case was seen
   */
  public Set<K> fitting() {
    Set<K> fitting = new LinkedHashSet<>();
    candidates.forEach(
        (name, candidate) -> {
          if (candidate.cases == 0) {
            fitting.add(name);
          }
        });
    return fitting;
  }

  /**
   * The fitting candidate whose bounds were the narrowest over the cases seen, all results taken
   * together in their LSB.
   *
   * @return none when none fits, or nothing was seen
   */
  public Optional<K> narrowest() {
    K narrowest = null;
    for (K name : cases == 0 ? Set.<K>of() : fitting()) {
      if (narrowest == null || candidates.get(name).width < candidates.get(narrowest).width) {
        narrowest = name;
      }
    }
    return Optional.ofNullable(narrowest);
  }

  /** How many cases of how many lie outside each candidate's bounds, and what was decided. */
  @Override
  public String toString() {
    List<String> parts = new ArrayList<>();
    candidates.forEach((name, candidate) -> parts.add(name + " " + candidate.cases));
    return "outside the bounds of "
        + cases
        + " cases: "
        + String.join(", ", parts)
        + "; narrowest that fits: "
        + narrowest().map(Object::toString).orElse("none");
  }
}
