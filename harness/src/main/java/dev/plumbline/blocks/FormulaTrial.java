package dev.plumbline.blocks;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.solid.Sphere.Formula;
import dev.plumbline.verdict.Verdict;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;

/** Holds a sphere's results to the bounds of each formula: a few cases, and more where they fit. */
final class FormulaTrial {
  private static final long FEW = 1_000;

  private final Function<Formula, Datapath> bounds;
  private final Held held;

  /** Runs so many cases against a datapath's bounds. */
  @FunctionalInterface
  interface Held {
    Verdict to(Datapath datapath, long cases);
  }

  FormulaTrial(Function<Formula, Datapath> bounds, Held held) {
    this.bounds = bounds;
    this.held = held;
  }

  /** The narrowest formula that all cases fit; none where that is ANY, or not even ANY fits. */
  Optional<MeasuredFormula> of(long cases) {
    List<MeasuredFormula> fitting = new ArrayList<>();
    Verdict any = null;
    for (Formula formula : Formula.values()) {
      if (formula == Formula.ANY || verdict(formula, Math.min(FEW, cases)).isEmpty()) {
        continue;
      }
      Optional<Verdict> all = verdict(formula, cases);
      if (all.isEmpty()) {
        continue;
      }
      any = any == null ? verdict(Formula.ANY, cases).orElse(null) : any;
      if (any == null) {
        return Optional.empty();
      }
      Verdict.Bounds widest = distance(any);
      Verdict.Bounds narrow = bounds(all.get(), widest.output());
      fitting.add(
          new MeasuredFormula(
              formula,
              all.get().cases(),
              narrow.output(),
              narrow.medianWidth(),
              widest.medianWidth()));
    }
    return fitting.stream()
        .min(Comparator.comparingLong(MeasuredFormula::width))
        .filter(found -> found.width() < found.widthOfAny());
  }

  private Optional<Verdict> verdict(Formula formula, long cases) {
    return Optional.of(held.to(bounds.apply(formula), cases)).filter(Verdict::isPass);
  }

  /** The output with the widest bounds: one of the distances, where there are any. */
  private static Verdict.Bounds distance(Verdict verdict) {
    return verdict.bounds().stream()
        .max(Comparator.comparingLong(Verdict.Bounds::medianWidth))
        .orElseThrow();
  }

  private static Verdict.Bounds bounds(Verdict verdict, String output) {
    return verdict.bounds().stream()
        .filter(one -> one.output().equals(output))
        .findFirst()
        .orElseThrow();
  }
}
