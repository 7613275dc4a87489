package dev.plumbline.lockstep;

import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.traversal.ExecutorTiming;
import dev.plumbline.models.traversal.Predictor;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.models.traversal.Retirement;
import dev.plumbline.models.traversal.Traversal;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;

/**
 * What the model says of a program's rays: operation by operation and ray by ray. Filled again for
 * each program; what the predictor learnt stays until a reset.
 */
final class Expectation {
  private final Executor executor;
  private final Change change;
  private final Traversal traversal;
  private final Predictor predictor;
  private final SceneCoverage coverage;
  private ExecutorTiming timing; // null where no cycle is promised
  private List<Output> retired;
  private List<Output> results;
  private long[] cycle = new long[256]; // by record, from the ray's acceptance
  private boolean[] skips = new boolean[256]; // by record
  private boolean[] wrong = new boolean[256]; // by record
  private long wrongBefore; // skips of the ray
  private int[] learnt = new int[0]; // predictions before a ray that is aborted
  private int[] past = new int[16]; // by ray: the record behind its last
  private long[] cycles = new long[16]; // by ray
  private int records;

  /** With nothing changed, coverage points are counted. */
  Expectation(Executor executor, SceneCoverage coverage, Change change) {
    this.executor = executor;
    this.coverage = coverage;
    this.change = change;
    this.traversal =
        Traversal.altered(executor.units(), executor.spans(), executor.rules(), change.altered());
    this.predictor = executor.timing() == null ? null : executor.timing().predictor();
  }

  /** Begins a DUT's life; its outputs are filled from now on. */
  void begin(List<Output> ofOperations, List<Output> ofResults) {
    retired = ofOperations;
    results = ofResults;
    Stream.of(retired, results)
        .flatMap(List::stream)
        .filter(output -> output.promise.role().equals(change.role()))
        .forEach(output -> output.changeBy(change.codes().get()));
    if (predictor != null) {
      predictor.reset(); // whatever a changed model keeps, it does not keep from another DUT
    }
    reset();
    traversal.reset();
  }

  /** The executor forgets what it learnt. */
  void reset() {
    if (timing != null && change.keepsPredictions()) {
      timing.settle();
    }
    timing = predictor == null ? null : executor.timing().reset(predictor, change.altered());
    forget();
  }

  /** Finds what all rays of a program do; the last one may be cut short and is not counted then. */
  void run(Program program, Rays rays, int count, boolean lastIsCut, boolean byAbort) {
    records = 0;
    if (past.length < count) {
      past = new int[2 * count];
      cycles = new long[2 * count];
    }
    int counted = lastIsCut ? count - 1 : count;
    if (change.isNone()) {
      coverage.seeTags(rays.column("tag"), counted);
    }
    long[] anyHit = rays.column("any_hit");
    boolean apart = byAbort || (lastIsCut && change.keepsPredictions());
    int before = apart ? count - 1 : count;
    if (before > 0) {
      traversal.run(program, rays, 0, before, timing, observed -> keep(observed, counted, anyHit));
    }
    if (apart) {
      if (timing != null) {
        timing.settle();
        learnt = predictor.states();
      }
      traversal.run(program, rays, before, 1, timing, observed -> keep(observed, counted, anyHit));
    }
  }

  /** The last ray of a program was aborted in a cycle, counted from its acceptance. */
  void abort(Program program, Rays rays, int ray, long cycleOfRay) {
    if (change.isNone()) {
      coverage.seeAbort();
    }
    if (timing != null) {
      relearn(program, rays, ray, cycleOfRay);
    }
    forget();
  }

  private void forget() {
    if (!change.lasts()) {
      traversal.reset();
    }
  }

  /** The last ray of a program was cut short by a reset in a cycle of its own. */
  void cut(Program program, Rays rays, int ray, long cycleOfRay) {
    if (timing != null && change.keepsPredictions()) {
      // What retires a cycle before may be on its way to the predictions still.
      relearn(program, rays, ray, cycleOfRay - executor.timing().pace().learning() + 1);
    }
    reset();
  }

  /** What the predictor knows of the last ray where that is dropped in a cycle. */
  private void relearn(Program program, Rays rays, int ray, long cycleOfRay) {
    predictor.setStates(learnt);
    timing.cutAt(cycleOfRay);
    traversal.run(program, rays, ray, 1, timing, observed -> {});
    timing.endCut();
  }

  /** Whether a skip of a ray retires in a cycle. */
  boolean retiresSkip(int ray, long cycleOfRay) {
    for (int record = first(ray); timing != null && record < past(ray); record++) {
      if (skips[record] && cycle[record] == cycleOfRay) {
        return true;
      }
    }
    return false;
  }

  private void keep(Retirement observed, int counted, long[] anyHit) {
    if (records == cycle.length) {
      cycle = Arrays.copyOf(cycle, 2 * records);
      skips = Arrays.copyOf(skips, 2 * records);
      wrong = Arrays.copyOf(wrong, 2 * records);
    }
    cycle[records] = observed.cycle();
    skips[records] = observed.operation().kind() == OperationKind.SKIP;
    long wrongNow = timing == null ? 0 : timing.wrong();
    wrong[records] =
        skips[records]
            && (wrongNow > wrongBefore || observed.isTakenEarly() != observed.isSkipTaken());
    wrongBefore = observed.isLast() ? 0 : wrongNow;
    for (int i = 0; i < retired.size(); i++) {
      retired.get(i).expect(records, observed, timing);
    }
    records++;
    if (observed.ray() < counted && change.isNone()) {
      coverage.see(observed, predictor, anyHit[observed.ray()] == 1);
    }
    if (observed.isLast()) {
      past[observed.ray()] = records;
      cycles[observed.ray()] = timing == null ? 0 : timing.result();
      for (int i = 0; i < results.size(); i++) {
        results.get(i).expect(observed.ray(), observed, timing);
      }
    }
  }

  /** In which cycle of its ray an operation retires. */
  long cycle(int record) {
    return cycle[record];
  }

  /** Whether it was a skip that went another way than was predicted, or than was known early. */
  boolean wasForetoldWrongly(int record) {
    return wrong[record];
  }

  /** The ray of a record. */
  int rayOf(int record) {
    int ray = 0;
    while (past[ray] <= record) {
      ray++;
    }
    return ray;
  }

  /** The record behind a ray's last one. */
  int past(int ray) {
    return past[ray];
  }

  /** The first record of a ray. */
  int first(int ray) {
    return ray == 0 ? 0 : past[ray - 1];
  }

  /** Operations of the longest of the first rays. */
  int mostOperations(int count) {
    int most = 0;
    for (int ray = 0; ray < count; ray++) {
      most = Math.max(most, past(ray) - first(ray));
    }
    return most;
  }

  /** Cycles from a ray's acceptance to its result. */
  long cycles(int ray) {
    return cycles[ray];
  }
}
