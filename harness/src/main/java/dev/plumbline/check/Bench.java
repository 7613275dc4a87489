package dev.plumbline.check;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.ContractException;
import dev.plumbline.contract.CoveragePoints;
import dev.plumbline.contract.Flow;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.DutOptions;
import dev.plumbline.rtl.Design;
import dev.plumbline.run.BenchRun;
import dev.plumbline.run.Binding;
import dev.plumbline.run.ContractSubject;
import dev.plumbline.run.DutEngine;
import dev.plumbline.run.Engine;
import dev.plumbline.run.Plan;
import dev.plumbline.run.Settings;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.stimulus.Stimulus;
import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.Verdict;
import java.util.Optional;

/**
 * A model, a contract and a stimulus joined: what is run to get a verdict.
 *
 * <pre>{@code
 * Verdict verdict = Bench.of(model).named("reciprocal 16.16").contract(contract)
 *     .cases(1_000_000).seed(7).run();
 * verdict.orFail();
 * }</pre>
 *
 * <p>A run is cut into segments of 65,536 cases. Each starts from reset on a DUT of its own, whose
 * registers have random initial values, and threads take segments in turn; the verdict is the same
 * for any number of threads. The first cases are run again from other initial states, which must
 * make no difference.
 */
public final class Bench {
  /** What a mid-stream reset's mean distance is at least, in cycles. */
  private static final int RESET_DISTANCE = 2048;

  private final Plan plan;
  private final ContractSubject subject;
  private final Recorder recorder;

  private Bench(Builder builder) {
    Contract contract = builder.contract;
    if (contract == null) {
      throw new ContractException(
          "Bench \"" + builder.name + "\" has no contract; give one with contract(...).");
    }
    Flow flow = contract.flow();
    double resets =
        builder.resets >= 0
            ? builder.resets
            : 1.0 / Math.max(RESET_DISTANCE, 16 * (flow.mostLatency() + flow.interval()));
    long cases =
        builder.cases >= 0
            ? builder.cases
            : builder.stimulus.size(contract.reference().inputs()).orElse(Builder.STANDARD_CASES);
    Binding binding = Binding.of(contract, builder.design);
    requireRareResets(resets, binding.beats().count());
    Optional<CoveragePoints> coverage = Optional.ofNullable(builder.coverage);
    coverage.ifPresent(points -> points.operandsOf(contract.reference()));
    coverage.ifPresent(points -> points.decisionsOf(contract.reference()));
    this.recorder = builder.recorder;
    this.subject =
        new ContractSubject(
            binding,
            new Settings(builder.stimulus, builder.pacing, builder.ready, resets),
            builder.maker,
            coverage);
    this.plan =
        new Plan(
            builder.name,
            cases,
            builder.threads,
            builder.initialStates,
            builder.seed,
            builder.contentHash,
            builder.repeat);
  }

  private static void requireRareResets(double resets, int beats) {
    if (beats > 1 && resets * 2 * beats > 1) {
      throw new ContractException(
          "Resets with chance "
              + resets
              + " in a cycle are too frequent for cases of "
              + beats
              + " beats; "
              + 1.0 / (2 * beats)
              + " or less is allowed.");
    }
  }

  /**
   * Starts a bench.
   *
   * @param model what is held to a contract
   * @return a builder that still needs a contract
   */
  public static Builder of(CompiledDesign model) {
    Builder builder =
        new Builder(
            model.design(), DutEngine.maker(model, DutOptions.defaults()), model.contentHash());
    builder.model = model;
    return builder;
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

  ContractSubject subject() {
    return subject;
  }

  Plan plan() {
    return plan;
  }

  /** Sets the parts of a bench. */
  public static final class Builder implements Cloneable {
    private static final long STANDARD_CASES = 100_000;

    private final Design design;
    private final String contentHash;
    private Engine.Maker maker;
    private CompiledDesign model; // null where a test puts software in its place
    private String name;
    private Contract contract;
    private Stimulus stimulus = Stimulus.standard();
    private Pacing pacing = Pacing.varied();
    private Pacing ready = Pacing.varied();
    private double resets = -1; // not set
    private long cases = -1; // not set
    private long seed = 1;
    private int threads = Runtime.getRuntime().availableProcessors();
    private int initialStates = 3;
    private CoveragePoints coverage; // null where none are declared
    private Recorder recorder = Recorder.none();
    private String repeat = "";

    Builder(Design design, Engine.Maker maker, String contentHash) {
      this.design = design;
      this.maker = maker;
      this.contentHash = contentHash;
      this.name = design.top();
    }

    /** As it stands now, whatever is set later; what it refers to is immutable. */
    private Builder copy() {
      try {
        return (Builder) clone();
      } catch (CloneNotSupportedException e) {
        throw new AssertionError("a builder can be copied", e);
      }
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
     * Sets the options with which DUTs are opened: clocks, timeout, what they may do. Seed and
     * initial state are the bench's own.
     *
     * @param options the options; the defaults unless set
     * @return this builder
     */
    public Builder options(DutOptions options) {
      maker = DutEngine.maker(model, options);
      return this;
    }

    /**
     * Sets the contract that the model is held to.
     *
     * @param promises the contract
     * @return this builder
     */
    public Builder contract(Contract promises) {
      contract = promises;
      return this;
    }

    /**
     * Sets the stimulus: the cases that are fed.
     *
     * @param fed the stimulus; {@link Stimulus#standard} unless set
     * @return this builder
     */
    public Builder stimulus(Stimulus fed) {
      stimulus = fed;
      return this;
    }

    /**
     * Sets the pacing at which cases are offered; without a valid port every cycle is a case.
     *
     * @param offers the pacing; {@link Pacing#varied} unless set
     * @return this builder
     */
    public Builder pacing(Pacing offers) {
      pacing = offers;
      return this;
    }

    /**
     * Sets the pacing at which the consumer is ready for results, where the contract has such a
     * port.
     *
     * @param consumer the pacing; {@link Pacing#varied} unless set
     * @return this builder
     */
    public Builder ready(Pacing consumer) {
      ready = consumer;
      return this;
    }

    /**
     * Sets the chance of a reset in mid-stream.
     *
     * @param chance chance of a reset in a cycle; 0 for none. Unless set, one in 2048 cycles, or
     *     less often where the latency is long
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
     * Sets the number of cases that are offered.
     *
     * @param count 0 or more; unless set, as many as the stimulus has, or 100,000
     * @return this builder
     */
    public Builder cases(long count) {
      if (count < 0) {
        throw new IllegalArgumentException(
            "A bench cannot offer " + count + " cases; 0 or more are allowed.");
      }
      cases = count;
      return this;
    }

    /**
     * Sets the seed that all chance of the run follows from.
     *
     * @param value any value; 1 unless set
     * @return this builder
     */
    public Builder seed(long value) {
      seed = value;
      return this;
    }

    /**
     * Sets the number of threads that run segments.
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
     * Sets the number of initial states from which the first cases are run again, to see that the
     * state before reset makes no difference: zeros, ones, then random ones.
     *
     * @param count 3 unless set; less than 2 for none
     * @return this builder
     */
    public Builder initialStates(int count) {
      initialStates = count;
      return this;
    }

    /**
     * Sets the recorder that keeps the verdict.
     *
     * @param keeper the recorder; none unless set
     * @return this builder
     */
    public Builder recorder(Recorder keeper) {
      recorder = keeper;
      return this;
    }

    /**
     * Sets the command that repeats the run, which failures print.
     *
     * @param command the command
     * @return this builder
     */
    public Builder repeat(String command) {
      repeat = command;
      return this;
    }

    /**
     * Declares coverage points that the cases have to reach; none unless set.
     *
     * @param declared the coverage points; a run that never reaches one of them is no pass
     * @return this builder
     */
    public Builder coverage(CoveragePoints declared) {
      coverage = declared;
      return this;
    }

    /**
     * The design under this bench, as its RTL declares it.
     *
     * @return the design
     */
    public Design design() {
      return design;
    }

    /**
     * Measures the latency by running the model, whatever latency the contract declares.
     *
     * <p>With valid ports single cases are offered from reset, far apart, then one after the other.
     * Without, each latency is tried in turn until a few hundred cases all have results that the
     * reference allows.
     *
     * @param longest the longest latency that is looked for, in cycles
     * @return what was found
     * @throws ContractException when the model does not fit the contract, gives no result, or no
     *     latency fits
     */
    public MeasuredLatency measureLatency(int longest) {
      return new LatencySearch(this, longest).measure();
    }

    Contract contract() {
      return contract;
    }

    Bench with(Contract other) {
      return copy().contract(other).build();
    }

    /**
     * Joins contract and model.
     *
     * @return the bench
     * @throws ContractException when they do not fit
     */
    public Bench build() {
      return new Bench(this);
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
