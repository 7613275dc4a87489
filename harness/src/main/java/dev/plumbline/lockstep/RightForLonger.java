package dev.plumbline.lockstep;

import dev.plumbline.cosim.DutException;
import dev.plumbline.drive.Segment;
import dev.plumbline.judge.SegmentRunner;
import dev.plumbline.stimulus.RandomStream;
import java.util.Optional;

/**
 * Another segment of rays by chance in which a DUT is right for longer, so that what its signals
 * are can be told from how they go.
 *
 * @param row the first in which it is wrong there, or far enough
 */
record RightForLonger(Segment segment, long row) {
  private static final int MOST = 8;
  private static final int RAYS = 64;

  /** The best of a few, or none that is any better than a row. */
  static Optional<RightForLonger> than(LockstepSubject subject, Segment segment, long row) {
    RightForLonger best = new RightForLonger(segment, row);
    for (int n = 0; n < MOST; n++) {
      Segment other =
          new Segment(
              1,
              segment.firstCase() + segment.cases(),
              RAYS,
              RandomStream.derive(segment.seed(), "longer" + n),
              segment.start(),
              segment.state(),
              true);
      long until = until(subject, other);
      if (until > best.row()) {
        best = new RightForLonger(other, until);
      }
    }
    return best.row() > row ? Optional.of(best) : Optional.empty();
  }

  private static long until(LockstepSubject subject, Segment other) {
    try {
      SegmentRunner.Result result = new LockstepRunner(subject).run(other);
      long[] wrong = result.tally().rows();
      return wrong.length > 0 ? wrong[0] : result.cycles() - 1;
    } catch (DutException e) {
      return -1;
    }
  }
}
