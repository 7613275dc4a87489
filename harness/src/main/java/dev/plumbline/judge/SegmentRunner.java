package dev.plumbline.judge;

import dev.plumbline.drive.Segment;
import java.util.List;

/** Runs segments one after the other for one thread. */
@FunctionalInterface
public interface SegmentRunner {
  /**
   * What came of a segment: its counts, the coverage points it met (none where nobody asked), how
   * many cycles it took, what the DUT printed.
   */
  record Result(Segment segment, Tally tally, List<Long> met, long cycles, String text) {}

  Result run(Segment segment);
}
