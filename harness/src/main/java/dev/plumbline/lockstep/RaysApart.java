package dev.plumbline.lockstep;

import dev.plumbline.cosim.DutException;
import dev.plumbline.drive.Segment;
import dev.plumbline.lockstep.LockstepChecker.Divergence;
import dev.plumbline.lockstep.RayMeasures.Measure;
import dev.plumbline.lockstep.SceneScript.Part;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.MismatchGroup.Hypothesis;
import dev.plumbline.verdict.MismatchGroup.LikelyKind;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;

/**
 * Has each ray run alone behind a reset, and plain scenes of every length besides, and says what
 * all that go wrong have in common and none of those that go right.
 */
final class RaysApart {
  private static final int MOST_BY_CHANCE = 240;
  private static final int FEWEST_WRONG = 3;
  private static final int FEWEST_RIGHT = 3;

  /** Plain scenes of every length up to it; of longer ones some. */
  private static final int CLOSELY = 64;

  /** Rows in which an operation may come that was shown before. */
  private static final int LONGEST = 64;

  private static final int MOST_SECONDS = 4;

  /** What comes in the place of what was due. */
  private enum Instead {
    /** Nothing that is known. */
    OTHER(LikelyKind.ORDER, ""),
    /** Nothing comes, or what was due, only sooner: what came before has to say why. */
    NOTHING(LikelyKind.ORDER, ""),
    BEHIND_A_SKIP(
        LikelyKind.LEFT_OVER,
        "operations behind a skip are not dropped where it went another way than was predicted"),
    BEYOND_THE_TARGET(
        LikelyKind.CONSTANT, "a skip that is taken goes on one operation after its target"),
    OF_THE_NEXT(LikelyKind.NEIGHBOUR, "a solid has the span of the one behind it"),
    TOO_SOON(
        LikelyKind.ORDER, "an operation is shown twice, at first with what was there before it"),
    RESULT_AGAIN(LikelyKind.ORDER, "a result is offered again after it was taken"),
    READY_BESIDE_A_RESULT(LikelyKind.STALL, "a ray may be taken while a result is offered"),
    YOUNGER(LikelyKind.ORDER, "an operation retires before one that is older"),
    REPEATED(LikelyKind.ORDER, "an operation retires twice"),
    AFTER_THE_END(LikelyKind.LEFT_OVER, "operations retire after their ray has ended");

    private final LikelyKind kind;
    private final String words;

    Instead(LikelyKind kind, String words) {
      this.kind = kind;
      this.words = words;
    }
  }

  /** A scene, what it makes use of, and what came of it. */
  private record Trial(
      Map<Measure, Long> counts, boolean isWrong, Instead instead, boolean byChance) {
    long count(Measure measure) {
      return counts.getOrDefault(measure, 0L);
    }
  }

  private final LockstepSubject subject;
  private final LockstepRunner runner;
  private final RayMeasures measures;
  private final SmallScenes scenes;
  private int plain; // those behind are by chance

  RaysApart(LockstepSubject subject) {
    this.subject = subject;
    this.runner = new LockstepRunner(subject);
    this.measures = new RayMeasures(subject.executor());
    this.scenes = new SmallScenes(subject.executor(), subject.hasReset());
  }

  /** What sets those of some segments apart that go wrong; each takes its start from the first. */
  Optional<Hypothesis> of(List<Segment> segments) {
    SceneScript empty =
        new SceneScript(
            segments.get(0).start(), segments.get(0).seed(), segments.get(0).state(), List.of());
    Optional<Hypothesis> found = apart(trials(empty, parts(segments, SmallScenes.Gaze.ONE, 1)));
    // Where no ray is wrong alone, one may be behind another.
    return found.isPresent()
        ? found
        : apart(trials(empty, parts(segments, SmallScenes.Gaze.ANY_HIT_FIRST, 2)));
  }

  private List<Trial> trials(SceneScript empty, List<Part> parts) {
    List<Trial> trials = new ArrayList<>();
    LookBudget budget = LookBudget.ofSeconds(MOST_SECONDS);
    for (Part part : parts) {
      if (budget.isOver()) {
        break;
      }
      trials.add(trial(empty.with(List.of(part)), trials.size() >= plain));
    }
    return trials;
  }

  private static Optional<Hypothesis> apart(List<Trial> trials) {
    List<Trial> wrong = trials.stream().filter(Trial::isWrong).toList();
    List<Trial> right = trials.stream().filter(trial -> !trial.isWrong()).toList();
    if (wrong.size() < FEWEST_WRONG) {
      return Optional.empty();
    }
    Instead instead = mostly(wrong);
    if (right.isEmpty() && instead == Instead.YOUNGER) {
      return hypothesis(
          LikelyKind.NEIGHBOUR, "every operation is taken for one that is younger", wrong, right);
    }
    if (right.isEmpty() && instead == Instead.READY_BESIDE_A_RESULT) { // every ray has a result
      return hypothesis(instead.kind, instead.words, wrong, right);
    }
    if (right.size() < FEWEST_RIGHT) {
      return Optional.empty();
    }
    Optional<Bound> bound = bound(wrong, right);
    if (instead != Instead.OTHER) {
      String where = bound.map(found -> ", wherever " + found.words()).orElse("");
      LikelyKind kind =
          bound.filter(found -> found.isOfRoom(instead)).isPresent()
              ? LikelyKind.CAPACITY
              : instead.kind;
      long shown =
          wrong.stream()
              .filter(trial -> bound.isEmpty() || bound.get().holds(trial))
              .filter(one -> one.instead() == instead || one.instead() == Instead.NOTHING)
              .count();
      return hypothesis(kind, instead.words + where, wrong, right, shown);
    }
    return bound
        .filter(found -> found.least > found.measure.ofEveryObject())
        .flatMap(
            found ->
                hypothesis(
                    found.measure.kind,
                    "wrong wherever " + found.words(),
                    wrong,
                    right,
                    wrong.stream().filter(found::holds).count()));
  }

  /** So much of a measure, or more. */
  private record Bound(Measure measure, long least) {
    boolean holds(Trial trial) {
      return trial.count(measure) >= least;
    }

    /**
     * Waiting for room is of room, all else where there is more of it than in every object, and
     * than it takes for one to overtake another.
     */
    boolean isOfRoom(Instead instead) {
      long fewest = instead == Instead.YOUNGER ? 2 : 1;
      long plain = measure == Measure.FOR_ROOM ? 0 : Math.max(fewest, measure.ofEveryObject());
      return measure.kind == LikelyKind.CAPACITY && least > plain;
    }

    String words() {
      return least + " or more " + measure.words;
    }
  }

  /** What parts all that are wrong from all that are right; or else from plain ones; or those. */
  private static Optional<Bound> bound(List<Trial> wrong, List<Trial> right) {
    Optional<Bound> found = closest(wrong, right);
    List<Trial> rightPlain = right.stream().filter(trial -> !trial.byChance()).toList();
    if (found.isPresent() || rightPlain.size() < FEWEST_RIGHT) {
      return found;
    }
    found = closest(wrong, rightPlain); // a program by chance may not come to what is wrong
    List<Trial> wrongPlain = wrong.stream().filter(trial -> !trial.byChance()).toList();
    boolean areMany = wrongPlain.size() >= FEWEST_WRONG && 2 * wrongPlain.size() >= wrong.size();
    return found.isEmpty() && areMany ? closest(wrongPlain, rightPlain) : found;
  }

  /** What comes in nine of ten rays in which something comes that is not due. */
  private static Instead mostly(List<Trial> wrong) {
    Map<Instead, Long> by =
        wrong.stream()
            .map(Trial::instead)
            .filter(instead -> instead != Instead.NOTHING)
            .collect(
                Collectors.groupingBy(
                    instead -> instead, () -> new EnumMap<>(Instead.class), Collectors.counting()));
    long all = by.values().stream().mapToLong(Long::longValue).sum();
    return by.entrySet().stream()
        .filter(entry -> 10 * entry.getValue() >= 9 * all)
        .map(Map.Entry::getKey)
        .findFirst()
        .orElse(Instead.OTHER);
  }

  private static Optional<Hypothesis> hypothesis(
      LikelyKind kind, String words, List<Trial> wrong, List<Trial> right) {
    return hypothesis(kind, words, wrong, right, wrong.size());
  }

  private static Optional<Hypothesis> hypothesis(
      LikelyKind kind, String words, List<Trial> wrong, List<Trial> right, long explained) {
    return Optional.of(new Hypothesis(kind, words, (int) explained, wrong.size(), right.size()));
  }

  /** The one that parts them most closely. */
  private static Optional<Bound> closest(List<Trial> wrong, List<Trial> right) {
    Bound found = null;
    long closest = Long.MAX_VALUE;
    for (Measure measure : Measure.values()) {
      long least = wrong.stream().mapToLong(trial -> trial.count(measure)).min().orElseThrow();
      long most = right.stream().mapToLong(trial -> trial.count(measure)).max().orElseThrow();
      if (least > most && least - most < closest) {
        closest = least - most;
        found = new Bound(measure, least);
      }
    }
    return Optional.ofNullable(found);
  }

  /** Plain scenes of every length, and rays by chance, so many at a time. */
  private List<Part> parts(List<Segment> segments, SmallScenes.Gaze gaze, int rays) {
    List<Part> parts = new ArrayList<>();
    for (SmallScenes.Shape shape : SmallScenes.Shape.values()) {
      for (int count = 1;
          shape.isPassedThrough() && count < subject.executor().limits().length(); ) {
        List<Part> made = scenes.of(shape, count, gaze);
        if (made.isEmpty()) {
          break;
        }
        parts.addAll(made);
        count += count < CLOSELY ? 1 : count / 8;
      }
    }
    plain = parts.size();
    int most = MOST_BY_CHANCE / segments.size();
    for (Segment segment : segments) {
      int past = parts.size() + most;
      Segment some =
          segment.startingFrom(segment.start(), Math.min(most, segment.cases()), segment.state());
      new LockstepRunner(subject)
          .walk(
              some,
              List.of(),
              List.of(),
              block -> {
                for (int ray = 0; ray + rays <= block.count && parts.size() < past; ray++) {
                  parts.add(block.part(ray, rays, subject.hasReset()));
                }
              });
    }
    return parts;
  }

  private Trial trial(SceneScript script, boolean byChance) {
    Seen seen = new Seen();
    boolean isWrong;
    try {
      runner.play(script, seen);
      isWrong = runner.divergence().isPresent();
    } catch (DutException e) {
      isWrong = true; // it ends by itself
    }
    return new Trial(measures.of(script.parts().get(0)), isWrong, seen.instead, byChance);
  }

  /** Looks at the row in which a script goes wrong. */
  private static final class Seen implements LockstepRunner.Watcher {
    private Instead instead = Instead.OTHER;
    private int after; // rows since it went wrong

    @Override
    public void row(LockstepRunner.Call call, int row) {
      Divergence now = call.checker().divergence();
      if (now == null || after == LONGEST) {
        return;
      }
      ExecutorColumns columns = call.columns();
      if (after > 0) {
        after++;
        if (columns.retireValid[row] == 1) {
          boolean comes = columns.retired.stream().allMatch(one -> one.matches(row, now.record()));
          instead = comes ? Instead.TOO_SOON : instead;
          after = LONGEST;
        }
        return;
      }
      after = 1;
      boolean waits = columns.resultValid != null && columns.resultValid[row] == 1;
      if (now.role().equals("ray_ready") && waits) {
        boolean isReady = columns.rayReady[row] == 1;
        instead = isReady ? Instead.READY_BESIDE_A_RESULT : Instead.NOTHING;
      } else if (now.ofResult()) {
        boolean isAgain =
            now.kind() == Mismatch.Kind.VALID_WITHOUT_CASE && columns.resultValid[row] == 1;
        instead =
            isAgain && now.ray() < 0 && call.checker().over() > 0
                ? Instead.RESULT_AGAIN
                : Instead.NOTHING;
      } else if (now.kind() == Mismatch.Kind.VALID_MISSING) {
        instead = Instead.NOTHING;
      } else {
        output(columns, "retire_address")
            .ifPresent(address -> instead = instead(call, now, address, row));
      }
      boolean mayComeStill = now.output() != null && !now.ofResult() && instead == Instead.OTHER;
      after = mayComeStill ? after : LONGEST;
    }

    @Override
    public boolean wantsMore() {
      return after < LONGEST;
    }
  }

  private static Optional<Output> output(ExecutorColumns columns, String role) {
    return columns.retired.stream()
        .filter(output -> output.promise.role().equals(role))
        .findFirst();
  }

  private static Instead instead(
      LockstepRunner.Call call, Divergence now, Output address, int row) {
    Expectation expected = call.expected();
    Block block = call.block();
    if (now.ray() < 0) {
      return now.kind() == Mismatch.Kind.VALID_WITHOUT_CASE ? Instead.AFTER_THE_END : Instead.OTHER;
    }
    int first = expected.first(now.ray());
    int past = expected.past(now.ray());
    long[] due = address.expected()[0];
    long came = address.sampled()[0][row];
    if (now.record() == first && first > 0 && came > due[first - 1] && came != due[first]) {
      return Instead.AFTER_THE_END;
    }
    if (now.record() > first && came != due[now.record()]) { // else it is due, if only sooner
      int skip = (int) due[now.record() - 1];
      boolean isSkip = block.program.at(skip).kind() == OperationKind.SKIP;
      if (isSkip && expected.wasForetoldWrongly(now.record() - 1)) {
        int target = block.program.at(skip).target();
        boolean isTaken = due[now.record()] == target; // or both ways are one
        if (isTaken && came == target + 1) {
          return Instead.BEYOND_THE_TARGET;
        }
        // Where the way leads that was predicted.
        if (isTaken ? came > skip : came >= target) {
          return Instead.BEHIND_A_SKIP;
        }
      }
    }
    for (int record = now.record() + 1; record < past; record++) {
      if (due[record] == came) {
        return Instead.YOUNGER;
      }
    }
    for (int record = first; record < now.record(); record++) {
      if (due[record] == came) {
        return Instead.REPEATED;
      }
    }
    if (now.kind() == Mismatch.Kind.EARLY || past - first == 1) {
      return Instead.NOTHING;
    }
    OperationKind kind = block.program.at((int) due[now.record()]).kind();
    if (!kind.isSolid()) {
      return Instead.OTHER;
    }
    int next = now.record() + 1;
    if (next == past || block.program.at((int) due[next]).kind() != kind) {
      return Instead.NOTHING; // nothing that it could be taken for
    }
    return isOf(call.columns(), next, row) ? Instead.OF_THE_NEXT : Instead.OTHER;
  }

  /** Whether the list that is shown is that of a record. */
  private static boolean isOf(ExecutorColumns columns, int record, int row) {
    return output(columns, "retire_distance").filter(one -> one.matches(row, record)).isPresent();
  }
}
