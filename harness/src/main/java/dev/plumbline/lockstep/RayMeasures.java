package dev.plumbline.lockstep;

import dev.plumbline.lockstep.SceneScript.Part;
import dev.plumbline.lockstep.SceneScript.Ray;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.traversal.Alteration;
import dev.plumbline.models.traversal.ExecutorTiming;
import dev.plumbline.models.traversal.Predictor;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.models.traversal.Retirement;
import dev.plumbline.models.traversal.Traversal;
import dev.plumbline.verdict.MismatchGroup.LikelyKind;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.Map;

/** How much of what an executor has, and of what may go wrong in it, a scene makes use of. */
final class RayMeasures {
  /** What is counted; of several rays the most. */
  enum Measure {
    SLOW_THAT_WAITED(LikelyKind.ORDER, "operations of several cycles had waited for older ones"),
    SLOW_IN_FRONT(LikelyKind.ORDER, "operations of several cycles keep others waiting"),
    PROGRAM(LikelyKind.CAPACITY, "operations are in the program"),
    SLOW(LikelyKind.ORDER, "operations take several cycles"),
    LISTS(LikelyKind.CAPACITY, "lists are on the stack"),
    SPANS(LikelyKind.CAPACITY, "spans are in a list"),
    WAITING(LikelyKind.CAPACITY, "operations wait to retire at a time"),
    WAITED(LikelyKind.CAPACITY, "operations had to wait to retire, one after another"),
    BEHIND_TWO(
        LikelyKind.CAPACITY, "operations had to wait behind two older ones, one after another"),
    UNDER_WAY(LikelyKind.CAPACITY, "operations are under way at a time"),
    FOR_ROOM(LikelyKind.CAPACITY, "operations had to wait for room"),
    OVERFLOWS(LikelyKind.CAPACITY, "lists had no room for their spans"),
    TURNED(LikelyKind.LEFT_OVER, "skips were decided again as they retired"),
    WRONG(LikelyKind.LEFT_OVER, "skips were predicted wrongly"),
    RIGHT(LikelyKind.DECISION, "skips were predicted rightly"),
    EMPTY(LikelyKind.DECISION, "solids are missed by the ray"),
    ANY_HIT(LikelyKind.DECISION, "rays ask for any hit"),
    FOUND(LikelyKind.DECISION, "rays find a surface"),
    RETIRED(LikelyKind.CAPACITY, "operations of a ray retire"),
    CYCLES(LikelyKind.CAPACITY, "cycles are taken by a ray");

    final LikelyKind kind;
    final String words;

    Measure(LikelyKind kind, String words) {
      this.kind = kind;
      this.words = words;
    }

    /** How many of it a plain object has, or one that is combined. */
    int ofEveryObject() {
      return this == LISTS ? 2 : this == SLOW || this == SLOW_IN_FRONT ? 1 : 0;
    }
  }

  private final Executor executor;
  private final Traversal traversal;
  private final Predictor predictor; // null where no cycle is promised
  private final Map<Measure, Long> counts = new EnumMap<>(Measure.class); // 0 where it is missing
  private final Map<Measure, Long> ofRay = new EnumMap<>(Measure.class);
  private long[] end = new long[256]; // by operation of the ray at hand
  private boolean[] slow = new boolean[256];
  private boolean[] waited = new boolean[256];
  private int records;

  RayMeasures(Executor executor) {
    this.executor = executor;
    this.traversal = Traversal.exact(executor.units(), executor.spans(), executor.rules());
    this.predictor = executor.timing() == null ? null : executor.timing().predictor();
  }

  /** Of a program and rays behind a reset; what is missing is 0. */
  Map<Measure, Long> of(Part part) {
    Rays rays = Rays.of(executor.formats(), Math.max(1, part.rays().size()));
    for (int ray = 0; ray < part.rays().size(); ray++) {
      Ray given = part.rays().get(ray);
      int column = 0;
      for (String name : Rays.names()) {
        rays.column(name)[ray] = given.codes()[column++];
      }
    }
    counts.clear();
    begin();
    traversal.reset();
    ExecutorTiming timing =
        predictor == null ? null : executor.timing().reset(predictor, Alteration.NONE);
    most(Measure.PROGRAM, part.program().length());
    traversal.run(
        part.program(), rays, 0, part.rays().size(), timing, observed -> see(observed, timing));
    return new EnumMap<>(counts);
  }

  private void begin() {
    ofRay.clear();
    records = 0;
  }

  private void see(Retirement observed, ExecutorTiming timing) {
    if (records == end.length) {
      end = Arrays.copyOf(end, 2 * records);
      slow = Arrays.copyOf(slow, 2 * records);
      waited = Arrays.copyOf(waited, 2 * records);
    }
    most(Measure.LISTS, observed.height());
    most(Measure.SPANS, observed.top().count());
    most(Measure.OVERFLOWS, observed.hasOverflowed() ? 1 : 0);
    boolean isSolid = observed.operation().kind().isSolid();
    add(Measure.EMPTY, isSolid && observed.top().count() == 0);
    most(Measure.ANY_HIT, observed.isAnyHit() ? 1 : 0);
    most(Measure.FOUND, observed.isFound() ? 1 : 0);
    if (timing != null) {
      time(observed, timing);
    }
    records++;
    most(Measure.RETIRED, records);
    if (observed.isLast()) {
      begin();
    }
  }

  private void time(Retirement observed, ExecutorTiming timing) {
    int latency = executor.timing().pace().latency();
    int room = executor.timing().pace().queue();
    long dispatch = timing.dispatched();
    int underWay = 1;
    int older = 0; // that are there when it arrives
    for (int i = records - 1; i >= 0 && i >= records - room; i--) {
      underWay += end[i] >= dispatch ? 1 : 0;
      older += end[i] >= dispatch + latency ? 1 : 0;
    }
    long before = records == 0 ? -1 : end[records - 1];
    end[records] = observed.cycle();
    waited[records] = older > 0;
    slow[records] = observed.cycle() > Math.max(dispatch + latency, before + 1);
    most(Measure.UNDER_WAY, underWay);
    most(Measure.WAITING, older);
    add(Measure.FOR_ROOM, records >= room && dispatch == end[records - room] + 1);
    add(Measure.WAITED, older > 0);
    add(Measure.BEHIND_TWO, older > 1);
    add(Measure.SLOW, slow[records]);
    add(Measure.SLOW_THAT_WAITED, slow[records] && older > 0);
    add(Measure.SLOW_IN_FRONT, older > 0 && slow[records - 1]);
    most(Measure.CYCLES, timing.cycles());
    most(Measure.RIGHT, timing.right());
    most(Measure.WRONG, timing.wrong());
    if (observed.operation().kind() == OperationKind.SKIP
        && observed.isTakenEarly() != observed.isSkipTaken()) {
      add(Measure.TURNED, true);
      ofRay.remove(Measure.WAITED); // nobody waits any more
      ofRay.remove(Measure.BEHIND_TWO);
    }
  }

  private void add(Measure measure, boolean counts) {
    most(measure, ofRay.merge(measure, counts ? 1L : 0L, Long::sum));
  }

  private void most(Measure measure, long count) {
    counts.merge(measure, count, Math::max);
  }
}
