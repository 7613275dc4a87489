package dev.plumbline.window;

import dev.plumbline.judge.Tally;
import dev.plumbline.verdict.Fact;
import dev.plumbline.verdict.Layout;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Row;
import java.util.List;
import java.util.NavigableMap;
import java.util.Optional;

/** What was recorded of a segment that was run again. */
public interface Recording {
  /**
   * Rows by cycle, as the results of one kind go with them.
   *
   * @param layout what they show
   * @param rows by cycle
   */
  record Stream(Layout layout, NavigableMap<Long, Row> rows) {}

  /**
   * What mismatches are.
   *
   * @param kept in the order of the tally
   * @param stream the one that shows the first
   * @param details what there is to report of it
   */
  record Explanation(List<Mismatch> kept, int stream, List<Fact> details) {}

  /** One for each kind of result. */
  List<Stream> streams();

  /** What the DUT printed. */
  String text();

  /** Explains the mismatches of the segment that was recorded. */
  Explanation explain(Tally tally);

  /** The row at which the case went in that was due at one of the rows asked for. */
  default Optional<Row> origin(long caseNumber) {
    return Optional.empty();
  }

  /** The rows of a stream that are kept as evidence. */
  List<Row> window(int stream, List<Mismatch> kept);

  /**
   * Index of the first stream in which another recording shows something else in a cycle; or -1.
   *
   * @param values whether outputs count as well as controls, where a result is due; those of a
   *     result that is missing say nothing
   */
  default int firstDifference(Recording other, long cycle, boolean values) {
    for (int s = 0; s < streams().size(); s++) {
      Row seen = streams().get(s).rows().get(cycle);
      Row there = other.streams().get(s).rows().get(cycle);
      if (there == null
          || !there.controls().equals(seen.controls())
          || (values && seen.isDue() && !there.outputs().equals(seen.outputs()))) {
        return s;
      }
    }
    return -1;
  }
}
