package dev.plumbline.run;

import dev.plumbline.judge.CycleTally;
import dev.plumbline.judge.DeviationTally;
import dev.plumbline.judge.SegmentRunner;
import dev.plumbline.judge.Tally;
import dev.plumbline.judge.WidthTally;
import dev.plumbline.verdict.Verdict;
import java.util.ArrayList;
import java.util.List;
import java.util.function.LongConsumer;

/** Segments summed up, in order, to the first that fails. */
final class Totals implements SegmentPool.Sum<SegmentRunner.Result> {
  private final List<String> outputs;
  private final List<String> formats;
  private final long[] compared;
  private final WidthTally[] widths;
  private final DeviationTally[] deviations;
  private final long[] met; // by coverage point
  private final LongConsumer progress; // is told of the cases so far
  private final CycleTally promisedCycles = new CycleTally();
  private final CycleTally takenCycles = new CycleTally();
  private long segments;
  private long cases;
  private long cycles;
  private SegmentRunner.Result failing;
  private Throwable thrown;

  Totals(Subject subject, LongConsumer progress) {
    this.progress = progress;
    this.outputs = subject.outputs();
    this.formats = subject.formats();
    Tally empty = subject.emptyTally();
    this.compared = empty.compared;
    this.widths = empty.widths;
    this.deviations = empty.deviations;
    this.met = new long[subject.coverage().size()];
  }

  @Override
  public boolean isFailure(SegmentRunner.Result result) {
    return result.tally().mismatches > 0;
  }

  @Override
  public void add(SegmentRunner.Result result) {
    Tally tally = result.tally();
    segments++;
    cases += tally.cases;
    cycles += result.cycles();
    promisedCycles.add(tally.promisedCycles);
    takenCycles.add(tally.takenCycles);
    for (int c = 0; c < compared.length; c++) {
      compared[c] += tally.compared[c];
      if (widths[c] != null) {
        widths[c].add(tally.widths[c]);
      }
      if (deviations[c] != null) {
        deviations[c].add(tally.deviations[c], result.segment().number());
      }
    }
    for (int s = 0; s < result.met().size(); s++) {
      met[s] += result.met().get(s);
    }
    if (isFailure(result)) {
      failing = result;
    }
    progress.accept(cases);
  }

  @Override
  public void end(Throwable what) {
    thrown = what;
  }

  @Override
  public boolean isOver() {
    return failing != null || thrown != null;
  }

  long[] met() {
    return met;
  }

  /** Segments that were summed up: the number of the one that ended by itself. */
  long segments() {
    return segments;
  }

  long cases() {
    return cases;
  }

  long cycles() {
    return cycles;
  }

  /** The segment with a mismatch; null when there is none. */
  SegmentRunner.Result failing() {
    return failing;
  }

  /** What the DUT threw; null when it did not. */
  Throwable thrown() {
    return thrown;
  }

  /** By output; null where it is not measured. */
  DeviationTally[] deviations() {
    return deviations;
  }

  /** Of cases whose own cycles are promised. */
  CycleTally promisedCycles() {
    return promisedCycles;
  }

  /** What the same cases took. */
  CycleTally takenCycles() {
    return takenCycles;
  }

  List<Verdict.Bounds> bounds() {
    List<Verdict.Bounds> bounds = new ArrayList<>();
    for (int c = 0; c < compared.length; c++) {
      bounds.add(
          new Verdict.Bounds(
              outputs.get(c),
              formats.get(c),
              compared[c],
              widths[c] == null ? -1 : widths[c].median(),
              widths[c] == null ? -1 : widths[c].worst(),
              widths[c] == null ? compared[c] == 0 ? -1 : 1 : widths[c].shown(),
              widths[c] == null ? 0 : widths[c].open()));
    }
    return bounds;
  }
}
