package dev.plumbline.lockstep;

import dev.plumbline.contract.ContractException;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.drive.Engine;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.rtl.Design;
import dev.plumbline.run.BenchBuilder;
import dev.plumbline.run.KeptCases;
import dev.plumbline.run.Plan;
import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.Verdict;
import java.util.Optional;

/**
 * A scene executor held to the model operation by operation: random programs are loaded, rays that
 * visit them are offered, and the first operation at which RTL and model diverge is named.
 *
 * <pre>{@code
 * LockstepBench.of(CompiledDesign.of(rtl)).named("scene_executor").executor(executor)
 *     .cases(10_000).seed(7).check();
 * }</pre>
 *
 * <p>{@link Builder#given} takes a scene and rays of yours in their place.
 *
 * <p>A case is a ray. Rays come at once or with gaps, results are taken at once or late; now and
 * then the DUT is reset between programs or in the midst of a ray, or a ray is aborted, and a
 * program stays for another row of rays. A run is cut into segments of 1,024 rays. Each starts from
 * reset on a DUT of its own, whose registers wake up at random; the verdict is the same for any
 * number of threads. The first rays are run again from other initial states, which must not show.
 * Among the first {@value #COVERAGE_CASES} rays are scenes constructed to reach every coverage
 * point, and one ray of as many cycles as the memory can give. What is compared follows from the
 * ports that there are: see {@link Executor}.
 */
public final class LockstepBench {
  /**
   * So many rays or more reach every coverage point, whatever the seed: scenes constructed for that
   * are among them.
   */
  public static final int COVERAGE_CASES = 512;

  /** The mean distance of resets unless set, in cycles. */
  private static final int RESET_DISTANCE = 8192;

  private final Plan plan;
  private final LockstepSubject subject;
  private final Recorder recorder;
  private final KeptCases kept;

  private LockstepBench(Plan plan, LockstepSubject subject, Recorder recorder, KeptCases kept) {
    this.plan = plan;
    this.subject = subject;
    this.recorder = recorder;
    this.kept = kept;
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
    return new Builder(model);
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
    SceneCase cases = new SceneCase(subject.executor(), subject.design());
    return kept.run(
        plan,
        subject,
        recorder,
        one -> {
          SceneScript script = cases.script(one);
          return new KeptCases.Replay(subject.playing(script), script.segment());
        });
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
   * Sets what a bench consists of. A case is a ray: unless set, as many as are given, or 10,000. A
   * reset, one in 8,192 cycles unless set, comes before the next program, or in the midst of the
   * last ray before it, which then gets no result; given rays are not cut. Rays are aborted now and
   * then where they can be, unless there are no resets. One cycle of reset drops the ray in hand:
   * nothing may be valid in the next, be it under reset or not.
   */
  public static final class Builder extends BenchBuilder<Builder> {
    private static final long STANDARD_CASES = 10_000;

    private Executor executor;
    private Driving.Given given; // null for chance
    private boolean coverage = true;

    private Builder(CompiledDesign model) {
      super(model);
    }

    Builder(Design design, Engine.Maker maker, String contentHash) {
      super(design, maker, contentHash);
    }

    @Override
    protected Builder self() {
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
     * Declares no coverage points: a run of fewer than {@link #COVERAGE_CASES} rays passes without
     * having met them all.
     *
     * @return this builder
     */
    public Builder withoutCoverage() {
      coverage = false;
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
      if (executor == null) {
        throw new ContractException(
            "Bench \"" + name() + "\" has no executor; give one with executor(...).");
      }
      Driving driving =
          new Driving(
              Optional.ofNullable(given).map(rays -> checked(rays, executor)),
              pacing(),
              ready(),
              resetsOr(1.0 / RESET_DISTANCE),
              Optional.empty());
      LockstepSubject subject =
          new LockstepSubject(
              executor,
              new Ports(executor, design()),
              driving,
              maker(),
              coverage && given == null,
              !recorder().keepsNothing());
      long standard = given == null ? STANDARD_CASES : given.rays().capacity();
      Plan plan = plan(casesOr(standard), 1);
      return new LockstepBench(plan, subject, recorder(), keptCases());
    }

    @Override
    public Verdict run() {
      return build().run();
    }
  }
}
