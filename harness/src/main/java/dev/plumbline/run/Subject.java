package dev.plumbline.run;

import dev.plumbline.cosim.DutException;
import dev.plumbline.drive.Segment;
import dev.plumbline.judge.CycleTally;
import dev.plumbline.judge.DeviationTally;
import dev.plumbline.judge.SegmentRunner;
import dev.plumbline.judge.Tally;
import dev.plumbline.verdict.CycleBudget;
import dev.plumbline.verdict.Deviation;
import dev.plumbline.verdict.Fact;
import dev.plumbline.verdict.Inside;
import dev.plumbline.verdict.Layout;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.MismatchGroup;
import dev.plumbline.verdict.Waveform;
import dev.plumbline.verdict.WaveformRequest;
import dev.plumbline.window.Recording;
import dev.plumbline.window.StateNotes;
import java.util.List;
import java.util.Optional;
import java.util.function.LongFunction;

/** What a run is of: a contract's cases, or an executor's rays. It says how a segment is run. */
public interface Subject {
  /** Cases of every segment but the last. */
  int segmentCases();

  /** Most cases that are run again from other initial states. */
  int stateCases();

  /** Whether a reset is driven, which every segment begins with. */
  boolean hasReset();

  /** Whether the segments of the run go without resets in mid-stream, which take cases. */
  default boolean sparesCases() {
    return false;
  }

  /** Cases of which each has to be checked for a pass; 0 where chance draws them. */
  default long required() {
    return 0;
  }

  /** Names of the outputs that are compared, in the order of a tally. */
  List<String> outputs();

  /** Their formats, as text; empty where they are not of interest. */
  List<String> formats();

  Tally emptyTally();

  /** What rows would show, for a verdict without any. */
  Layout layout();

  /** Names of the coverage points that have to be met; none where none are declared. */
  List<String> coverage();

  /** A runner for one thread, which counts the coverage points. */
  SegmentRunner runner();

  /** Runs a segment again up to some rows and records what is around them. */
  Recording record(Segment segment, long[] rows);

  /** Runs a segment again up to the cycle in which its DUT ends by itself; records those before. */
  default Optional<Recording> recordEnd(Segment segment, long cycle) {
    return Optional.empty();
  }

  /** Begins to make what looking inside takes, beside whoever goes on meanwhile. */
  default void preparesToLookInside() {}

  /** What a segment's DUT was given throughout, by chance. */
  default Optional<Fact> given(Segment segment) {
    return Optional.empty();
  }

  /** What would explain the mismatches in some rows of a segment, ascending, all together. */
  default Optional<Fact> hint(Segment segment, long[] rows) {
    return Optional.empty();
  }

  /**
   * Looks inside the DUT around some rows of a segment.
   *
   * @param kept the mismatches in those rows; none where the DUT ended in the only one
   * @param explained what is known of them
   */
  default Inside inside(Segment segment, List<Mismatch> kept, long[] rows, Explained explained) {
    return Inside.NOTHING;
  }

  /** A waveform of cycles of a segment; empty where the DUT is no compiled design. */
  default Optional<Waveform> waveform(Segment segment, WaveformRequest request) {
    return Optional.empty();
  }

  /** What was measured of the outputs, with the operands of the largest; segments by number. */
  default List<Deviation> deviations(DeviationTally[] measured, LongFunction<Segment> segments) {
    return List.of();
  }

  /**
   * Cycles that are promised, and those that were taken.
   *
   * @param promised those of cases whose own are promised, as the tallies have them
   * @param taken by the same cases
   * @param cases results that were compared
   * @param held whether nothing was wrong
   */
  default List<CycleBudget> budgets(
      CycleTally promised, CycleTally taken, long cases, boolean held) {
    return List.of();
  }

  /** What is known of the mismatches of a segment, those that are alike together. */
  default Explained explain(String bench, SegmentRunner.Result failing, List<Mismatch> kept) {
    return Explained.NOTHING;
  }

  /** What is known of a DUT that ended by itself in a segment; one group, or none. */
  default List<MismatchGroup> explainEnd(String bench, Segment segment, DutException end) {
    return List.of();
  }

  /** Signals that change for ever where the logic does not settle in a segment. */
  default List<String> oscillating(Segment segment) {
    return List.of();
  }

  /** Runs a segment and notes what it answers. */
  Noted note(Segment segment);

  /** What came of a segment, and what it answered. */
  record Noted(SegmentRunner.Result result, StateNotes notes) {}

  /** Why an output that was never compared was not; it begins with its name. */
  String neverCompared(int output);
}
