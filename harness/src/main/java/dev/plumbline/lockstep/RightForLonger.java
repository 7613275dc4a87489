package dev.plumbline.lockstep;

import dev.plumbline.cosim.DutException;
import dev.plumbline.drive.Segment;
import dev.plumbline.judge.SegmentRunner;
import dev.plumbline.stimulus.RandomStream;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Another segment, of rays by chance, in which a DUT is right for longer, so that what its signals
 * are can be told from how they go.
 *
 * @param subject driven as the segment is
 * @param row the first in which it is wrong there, or far enough
 */
record RightForLonger(LockstepSubject subject, Segment segment, long row) {
  private static final int MOST = 8;
  private static final int RAYS = 64;

  /** Cycles of rays one by one that are enough. */
  private static final int ENOUGH = 4096;

  private static final int MOST_SECONDS = 2;

  /** The best of a few, or none that is any better than a row. */
  static Optional<RightForLonger> than(LockstepSubject subject, Segment segment, long row) {
    RightForLonger best = new RightForLonger(subject, segment, row);
    for (int n = 0; n < MOST; n++) {
      Segment other = other(segment, n);
      long until = until(subject, other);
      if (until > best.row()) {
        best = new RightForLonger(subject, other, until);
      }
    }
    return best.row() > row ? Optional.of(best) : Optional.empty();
  }

  /**
   * Rays that it is right for, each alone with its program behind a reset, one after the other:
   * where something in most programs makes it wrong, no segment is right for long.
   */
  static Optional<RightForLonger> rayByRay(LockstepSubject subject, Segment segment) {
    List<SceneScript.Part> right = new ArrayList<>();
    SceneScript none = new SceneScript(segment.start(), segment.seed(), segment.state(), List.of());
    LookBudget budget = LookBudget.ofSeconds(MOST_SECONDS);
    LockstepRunner runner = new LockstepRunner(subject);
    long rows = 0;
    for (int n = 0; n < MOST; n++) {
      for (SceneScript.Part part : parts(subject, other(segment, n))) {
        if (rows >= ENOUGH || budget.isOver()) {
          break;
        }
        try {
          long took = runner.play(none.with(List.of(part)), null).cycles();
          if (runner.divergence().isEmpty()) {
            right.add(part);
            rows += took;
          }
        } catch (DutException e) {
          // it ends by itself
        }
      }
    }
    if (right.isEmpty()) {
      return Optional.empty();
    }
    LockstepSubject playing = subject.playing(none.with(right));
    Segment all = none.with(right).segment();
    return Optional.of(new RightForLonger(playing, all, until(playing, all)));
  }

  private static Segment other(Segment segment, int n) {
    return new Segment(
        1,
        segment.firstCase() + segment.cases(),
        RAYS,
        RandomStream.derive(segment.seed(), "longer" + n),
        segment.start(),
        segment.state(),
        true);
  }

  private static List<SceneScript.Part> parts(LockstepSubject subject, Segment segment) {
    List<SceneScript.Part> parts = new ArrayList<>();
    new LockstepRunner(subject)
        .walk(
            segment,
            List.of(),
            List.of(),
            block -> {
              for (int ray = 0; ray < block.count; ray++) {
                parts.add(block.part(ray, 1, subject.hasReset()));
              }
            });
    return parts;
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
