package dev.plumbline.lockstep;

import dev.plumbline.cases.RandomScenes;
import dev.plumbline.cosim.Batch;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.cosim.DutOptions;
import dev.plumbline.cosim.InitialState;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.stimulus.RandomStream;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** Runs segments, one after the other, for one thread: each a DUT's life of many programs. */
final class LockstepRunner {
  /** Rows of a native call. */
  private static final int ROWS = 4096;

  /** Rows of a further call where the plan did not reach. */
  private static final int MORE = 512;

  /** Rows without anything after which nothing more is expected. */
  private static final int PATIENCE = 200_000;

  private final Executor executor;
  private final Ports ports;
  private final CompiledDesign model;
  private final SceneSource given; // null for chance
  private final SceneCoverage coverage;
  private final Expectation expected;

  /**
   * What came of a segment.
   *
   * @param cases rays whose results were compared
   * @param rows cycles that were run
   * @param met counts of coverage points
   * @param compared how often each output was, by port
   * @param finding where DUT and model part; null where they do not
   * @param text what the DUT printed
   */
  public record Result(
      long number,
      long cases,
      long rows,
      List<Long> met,
      Map<String, Long> compared,
      Finding finding,
      String text) {}

  LockstepRunner(Executor executor, Ports ports, CompiledDesign model, SceneSource given) {
    this.executor = executor;
    this.ports = ports;
    this.model = model;
    this.given = given;
    this.coverage = new SceneCoverage(executor, ports.takesAnyHit());
    this.expected = new Expectation(executor, coverage);
  }

  /** Runs a segment of its own seed; its first ray has a number over the whole run. */
  Result run(long number, long seed, long firstCase, int cases) {
    DutOptions options = DutOptions.defaults().withInitialState(InitialState.RANDOM).withSeed(seed);
    try (Dut dut = model.open(options)) {
      Batch batch = dut.batch(ROWS);
      ExecutorColumns columns = new ExecutorColumns(ports, batch);
      LockstepChecker checker = new LockstepChecker(columns, expected, executor.timing() != null);
      RandomStream chance = RandomStream.of(RandomStream.derive(seed, "order"));
      SceneSource scenes = given == null ? byChance(seed) : given;
      Block block =
          new Block(
              executor.formats(),
              chance,
              Pacing.varied().open(RandomStream.derive(seed, "stalls")),
              ports);
      expected.begin(columns.retired, columns.results);
      long rows = 0;
      int offered = 0;
      int dropped = 0;
      int over = 0;
      while (offered < cases && checker.divergence() == null) {
        block.firstCase = firstCase + offered;
        block.draw(scenes, Math.min(Block.RAYS, cases - offered));
        block.firstRow = rows;
        rows += run(dut, batch, columns, checker, block);
        offered += block.count;
        dropped += checker.dropped();
        over += checker.over();
      }
      Finding finding =
          checker.divergence() == null
              ? null
              : new DivergenceEvidence(
                      executor, ports, columns, expected, checker, block, batch.caseAtRow())
                  .finding();
      return new Result(
          number, over - dropped, rows, coverage.take(), compared(columns), finding, dut.text());
    }
  }

  private SceneSource byChance(long seed) {
    return SceneSource.of(
        RandomScenes.of(
            executor.formats(),
            executor.limits(),
            executor.spans(),
            RandomStream.of(RandomStream.derive(seed, "scenes"))));
  }

  /** Runs a block to its end, or to where DUT and model part; gives the rows it took. */
  private long run(
      Dut dut, Batch batch, ExecutorColumns columns, LockstepChecker checker, Block block) {
    if (block.resets()) {
      expected.reset();
    }
    if (block.loadRows > 0) {
      columns.encode(executor, block.program);
    }
    expected.run(block.program, block.rays, block.count, block.lastIsCut);
    block.plan(expected, executor.timing() != null, columns.resultReady != null);
    checker.begin();
    long from = 0;
    while (checker.divergence() == null && (from < block.rows || checker.over() < block.count)) {
      int length = (int) Math.min(ROWS, from < block.rows ? block.rows - from : MORE);
      int waiting = block.count - checker.accepted();
      block.fill(columns, (int) from, length);
      columns.offer(block.rays, checker.accepted(), waiting);
      dut.run(batch, length, waiting);
      block.callRow = from;
      block.callRows = length;
      checker.compare(from, length, batch.caseAtRow());
      from += length;
      if (from > block.rows + PATIENCE) {
        checker.stuck(from - 1, length - 1);
      }
    }
    if (block.lastIsCut) {
      expected.reset();
    }
    return from;
  }

  private static Map<String, Long> compared(ExecutorColumns columns) {
    Map<String, Long> compared = new LinkedHashMap<>();
    columns.retired.forEach(output -> compared.put(output.port, output.takeCompared()));
    columns.results.forEach(output -> compared.put(output.port, output.takeCompared()));
    return compared;
  }
}
