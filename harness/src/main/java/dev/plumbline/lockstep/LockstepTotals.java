package dev.plumbline.lockstep;

import dev.plumbline.run.SegmentPool;
import dev.plumbline.verdict.Layout;
import dev.plumbline.verdict.Verdict;
import dev.plumbline.verdict.Verdict.Outcome;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;

/** Segments summed up, in order, to the first that fails; and the verdict on them. */
final class LockstepTotals implements SegmentPool.Sum<LockstepRunner.Result> {
  private static final Layout NOTHING_SHOWN =
      new Layout(List.of(), List.of(), List.of(), List.of(), List.of());

  private final long started = System.nanoTime();
  private final List<String> coverage; // null where one is not declared
  private final Map<String, Long> compared = new LinkedHashMap<>();
  private final long[] met;
  private long cases;
  private long cycles;
  private LockstepRunner.Result failing;
  private Throwable thrown;

  LockstepTotals(List<String> coverage) {
    this.coverage = coverage;
    this.met = new long[coverage.size()];
  }

  @Override
  public boolean isFailure(LockstepRunner.Result result) {
    return result.finding() != null;
  }

  @Override
  public void add(LockstepRunner.Result result) {
    cases += result.cases();
    cycles += result.rows();
    result.compared().forEach((output, times) -> compared.merge(output, times, Long::sum));
    for (int i = 0; i < met.length; i++) {
      met[i] += result.met().get(i);
    }
    failing = isFailure(result) ? result : null;
  }

  @Override
  public void end(Throwable what) {
    thrown = what;
  }

  @Override
  public boolean isOver() {
    return failing != null || thrown != null;
  }

  /** What the DUT threw when it ended by itself; null when it did not. */
  Throwable thrown() {
    return thrown;
  }

  Verdict verdict(String bench, long seed, String contentHash, String repeat) {
    Outcome outcome = Outcome.PASS;
    String explanation = "";
    if (thrown != null) {
      outcome = Outcome.DUT_ENDED;
      explanation = thrown.getMessage() == null ? thrown.toString() : thrown.getMessage();
    } else if (failing != null) {
      outcome = Outcome.MISMATCH;
      explanation = failing.finding().explanation();
    } else if (cases == 0) {
      outcome = Outcome.NOTHING_CHECKED;
      explanation = "no result was ever taken: not one ray was compared";
    } else if (compared.containsValue(0L)) {
      outcome = Outcome.NOTHING_CHECKED;
      explanation = "output " + uncompared() + " was never compared";
    } else {
      explanation = neverMet();
      outcome = explanation.isEmpty() ? Outcome.PASS : Outcome.NOT_REACHED;
    }
    Finding finding = failing == null ? null : failing.finding();
    return new Verdict(
        bench,
        outcome,
        explanation,
        cases,
        cycles,
        finding == null ? 0 : 1,
        finding == null ? List.of() : List.of(finding.mismatch()),
        failing == null ? -1 : failing.number(),
        finding == null ? NOTHING_SHOWN : finding.layout(),
        finding == null ? List.of() : finding.rows(),
        bounds(),
        metCoverage(),
        (System.nanoTime() - started) / 1e9,
        seed,
        contentHash,
        failing == null ? "" : failing.text(),
        repeat,
        Optional.empty());
  }

  private String uncompared() {
    return compared.entrySet().stream()
        .filter(output -> output.getValue() == 0)
        .map(Map.Entry::getKey)
        .collect(Collectors.joining(", "));
  }

  private String neverMet() {
    return metCoverage().stream()
        .filter(point -> point.met() == 0)
        .map(Verdict.CoveragePoint::name)
        .collect(Collectors.joining("; "));
  }

  private List<Verdict.Bounds> bounds() {
    return compared.entrySet().stream()
        .map(output -> new Verdict.Bounds(output.getKey(), output.getValue(), -1, -1))
        .toList();
  }

  private List<Verdict.CoveragePoint> metCoverage() {
    List<Verdict.CoveragePoint> all = new ArrayList<>();
    for (int i = 0; i < met.length; i++) {
      if (coverage.get(i) != null) {
        all.add(new Verdict.CoveragePoint(coverage.get(i), met[i]));
      }
    }
    return all;
  }
}
