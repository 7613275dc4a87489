package dev.plumbline.lockstep;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.run.SegmentPool;
import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.Verdict;
import java.util.List;

/**
 * A scene executor held to the model operation by operation: random programs are loaded, rays that
 * visit them are offered, and the first operation at which RTL and model part is named.
 *
 * <pre>{@code
 * LockstepBench.of(CompiledDesign.of(rtl), executor).named("scene_executor").cases(10_000).seed(7).check();
 * }</pre>
 *
 * <p>{@link #given} takes a scene and rays of yours in their place.
 *
 * <p>A case is a ray. Rays come back to back or with gaps, results are taken at once or late; now
 * and then the DUT is reset between programs or in the midst of a ray, and a program stays for
 * another row of rays. A run is cut into segments of 1,024 rays, each a DUT of its own that wakes
 * up at random; the verdict is the same for any number of threads. What is compared follows from
 * the ports that there are: see {@link Executor}.
 */
public final class LockstepBench {
  private static final int SEGMENT = 1024;

  private final CompiledDesign model;
  private final Executor executor;
  private final Ports ports;
  private String name;
  private SceneSource given; // null for chance
  private long cases = 10_000;
  private long seed = 1;
  private int threads = Runtime.getRuntime().availableProcessors();
  private boolean coverage = true;
  private Recorder recorder = Recorder.none();
  private String repeat = "";

  private LockstepBench(CompiledDesign model, Executor executor) {
    this.model = model;
    this.executor = executor;
    this.ports = new Ports(executor, model.design());
    this.name = model.design().top();
  }

  /**
   * Starts a bench.
   *
   * @param model the executor's RTL
   * @param executor what it promises
   * @return a bench of 10,000 rays, seed 1, that declares its coverage points
   * @throws dev.plumbline.contract.ContractException when a port is missing or of another width
   */
  public static LockstepBench of(CompiledDesign model, Executor executor) {
    return new LockstepBench(model, executor);
  }

  /**
   * Names the bench, for reports and for its own share of the seed.
   *
   * @param benchName the name; the top module's unless set
   * @return this bench
   */
  public LockstepBench named(String benchName) {
    name = benchName;
    return this;
  }

  /**
   * Offers given rays to one program instead of random ones, such as those of a picture; when they
   * are offered, stalled and preceded by resets is still by chance. Declares no coverage points.
   *
   * @param program of the executor's formats and within its limits
   * @param rays one or more, in the same formats; as many cases, unless {@link #cases} says
   *     otherwise: further ones are the same again, from the first
   * @return this bench
   * @throws dev.plumbline.models.program.ProgramException when it breaks a limit
   * @throws IllegalArgumentException when formats differ
   */
  public LockstepBench given(Program program, Rays rays) {
    if (!program.formats().equals(executor.formats())
        || !rays.formats().equals(executor.formats())) {
      throw new IllegalArgumentException(
          "A bench of an executor in "
              + executor.formats()
              + " cannot offer rays in "
              + rays.formats()
              + " to a program in "
              + program.formats()
              + "; make both in the executor's formats.");
    }
    given =
        SceneSource.of(
            Program.of(executor.formats(), executor.limits(), program.operations()), rays);
    coverage = false;
    return cases(rays.capacity());
  }

  /**
   * Sets how many rays are offered.
   *
   * @param count 0 or more
   * @return this bench
   */
  public LockstepBench cases(long count) {
    if (count < 0) {
      throw new IllegalArgumentException(
          "A bench cannot offer " + count + " rays; 0 or more are allowed.");
    }
    cases = count;
    return this;
  }

  /**
   * Sets what all chance of the run follows from.
   *
   * @param value any value
   * @return this bench
   */
  public LockstepBench seed(long value) {
    seed = value;
    return this;
  }

  /**
   * Sets how many threads run segments.
   *
   * @param count 1 or more; as many as there are processors unless set
   * @return this bench
   */
  public LockstepBench threads(int count) {
    if (count < 1) {
      throw new IllegalArgumentException(
          "A bench cannot run on " + count + " threads; 1 or more are allowed.");
    }
    threads = count;
    return this;
  }

  /**
   * Declares no coverage points: a short run passes without having met them all.
   *
   * @return this bench
   */
  public LockstepBench withoutCoverage() {
    coverage = false;
    return this;
  }

  /**
   * Sets who keeps the verdict.
   *
   * @param keeper the recorder; none unless set
   * @return this bench
   */
  public LockstepBench recorder(Recorder keeper) {
    recorder = keeper;
    return this;
  }

  /**
   * Sets what command repeats the run, for failures.
   *
   * @param command the command
   * @return this bench
   */
  public LockstepBench repeat(String command) {
    repeat = command;
    return this;
  }

  /**
   * What is compared, by the ports that there are and the cycles that are promised.
   *
   * @return such as {@code every operation and result, each in its cycle}
   */
  public String level() {
    return (ports.has("retire_valid") ? "every operation and result" : "results only")
        + (executor.timing() == null ? ", in any cycle" : ", each in its cycle");
  }

  /**
   * Runs, records, and fails unless all is well.
   *
   * @return the verdict, a pass
   * @throws org.opentest4j.AssertionFailedError with the facts
   */
  public Verdict check() {
    return run().orFail();
  }

  /**
   * Runs and records.
   *
   * @return what was found
   */
  public Verdict run() {
    LockstepTotals totals = new LockstepTotals(coverageNames());
    try {
      long segments = (cases + SEGMENT - 1) / SEGMENT;
      new SegmentPool<>(segments, totals, this::runner).run(threads);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException("Bench \"" + name + "\" was interrupted.", e);
    }
    return recorder.keep(totals.verdict(name, seed, model.contentHash(), repeat), totals.thrown());
  }

  private List<String> coverageNames() {
    return coverage ? new SceneCoverage(executor, ports.takesAnyHit()).names() : List.of();
  }

  private SegmentPool.Runner<LockstepRunner.Result> runner() {
    LockstepRunner runner = new LockstepRunner(executor, ports, model, given);
    long runSeed = RandomStream.derive(seed, name);
    return number -> {
      long first = number * SEGMENT;
      long segmentSeed = RandomStream.derive(runSeed, number);
      return runner.run(number, segmentSeed, first, (int) Math.min(SEGMENT, cases - first));
    };
  }
}
