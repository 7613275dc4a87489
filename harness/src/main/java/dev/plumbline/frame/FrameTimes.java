package dev.plumbline.frame;

import dev.plumbline.verdict.CycleBudget;
import dev.plumbline.verdict.Fact;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** What a frame's time comes to: cycles a pixel, a ray, and a ray of each kind. */
final class FrameTimes {

  private static final double CLOCK = 50e6; // Hz, to have a number that one can scale

  private FrameTimes() {}

  static Fact of(FrameScene scene, FrameRun run, int contexts, Optional<RayTimes> byKind) {
    long cycles = run.end - run.begin;
    long rays = scene.frame().rays().all();
    List<String> lines = new ArrayList<>();
    lines.add(
        String.format(
            Locale.ROOT,
            "%d cycles a frame, %.1f a pixel; with %d in hand %.1f a ray, %.1f an operation",
            cycles,
            (double) cycles / run.came.length,
            contexts,
            (double) cycles * contexts / rays,
            (double) cycles * contexts / scene.operations()));
    lines.add(
        String.format(
            Locale.ROOT,
            "%d rays, %.2f a pixel; at 50 MHz %.2f frames a second",
            rays,
            (double) rays / run.came.length,
            CLOCK / cycles));
    byKind.ifPresent(times -> lines.add(times.words(cycles, run.came.length)));
    return new Fact("time", lines);
  }

  /** What a frame that came whole took beside its budget; none without one. */
  static List<CycleBudget> budgets(FrameBudget budget, Optional<FrameScene> scene, FrameRun run) {
    if (budget == null) {
      return List.of();
    }
    boolean isWhole = run.missing() == 0;
    double taken = run.end - run.begin;
    double ofPixel = taken * budget.contexts() / run.came.length;
    List<CycleBudget> budgets = new ArrayList<>();
    budgets.add(against("a frame", budget.clock() / budget.rate(), isWhole, taken));
    budgets.add(against("a pixel, from its context", budget.cyclesOfPixel(), isWhole, ofPixel));
    scene.ifPresent(
        traced -> {
          double ofRay = taken * budget.contexts() / traced.frame().rays().all();
          budgets.add(against("a ray, from its context", budget.cyclesOfRay(), isWhole, ofRay));
        });
    return budgets;
  }

  private static CycleBudget against(String of, double allowed, boolean isWhole, double taken) {
    return new CycleBudget(
        of,
        String.format(Locale.ROOT, "at most %.1f", allowed),
        isWhole ? String.format(Locale.ROOT, "%.1f", taken) : "");
  }
}
