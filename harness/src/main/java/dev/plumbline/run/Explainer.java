package dev.plumbline.run;

import dev.plumbline.cosim.DutException;
import dev.plumbline.drive.Segment;
import dev.plumbline.judge.SegmentRunner;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.MismatchGroup;
import java.util.List;

/** Says more of a segment that mismatches than its first rows do. */
@FunctionalInterface
public interface Explainer {
  /** What is known of its mismatches, those that are alike together; {@code kept} are the first. */
  Explained explain(
      String bench, ContractSubject subject, SegmentRunner.Result failing, List<Mismatch> kept);

  /** What is known of a DUT that ended by itself in a segment; one group, or none. */
  default List<MismatchGroup> explainEnd(
      String bench, ContractSubject subject, Segment segment, DutException end) {
    return List.of();
  }

  /** Says nothing: for benches whose caller alone hears of the verdict. */
  static Explainer none() {
    return (bench, subject, failing, kept) -> Explained.NOTHING;
  }
}
