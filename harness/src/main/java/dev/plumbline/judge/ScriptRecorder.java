package dev.plumbline.judge;

import dev.plumbline.cosim.DutException;
import dev.plumbline.drive.Feed;
import dev.plumbline.drive.Hookup;
import dev.plumbline.drive.Script;
import dev.plumbline.drive.Script.Line;
import dev.plumbline.drive.Segment;
import java.util.ArrayList;
import java.util.List;

/**
 * Takes down what a segment gives its DUT, up to and with a row: the reset that it begins with, and
 * the last rows, of which a computer's memory holds as many as may matter.
 */
public final class ScriptRecorder implements ContractRunner.Watcher {
  /** Most rows behind the reset; whatever needs more has no small case. */
  public static final int MOST_ROWS = 1 << 18;

  private final long last;
  private boolean heading = true; // still in the reset that it begins with
  private final List<Line> lines = new ArrayList<>();
  private long begun; // cases whose words were taken down
  private long taken; // cases that were accepted or given up before the row at hand

  public ScriptRecorder(long last) {
    this.last = last;
  }

  /** What the segment that was watched gave its DUT. */
  public Script script(Segment segment) {
    return new Script(segment.start(), segment.seed(), segment.state(), lines);
  }

  @Override
  public void block(long firstRow, Feed feed, Checker checker) {
    taken += feed.givenUp();
    boolean waits = feed.binding().contract().flow().waits();
    for (int row = 0; row < feed.rows && firstRow + row <= last; row++) {
      boolean isTaken = feed.isTaken(row);
      long[] words =
          waits ? waiting(feed, row) : feed.to.beatAt == null || isTaken ? feed.words(row) : null;
      taken += isTaken ? 1 : 0;
      heading &= feed.reset[row] != 0;
      if (!heading && firstRow + row <= last - MOST_ROWS) {
        continue;
      }
      lines.add(
          new Line(
              feed.reset[row] != 0,
              isValid(feed, row),
              feed.to.outReady == null || feed.to.outReady[row] != 0,
              words));
    }
  }

  /** The rows up to the one in which the DUT ended, and that one. */
  @Override
  public void ended(long firstRow, Feed feed, Checker checker, DutException end) {
    long rows = end.cycle() + 1 - firstRow;
    if (rows > 0) {
      feed.rows = (int) Math.min(feed.rows, rows);
      block(firstRow, feed, checker);
    }
  }

  private static boolean isValid(Feed feed, int row) {
    Hookup dut = feed.to;
    if (dut.inValid == null) {
      return true;
    }
    boolean waits = feed.binding().contract().flow().waits();
    boolean beats = dut.beatAt != null && !waits;
    if (!waits && !feed.isCaseEdge(row)) {
      return false; // what stands there is the case of the edge to come
    }
    return (beats && feed.reset[row] == 0) ? dut.beatAt[row] >= 0 : dut.inValid[row] != 0;
  }

  /** The words of a case in the row where it is offered first. */
  private long[] waiting(Feed feed, int row) {
    if (!feed.isOffered(row) || taken < begun) {
      return null;
    }
    begun = taken + 1;
    return feed.words(feed.inputsAt(row));
  }

  @Override
  public boolean wantsMore(long rowsSoFar) {
    return rowsSoFar <= last;
  }
}
