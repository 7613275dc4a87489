package dev.plumbline.lockstep;

import dev.plumbline.cosim.DutException;
import dev.plumbline.drive.Engine;
import dev.plumbline.drive.Segment;
import dev.plumbline.lockstep.LockstepChecker.Divergence;
import dev.plumbline.lockstep.SceneScript.Part;
import dev.plumbline.lockstep.SceneScript.Ray;
import dev.plumbline.models.traversal.Alteration;
import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.MismatchGroup.Hypothesis;
import dev.plumbline.verdict.MismatchGroup.LikelyKind;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.ToIntFunction;
import java.util.function.UnaryOperator;

/**
 * Tries what would explain a divergence: the DUT is held to a changed model, on the smallest case,
 * then on the segment that failed and on another one. Only a model that it agrees with throughout
 * is reported.
 */
final class SceneKinds {
  /** Most changes that are reported. */
  private static final int MOST_REPORTED = 3;

  /** Most rays of each segment; a long program makes them fewer by time. */
  private static final int MOST_RAYS = 1024;

  private static final int MOST_SECONDS = 20;

  /** States by chance that are compared. */
  private static final int STATES = 4;

  /** Between changes that come to the same. */
  static final String OR = "; or, which comes to the same, ";

  private final LockstepSubject subject;
  private final Segment segment;
  private final LookBudget budget = LookBudget.ofSeconds(MOST_SECONDS);
  private int tried;

  SceneKinds(LockstepSubject subject, Segment segment) {
    this.subject = subject;
    this.segment = segment;
  }

  /**
   * A change that the DUT agrees with.
   *
   * @param prints of rays for which the changed model gives what it gives, by segment
   */
  private record Held(Hypothesis likely, List<Map<Long, Integer>> prints) {}

  /** How many were tried. */
  int tried() {
    return tried;
  }

  List<Hypothesis> of(Mismatch mismatch, Divergence first, Optional<SceneScript> smallest) {
    if (isOfInitialState(mismatch.kind())) {
      tried++;
      Optional<Hypothesis> ofState = ofInitialState(mismatch);
      // Where a simple state is none the better, what a model knows is held to that.
      return ofState.isPresent()
          ? ofState.stream().toList()
          : new SceneKinds(subject, segment.startingFrom(Engine.Start.ZEROS))
              .ofModels(mismatch, first, Optional.empty(), this);
    }
    return ofModels(mismatch, first, smallest, this);
  }

  private List<Hypothesis> ofModels(
      Mismatch mismatch, Divergence first, Optional<SceneScript> smallest, SceneKinds counting) {
    List<Held> held = new ArrayList<>();
    List<Change> changes = changes(first, smallest);
    if (isOfInitialState(mismatch.kind())) { // what is kept first
      changes.sort(Comparator.comparing(change -> change.kind() != LikelyKind.LEFT_OVER));
    }
    for (Change change : changes) {
      if (held.size() == MOST_REPORTED || budget.isOver()) {
        break;
      }
      if (change.lasts()
          && held.stream().anyMatch(one -> change.words().startsWith(one.likely().words()))) {
        continue; // a reset does clear it
      }
      counting.tried++;
      try {
        Optional<Held> agreed = holds(change, smallest);
        agreed.ifPresent(one -> add(one, held));
        agreed.ifPresent(one -> subject.agreesWith(change));
      } catch (DutException | IndexOutOfBoundsException e) {
        // the DUT ends under way, or so changed a model runs off its program
      }
    }
    List<Hypothesis> found = new ArrayList<>(held.stream().map(Held::likely).toList());
    if (found.isEmpty()) {
      counting.tried++;
      new RaysApart(subject).of(List.of(segment, another())).ifPresent(found::add);
    }
    if (found.isEmpty()) {
      counting.tried++;
      ofOrder(mismatch).ifPresent(found::add);
    }
    if (found.isEmpty() && smallest.isPresent()) {
      counting.tried++;
      ofCase(smallest.get()).ifPresent(found::add);
    }
    return found;
  }

  private static boolean isOfInitialState(Mismatch.Kind kind) {
    return kind == Mismatch.Kind.INITIAL_STATE_SHOWS
        || kind == Mismatch.Kind.STALE_DATA_SHOWS
        || kind == Mismatch.Kind.INITIAL_STATE_SHOWS_WITHOUT_RESET;
  }

  /** Whether it is wrong from several states by chance, and right from a simple one. */
  private Optional<Hypothesis> ofInitialState(Mismatch mismatch) {
    boolean isRight = false;
    for (Engine.Start start : List.of(Engine.Start.ZEROS, Engine.Start.ONES)) {
      isRight |= isRight(segment.startingFrom(start));
    }
    int wrong = 0;
    for (int n = 0; n < STATES; n++) {
      Segment other =
          segment.startingFrom(Engine.Start.RANDOM, segment.cases(), segment.state() + n);
      wrong += isRight(other) ? 0 : 1;
    }
    return isRight && wrong > 1
        ? Optional.of(
            new Hypothesis(
                LikelyKind.INITIAL_STATE,
                mismatch.words() + "; counted are states that it wakes up in",
                wrong,
                STATES - wrong + 1))
        : Optional.empty();
  }

  private boolean isRight(Segment one) {
    LockstepRunner runner = new LockstepRunner(subject);
    try {
      runner.run(one, null);
      return runner.divergence().isEmpty();
    } catch (DutException e) {
      return false;
    }
  }

  /** What the first look at the rows has settled already. */
  private static Optional<Hypothesis> ofOrder(Mismatch mismatch) {
    return switch (mismatch.kind()) {
      case EARLY, LATE -> Optional.of(new Hypothesis(LikelyKind.TIMING, mismatch.words(), 1, 0));
      case ORDER_SWAPPED, RESULT_LOST, RESULT_REPEATED ->
          Optional.of(new Hypothesis(LikelyKind.ORDER, mismatch.words(), 1, 0));
      default -> Optional.empty();
    };
  }

  /** What the smallest case cannot be without: tried, since its time may have run out. */
  private Optional<Hypothesis> ofCase(SceneScript smallest) {
    int last = smallest.parts().size() - 1;
    boolean isReset =
        smallest.parts().stream().skip(1).anyMatch(part -> part.resets() > 0)
            || smallest.parts().stream().anyMatch(part -> part.cut() >= 0);
    if (isReset && isRight(with(smallest, part -> part.withoutCut().withResets(0), one -> one))) {
      return because(LikelyKind.RESET, "without that reset nothing is wrong");
    }
    if (any(smallest, Ray::stall)
        && isRight(with(smallest, part -> part, one -> one.withStall(0)))) {
      return because(LikelyKind.STALL, "where no result has to wait nothing is wrong");
    }
    if (any(smallest, Ray::pause)
        && isRight(with(smallest, part -> part, one -> one.withPause(0)))) {
      return because(LikelyKind.GAP, "where rays follow each other at once nothing is wrong");
    }
    if (smallest.rays() > 1 && !smallest.parts().get(last).rays().isEmpty()) {
      Part part = smallest.parts().get(last);
      Part alone =
          part.withRays(part.rays().subList(part.rays().size() - 1, part.rays().size())).withLoad();
      if (isRight(smallest.with(List.of(subject.hasReset() ? alone.withResets(1) : alone)))) {
        return because(LikelyKind.HISTORY, "without the rays before nothing is wrong");
      }
    }
    return Optional.empty();
  }

  private static Optional<Hypothesis> because(LikelyKind kind, String words) {
    return Optional.of(new Hypothesis(kind, words, 1, 0));
  }

  private static boolean any(SceneScript script, ToIntFunction<Ray> cycles) {
    return script.parts().stream()
        .flatMap(part -> part.rays().stream())
        .anyMatch(ray -> cycles.applyAsInt(ray) > 0);
  }

  /** Every part but the first one's reset changed, and every ray. */
  private SceneScript with(
      SceneScript script, UnaryOperator<Part> ofPart, UnaryOperator<Ray> ofRay) {
    List<Part> parts = new ArrayList<>();
    for (Part part : script.parts()) {
      Part other = ofPart.apply(part);
      other = parts.isEmpty() && subject.hasReset() ? other.withResets(1) : other;
      parts.add(other.withRays(other.rays().stream().map(ofRay).toList()));
    }
    return script.with(parts);
  }

  private boolean isRight(SceneScript script) {
    LockstepRunner runner = new LockstepRunner(subject);
    try {
      runner.play(script, null);
      return runner.divergence().isEmpty();
    } catch (DutException e) {
      return false;
    }
  }

  /** The changes that may matter, those of the output that is wrong first. */
  private List<Change> changes(Divergence first, Optional<SceneScript> smallest) {
    List<Change> changes = new ArrayList<>();
    if (first.output() != null) {
      changes.addAll(ofOutput(first, smallest));
    }
    for (Alteration altered : Alteration.values()) {
      boolean timed = subject.executor().timing() != null;
      if (altered != Alteration.NONE && (timed || !altered.isOfTime())) {
        changes.add(Change.of(altered));
      }
      if (altered.isKept()) {
        changes.add(Change.lasting(altered));
      }
    }
    return changes;
  }

  /** An output that is off, that wraps, has a bit stuck, or goes on from the ray before. */
  private List<Change> ofOutput(Divergence first, Optional<SceneScript> smallest) {
    OutputCodes seen = new OutputCodes(first);
    LockstepRunner runner = new LockstepRunner(subject);
    try {
      if (smallest.isPresent()) {
        runner.play(smallest.get(), seen);
      } else {
        runner.run(segment, seen);
      }
    } catch (DutException e) {
      return List.of();
    }
    return seen.changes();
  }

  /** Puts it beside what is found already, or to that which no ray tells from it. */
  private static void add(Held held, List<Held> found) {
    for (int i = 0; i < found.size(); i++) {
      Hypothesis other = found.get(i).likely();
      if (areAlike(other.kind(), held.likely().kind())
          && found.get(i).prints().equals(held.prints())) {
        String words = other.words() + OR + held.likely().words();
        Hypothesis both = new Hypothesis(other.kind(), words, other.explained(), other.near());
        found.set(i, new Held(both, held.prints()));
        return;
      }
    }
    found.add(held);
  }

  /** A bit that is always 0 is the one that a number lacks, as long as it reaches no higher one. */
  private static boolean areAlike(LikelyKind one, LikelyKind other) {
    return one == other || (one == LikelyKind.WIDTH && other == LikelyKind.STUCK_BIT);
  }

  private Optional<Held> holds(Change change, Optional<SceneScript> smallest) {
    LockstepRunner changed = new LockstepRunner(subject, change);
    if (smallest.isPresent()) {
      changed.play(knownTo(change, smallest.get()), null);
      if (changed.divergence().isPresent()) {
        return Optional.empty();
      }
    }
    for (Segment one : List.of(segment, another())) {
      changed.run(knownTo(change, one), null);
      if (changed.divergence().isPresent()) {
        return Optional.empty();
      }
    }
    List<Map<Long, Integer>> prints = new ArrayList<>();
    int wrong = 0;
    int near = 0;
    for (Segment each : List.of(segment, another())) {
      Segment one = knownTo(change, each);
      Map<Long, Integer> plain = prints(Change.NONE, one);
      Map<Long, Integer> otherwise = prints(change, one);
      int right = (int) plain.entrySet().stream().filter(otherwise.entrySet()::contains).count();
      near += right;
      wrong += plain.size() - right;
      prints.add(otherwise);
    }
    return wrong == 0
        ? Optional.empty()
        : Optional.of(new Held(new Hypothesis(change.kind(), change.words(), wrong, near), prints));
  }

  /**
   * What no reset clears is known to a model where the DUT wakes up with zeros alone; what is left
   * of a ray, where none is cut short.
   */
  static Segment knownTo(Change change, Segment one) {
    if (change.keepsPredictions()) {
      return one.startingFrom(Engine.Start.ZEROS); // resets show it
    }
    return change.lasts() ? one.startingFrom(Engine.Start.ZEROS).withoutResets() : one;
  }

  private static SceneScript knownTo(Change change, SceneScript script) {
    return change.lasts() || change.keepsPredictions()
        ? script.startingFrom(Engine.Start.ZEROS)
        : script;
  }

  /** Rays by chance that nobody has seen yet. */
  private Segment another() {
    return new Segment(
        1,
        segment.firstCase() + segment.cases(),
        MOST_RAYS,
        RandomStream.derive(segment.seed(), "another"),
        segment.start(),
        segment.state(),
        true);
  }

  /** A digest of what a model gives for each ray. */
  private Map<Long, Integer> prints(Change change, Segment one) {
    Map<Long, Integer> prints = new LinkedHashMap<>();
    List<Output> retired = subject.ports().retired();
    List<Output> results = subject.ports().results();
    LockstepRunner model = new LockstepRunner(subject, change);
    model.walk(
        one,
        retired,
        results,
        block -> {
          for (int ray = 0; ray < block.count; ray++) {
            int print = (int) model.expected().cycles(ray);
            for (int record = model.expected().first(ray);
                record < model.expected().past(ray);
                record++) {
              print = print(retired, record, 31 * print + (int) model.expected().cycle(record));
            }
            prints.put(block.firstCase + ray, print(results, ray, print));
          }
        });
    return prints;
  }

  private static int print(List<Output> outputs, int record, int before) {
    int print = before;
    for (Output output : outputs) {
      for (long[] word : output.expected()) {
        print = 31 * print + Long.hashCode(word[record]);
      }
    }
    return print;
  }
}
