package dev.plumbline.lockstep;

import dev.plumbline.cases.DirectedScenes;
import dev.plumbline.cases.RandomScenes;
import dev.plumbline.drive.Engine;
import dev.plumbline.drive.Segment;
import dev.plumbline.judge.SegmentRunner;
import dev.plumbline.judge.Tally;
import dev.plumbline.lockstep.LockstepChecker.Divergence;
import dev.plumbline.stimulus.RandomStream;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;

/** Runs segments of an executor's rays: each a DUT's life of many programs. */
final class LockstepRunner implements SegmentRunner {
  /**
   * Rows of a native call: about a block. Columns of more are as much to clear for each segment.
   */
  private static final int ROWS = 1024;

  /** Rows of a further call where the plan did not reach. */
  private static final int MORE = 512;

  /** Rows beyond the plan after which nothing more is expected. */
  private static final int TIMEOUT = 200_000;

  /** Further ones for each operation of the longest ray: more than any skip is awaited for. */
  private static final int TIMEOUT_OF_OPERATION = 256;

  private final LockstepSubject subject;
  private final Executor executor;
  private final SceneCoverage coverage;
  private final Expectation expected;
  private Divergence divergence; // of the latest run; null where DUT and model agreed

  /** Watches the checker, row by row; bulk runs have none. */
  interface Watcher {
    /** Passes a block as it begins. */
    default void begins(Block laidOut) {}

    /** Passes a row of a call that the checker has just looked at. */
    void row(Call call, int row);

    /** Whether it wants to see more than what it saw. */
    boolean wantsMore();
  }

  /** Where a watcher looks. */
  record Call(
      Block block,
      long from, // row of the block
      ExecutorColumns columns,
      LockstepChecker checker,
      Expectation expected,
      Engine engine) {
    /** The ray of the block that was on offer at a row; -1 where none was. */
    int offered(int row) {
      int place = engine.caseAtRow()[row];
      return place < 0 ? -1 : block.callRay + place;
    }
  }

  LockstepRunner(LockstepSubject subject) {
    this(subject, Change.NONE);
  }

  /** Holds the DUT to a changed model. */
  LockstepRunner(LockstepSubject subject, Change change) {
    this.subject = subject;
    this.executor = subject.executor();
    this.coverage = subject.newCoverage();
    this.expected = new Expectation(executor, coverage, change);
  }

  @Override
  public Result run(Segment segment) {
    return run(segment, null);
  }

  /** Passes the blocks of a segment, as they are when nothing diverges, without a DUT. */
  void walk(Segment segment, List<Output> retired, List<Output> results, Consumer<Block> passed) {
    SceneSource scenes = scenes(segment);
    Block block = new Block(executor.formats(), subject.ports(), segment, subject.driving());
    expected.begin(retired, results);
    int offered = 0;
    while (offered < segment.cases()) {
      block.firstCase = segment.firstCase() + offered;
      block.draw(scenes, Math.min(Block.RAYS, segment.cases() - offered));
      expect(block);
      passed.accept(block);
      block.firstRow += block.rows;
      offered += block.count;
      cut(block);
    }
  }

  Expectation expected() {
    return expected;
  }

  /**
   * Counts the coverage points that a segment reaches when DUT and model agree, without a DUT: what
   * is offered does not depend on one.
   */
  List<Long> countAlone(Segment segment) {
    walk(segment, List.of(), List.of(), block -> {});
    return coverage.take();
  }

  /** Where DUT and model diverged in the latest run; empty where they did not. */
  Optional<Divergence> divergence() {
    return Optional.ofNullable(divergence);
  }

  /** Plays a script, whatever is driven else. */
  Result play(SceneScript script, Watcher watcher) {
    return run(script.segment(), Optional.of(script), watcher);
  }

  /** Runs a segment under the eyes of a watcher; null for none. */
  Result run(Segment segment, Watcher watcher) {
    return run(segment, subject.driving().script(), watcher);
  }

  private Result run(Segment segment, Optional<SceneScript> script, Watcher watcher) {
    Ports ports = subject.ports();
    int atOnce = script.isPresent() ? MORE : ROWS;
    divergence = null;
    try (Engine engine = subject.open(segment, atOnce)) {
      ports.hold(engine);
      ExecutorColumns columns = new ExecutorColumns(ports, engine);
      SurfaceReads surfaces =
          new SurfaceReads(
              columns,
              executor.limits().length(),
              RandomStream.of(RandomStream.derive(segment.seedOf(Segment.Use.CASES), "surfaces")));
      LockstepChecker checker =
          new LockstepChecker(columns, expected, surfaces, executor.timing() != null);
      SceneSource scenes = script.isPresent() ? null : scenes(segment);
      Block block = new Block(executor.formats(), ports, segment, subject.driving());
      expected.begin(columns.retired, columns.results);
      Tally tally = subject.emptyTally();
      long rows = 0;
      int offered = 0;
      int part = 0;
      while (script.map(all -> all.parts().size()).orElse(Integer.MAX_VALUE) > part
          && (script.isPresent() || offered < segment.cases())
          && checker.divergence() == null
          && (watcher == null || watcher.wantsMore())) {
        block.firstCase = segment.firstCase() + offered;
        block.firstRow = rows;
        if (script.isPresent()) {
          block.take(script.get().parts().get(part++));
        } else {
          block.draw(scenes, Math.min(Block.RAYS, segment.cases() - offered));
        }
        rows += run(engine, columns, surfaces, checker, block, watcher, atOnce);
        offered += block.count;
        tally.cases += checker.over() - checker.dropped();
      }
      divergence = checker.divergence();
      if (checker.divergence() != null) {
        tally.mismatch(block.firstRow + checker.divergence().at(), checker.divergence().kind());
      }
      count(tally, columns);
      checker.count(tally);
      List<Long> met = coverage.take();
      return new Result(
          segment, tally, subject.coverage().isEmpty() ? List.of() : met, rows, engine.text());
    }
  }

  private SceneSource scenes(Segment segment) {
    return subject
        .driving()
        .given()
        .map(given -> SceneSource.of(given.program(), given.rays()))
        .orElseGet(() -> byChance(segment));
  }

  private SceneSource byChance(Segment segment) {
    long seed = segment.seedOf(Segment.Use.CASES);
    RandomScenes scenes =
        RandomScenes.of(
            executor.formats(),
            executor.limits(),
            executor.spans(),
            RandomStream.of(RandomStream.derive(seed, "scenes")));
    if (segment.number() > 0) {
      return SceneSource.of(scenes);
    }
    DirectedScenes directed =
        DirectedScenes.of(
            executor.formats(),
            executor.limits(),
            executor.spans(),
            executor.entries(),
            RandomStream.of(RandomStream.derive(seed, "directed")));
    return SceneSource.of(scenes, directed.all(), subject.stateCases());
  }

  /** Runs a block to its end, or to where DUT and model diverge; gives the rows it took. */
  private long run(
      Engine engine,
      ExecutorColumns columns,
      SurfaceReads surfaces,
      LockstepChecker checker,
      Block block,
      Watcher watcher,
      int atOnce) {
    if (block.loadRows > 0) {
      columns.encode(executor, block.program);
    }
    expect(block);
    if (watcher != null) {
      watcher.begins(block);
    }
    checker.begin();
    long timeout =
        block.rows + TIMEOUT + (long) TIMEOUT_OF_OPERATION * expected.mostOperations(block.count);
    long from = 0;
    while (goesOn(from, checker, block, watcher)) {
      int length = (int) Math.min(atOnce, from < block.rows ? block.rows - from : MORE);
      block.callRay = checker.accepted();
      int waiting = block.count - block.callRay;
      block.fill(columns, (int) from, length);
      surfaces.fill(block, (int) from, length);
      columns.offer(block.rays, block.callRay, waiting);
      engine.runStream(length, waiting);
      if (watcher == null) {
        checker.compare(from, length, engine.caseAtRow());
      } else {
        Call call = new Call(block, from, columns, checker, expected, engine);
        for (int row = 0; row < length; row++) {
          checker.compareRow(from, row, engine.caseAtRow());
          watcher.row(call, row);
        }
      }
      from += length;
      if (from > timeout) {
        checker.stuck();
      }
    }
    cut(block);
    return from;
  }

  private void cut(Block block) {
    if (block.cutsByAbort) {
      expected.abort(block.program, block.rays, block.count - 1, block.cutAfter());
    } else if (block.lastIsCut) {
      expected.cut(block.program, block.rays, block.count - 1, block.cutAfter());
    }
  }

  private void expect(Block block) {
    if (block.resets()) {
      expected.reset();
    }
    expected.run(block.program, block.rays, block.count, block.lastIsCut, block.cutsByAbort);
    block.plan(expected, executor.timing() != null);
  }

  /** Where DUT and model have diverged, a watcher sees what the DUT does next in this block. */
  private static boolean goesOn(long from, LockstepChecker checker, Block block, Watcher watcher) {
    return checker.divergence() == null
        ? from < block.rows || checker.over() < block.count
        : watcher != null && watcher.wantsMore();
  }

  private static void count(Tally tally, ExecutorColumns columns) {
    int output = 0;
    for (List<Output> outputs : List.of(columns.retired, columns.results)) {
      for (Output each : outputs) {
        tally.compared(output++, each.takeCompared());
      }
    }
  }
}
