package dev.plumbline.lockstep;

import dev.plumbline.cosim.DutException;
import dev.plumbline.drive.Segment;
import dev.plumbline.lockstep.LockstepChecker.Divergence;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.MismatchGroup;
import dev.plumbline.verdict.MismatchGroup.Hypothesis;
import dev.plumbline.window.EndFacts;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Predicate;

/** What a divergence of an executor comes down to, and what would explain it. */
final class SceneExplanations {
  /** Parts of a segment that are looked at first where a divergence is far from its start. */
  private static final int FEW_PARTS = 4;

  private final LockstepSubject subject;
  private final String bench;
  private final Segment segment;
  private final LockstepRunner runner;

  SceneExplanations(LockstepSubject subject, String bench, Segment segment) {
    this.subject = subject;
    this.bench = bench;
    this.segment = segment;
    this.runner = new LockstepRunner(subject);
  }

  /** One group: a segment ends with its first divergence. */
  List<MismatchGroup> ofMismatch(Mismatch mismatch) {
    List<SceneScript.Part> parts = new ArrayList<>();
    Optional<Divergence> found;
    try {
      runner.run(segment, new Taker(parts));
      found = runner.divergence();
    } catch (DutException e) {
      return List.of(); // it ends otherwise
    }
    if (found.isEmpty()) {
      return List.of();
    }
    Divergence first = found.get();
    Optional<SceneScript> smallest =
        smallest(
            parts,
            script -> {
              runner.play(script, null);
              return runner.divergence().filter(now -> isAlike(first, now)).isPresent();
            });
    String words = mismatch.words() + " at " + mismatch.signal();
    SceneKinds kinds = new SceneKinds(subject, segment);
    List<Hypothesis> likely = kinds.of(mismatch, first, smallest);
    return List.of(group(words, smallest, likely, kinds.tried()));
  }

  /** A DUT that ended by itself: whatever ends in the same way at the same place. */
  List<MismatchGroup> ofEnd(DutException end) {
    List<SceneScript.Part> parts = new ArrayList<>();
    try {
      runner.run(segment, new Taker(parts));
      return List.of(); // it did not end again
    } catch (DutException again) {
      if (!end.isAlike(again)) {
        return List.of();
      }
    }
    Optional<SceneScript> smallest =
        smallest(
            parts,
            script -> {
              try {
                runner.play(script, null);
                return false;
              } catch (DutException again) {
                return end.isAlike(again);
              }
            });
    return List.of(group(EndFacts.brief(end), smallest, List.of(), 0));
  }

  private MismatchGroup group(
      String words, Optional<SceneScript> smallest, List<Hypothesis> likely, int tried) {
    return new MismatchGroup(
        words,
        1,
        smallest.map(
            script ->
                new SceneCase(subject.executor(), subject.design()).keep(script, bench, words)),
        smallest.map(SceneExplanations::size).orElse(""),
        likely,
        tried);
  }

  private Optional<SceneScript> smallest(
      List<SceneScript.Part> parts, Predicate<SceneScript> shows) {
    SceneScript whole = new SceneScript(segment.start(), segment.seed(), segment.state(), parts);
    return new SmallestScene(
            subject.executor(),
            subject.hasReset(),
            script -> {
              try {
                return shows.test(script);
              } catch (DutException e) {
                return false; // it ends otherwise
              }
            })
        .of(whole);
  }

  /** The last rays of a segment and the row in which they diverge in the same way. */
  record Nearer(SceneScript script, long row) {}

  /** As few of the last rays as diverge in the same way behind a reset; empty where none do. */
  Optional<Nearer> nearer() {
    List<SceneScript.Part> parts = new ArrayList<>();
    try {
      runner.run(segment, new Taker(parts));
      Optional<Divergence> far = runner.divergence();
      for (int kept = FEW_PARTS; far.isPresent() && kept < parts.size(); kept *= FEW_PARTS) {
        SceneScript script =
            new SceneScript(
                segment.start(),
                segment.seed(),
                segment.state(),
                SmallestScene.whole(
                    parts.subList(parts.size() - kept, parts.size()), subject.hasReset()));
        long[] rows = runner.play(script, null).tally().rows();
        if (rows.length > 0 && isAlike(far.get(), runner.divergence().orElseThrow())) {
          return Optional.of(new Nearer(script, rows[0]));
        }
      }
    } catch (DutException e) {
      // it ends otherwise
    }
    return Optional.empty();
  }

  /** Whether two divergences are of one kind at one port. */
  static boolean isAlike(Divergence one, Divergence other) {
    return one.kind() == other.kind() && one.role().equals(other.role());
  }

  static String size(SceneScript script) {
    int rays = script.rays();
    int operations = script.operations();
    int solids = script.solids();
    return rays
        + (rays == 1 ? " ray through " : " rays through ")
        + operations
        + (operations == 1 ? " operation, " : " operations, ")
        + solids
        + " of them "
        + (solids == 1 ? "a solid, skip or combination" : "solids, skips or combinations");
  }

  /** Takes down the blocks as they begin. */
  private static final class Taker implements LockstepRunner.Watcher {
    private final List<SceneScript.Part> parts;
    private boolean diverged;

    Taker(List<SceneScript.Part> parts) {
      this.parts = parts;
    }

    @Override
    public void begins(Block laidOut) {
      parts.add(laidOut.part());
    }

    @Override
    public void row(LockstepRunner.Call call, int row) {
      diverged = call.checker().divergence() != null;
    }

    @Override
    public boolean wantsMore() {
      return !diverged;
    }
  }
}
