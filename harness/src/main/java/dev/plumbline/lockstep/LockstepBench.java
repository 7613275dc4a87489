package dev.plumbline.lockstep;

import dev.plumbline.contract.ContractException;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.DutOptions;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.rtl.Design;
import dev.plumbline.run.BenchRun;
import dev.plumbline.run.DutEngine;
import dev.plumbline.run.Engine;
import dev.plumbline.run.Plan;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.Verdict;
import java.util.Optional;

/**
 * A scene executor held to the model operation by operation: random programs are loaded, rays that
 * visit them are offered, and the first operation at which RTL and model part is named.
 *
 * <pre>{@code
 * LockstepBench.of(CompiledDesign.of(rtl)).named("scene_executor").executor(executor)
 *     .cases(10_000).seed(7).check();
 * }</pre>
 *
 * <p>{@link Builder#given} takes a scene and rays of yours in their place.
 *
 * <p>A case is a ray. Rays come at once or with gaps, results are taken at once or late; now and
 * then the DUT is reset between programs or in the midst of a ray, and a program stays for another
 * row of rays. A run is cut into segments of 1,024 rays. Each starts from reset on a DUT of its
 * own, whose registers wake up at random; the verdict is the same for any number of threads. The
 * first rays are run again from other initial states, which must not show. What is compared follows
 * from the ports that there are: see {@link Executor}.
 */
public final class LockstepBench {
  /** The mean distance of resets unless set, in cycles. */
  private static final int RESET_DISTANCE = 8192;

  private final Plan plan;
  private final LockstepSubject subject;
  private final Recorder recorder;

  private LockstepBench(Builder builder) {
    Executor executor = builder.executor;
    if (executor == null) {
      throw new ContractException(
          "Bench \"" + builder.name + "\" has no executor; give one with executor(...).");
    }
    this.subject =
        new LockstepSubject(
            executor,
            new Ports(executor, builder.design),
            new Driving(
                Optional.ofNullable(builder.given).map(given -> checked(given, executor)),
                builder.pacing,
                builder.ready,
                builder.resets),
            builder.maker,
            builder.coverage && builder.given == null);
    long given = builder.given == null ? Builder.STANDARD_CASES : builder.given.rays().capacity();
    this.recorder = builder.recorder;
    this.plan =
        new Plan(
            builder.name,
            builder.cases >= 0 ? builder.cases : given,
            builder.threads,
            builder.initialStates,
            builder.seed,
            builder.contentHash,
            builder.repeat);
  }

  private static Driving.Given checked(Driving.Given given, Executor executor) {
    Program program = given.program();
    if (!program.formats().equals(executor.formats())
        || !given.rays().formats().equals(executor.formats())) {
      throw new IllegalArgumentException(
          "A bench of an executor in "
              + executor.formats()
              + " cannot offer rays in "
              + given.rays().formats()
              + " to a program in "
              + program.formats()
              + "; make both in the executor's formats.");
    }
    return new Driving.Given(
        Program.of(executor.formats(), executor.limits(), program.operations()), given.rays());
  }

  /**
   * Starts a bench.
   *
   * @param model the executor's RTL
   * @return a builder that still needs an executor
   */
  public static Builder of(CompiledDesign model) {
    Builder builder =
        new Builder(
            model.design(), DutEngine.maker(model, DutOptions.defaults()), model.contentHash());
    builder.model = model;
    return builder;
  }

  /**
   * What is compared, by the ports that there are and the cycles that are promised.
   *
   * @return such as {@code every operation and result, each in its cycle}
   */
  public String level() {
    return (subject.ports().has("retire_valid") ? "every operation and result" : "results only")
        + (subject.executor().timing() == null ? ", in any cycle" : ", each in its cycle");
  }

  /**
   * Runs the bench and records the verdict.
   *
   * @return what was found
   * @throws RuntimeException what the DUT threw, when it ended by itself; that verdict is recorded
   *     as well
   */
  public Verdict run() {
    return new BenchRun(plan, subject).run(recorder);
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

  /** Sets what a bench consists of. */
  public static final class Builder {
    private static final long STANDARD_CASES = 10_000;

    private final Design design;
    private final String contentHash;
    private Engine.Maker maker;
    private CompiledDesign model; // null where a test puts software in its place
    private String name;
    private Executor executor;
    private Driving.Given given; // null for chance
    private Pacing pacing = Pacing.varied();
    private Pacing ready = Pacing.varied();
    private double resets = 1.0 / RESET_DISTANCE;
    private long cases = -1; // not set
    private long seed = 1;
    private int threads = Runtime.getRuntime().availableProcessors();
    private int initialStates = 3;
    private boolean coverage = true;
    private Recorder recorder = Recorder.none();
    private String repeat = "";

    Builder(Design design, Engine.Maker maker, String contentHash) {
      this.design = design;
      this.maker = maker;
      this.contentHash = contentHash;
      this.name = design.top();
    }

    /**
     * Names the bench, for reports and for its own share of the seed.
     *
     * @param benchName the name; the top module's unless set
     * @return this builder
     */
    public Builder named(String benchName) {
      name = benchName;
      return this;
    }

    /**
     * Sets what the model is held to.
     *
     * @param promises what the executor promises, and what its ports are called
     * @return this builder
     */
    public Builder executor(Executor promises) {
      executor = promises;
      return this;
    }

    /**
     * Sets how DUTs are opened: clocks, timeout, what they may do. Seed and initial state are the
     * bench's own.
     *
     * @param options the options; the defaults unless set
     * @return this builder
     */
    public Builder options(DutOptions options) {
      maker = DutEngine.maker(model, options);
      return this;
    }

    /**
     * Offers given rays to one program instead of random ones, such as those of a picture; when
     * they are offered, stalled and preceded by resets is still by chance. Declares no coverage
     * points.
     *
     * @param program of the executor's formats and within its limits
     * @param rays one or more, in the same formats; as many cases, unless {@link #cases} says
     *     otherwise: further ones are the same again, from the first
     * @return this builder
     */
    public Builder given(Program program, Rays rays) {
      given = new Driving.Given(program, rays);
      return this;
    }

    /**
     * Sets when a ray is offered, from when on the executor is expected to wait for one.
     *
     * @param offers the pacing; {@link Pacing#varied} unless set
     * @return this builder
     */
    public Builder pacing(Pacing offers) {
      pacing = offers;
      return this;
    }

    /**
     * Sets when the consumer is ready for results, where the executor has such a port.
     *
     * @param consumer the pacing; {@link Pacing#varied} unless set
     * @return this builder
     */
    public Builder ready(Pacing consumer) {
      ready = consumer;
      return this;
    }

    /**
     * Sets how often the DUT is reset in mid-stream, where it can be. A reset comes before the next
     * program, or in the midst of the last ray before it, which then gets no result; given rays are
     * not cut.
     *
     * @param chance chance of a reset in a cycle; 0 for none; one in 8192 cycles unless set
     * @return this builder
     */
    public Builder resets(double chance) {
      if (!(chance >= 0 && chance <= 1)) {
        throw new IllegalArgumentException(
            "A reset cannot have chance " + chance + " in a cycle; allowed is 0 to 1.");
      }
      resets = chance;
      return this;
    }

    /**
     * Sets how many rays are offered.
     *
     * @param count 0 or more; unless set, as many as are given, or 10,000
     * @return this builder
     */
    public Builder cases(long count) {
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
     * @param value any value; 1 unless set
     * @return this builder
     */
    public Builder seed(long value) {
      seed = value;
      return this;
    }

    /**
     * Sets how many threads run segments.
     *
     * @param count 1 or more; as many as there are processors unless set
     * @return this builder
     */
    public Builder threads(int count) {
      if (count < 1) {
        throw new IllegalArgumentException(
            "A bench cannot run on " + count + " threads; 1 or more are allowed.");
      }
      threads = count;
      return this;
    }

    /**
     * Sets from how many initial states the first rays are run again, to see that the state before
     * reset does not show: zeros, ones, then random ones.
     *
     * @param count 3 unless set; less than 2 for none
     * @return this builder
     */
    public Builder initialStates(int count) {
      initialStates = count;
      return this;
    }

    /**
     * Declares no coverage points: a short run passes without having met them all.
     *
     * @return this builder
     */
    public Builder withoutCoverage() {
      coverage = false;
      return this;
    }

    /**
     * Sets who keeps the verdict.
     *
     * @param keeper the recorder; none unless set
     * @return this builder
     */
    public Builder recorder(Recorder keeper) {
      recorder = keeper;
      return this;
    }

    /**
     * Sets what command repeats the run, for failures.
     *
     * @param command the command
     * @return this builder
     */
    public Builder repeat(String command) {
      repeat = command;
      return this;
    }

    /**
     * Joins executor and model.
     *
     * @return the bench
     * @throws ContractException when a port is missing or of another width or direction
     * @throws dev.plumbline.models.program.ProgramException when the given program breaks a limit
     * @throws IllegalArgumentException when formats of what is given differ
     */
    public LockstepBench build() {
      return new LockstepBench(this);
    }

    /**
     * Builds, runs and records.
     *
     * @return what was found
     */
    public Verdict run() {
      return build().run();
    }

    /**
     * Builds, runs, records, and fails unless all is well.
     *
     * @return the verdict, a pass
     * @throws org.opentest4j.AssertionFailedError with the facts
     */
    public Verdict check() {
      return run().orFail();
    }
  }
}
