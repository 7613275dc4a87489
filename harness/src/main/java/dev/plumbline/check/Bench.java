package dev.plumbline.check;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.ContractException;
import dev.plumbline.contract.CoveragePoints;
import dev.plumbline.contract.Flow;
import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.drive.AssumedStimulus;
import dev.plumbline.drive.Binding;
import dev.plumbline.drive.CaseRows;
import dev.plumbline.drive.Engine;
import dev.plumbline.drive.GivenStage;
import dev.plumbline.drive.Script;
import dev.plumbline.drive.Settings;
import dev.plumbline.drive.SteeredStimulus;
import dev.plumbline.explain.Explanations;
import dev.plumbline.rtl.Design;
import dev.plumbline.run.Alternatives;
import dev.plumbline.run.BenchBuilder;
import dev.plumbline.run.ContractSubject;
import dev.plumbline.run.Explainer;
import dev.plumbline.run.KeptCases;
import dev.plumbline.run.Plan;
import dev.plumbline.stimulus.Stimulus;
import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.Verdict;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.OptionalLong;
import java.util.function.Supplier;

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
  private final KeptCases kept;

  private Bench(Plan plan, ContractSubject subject, Recorder recorder, KeptCases kept) {
    this.plan = plan;
    this.subject = subject;
    this.recorder = recorder;
    this.kept = kept;
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
    return new Builder(model);
  }

  /**
   * Runs the bench and records the verdict.
   *
   * @return what was found
   * @throws RuntimeException what the DUT threw, when it ended by itself; that verdict is recorded
   *     as well
   */
  public Verdict run() {
    return kept.run(
        plan,
        subject,
        recorder,
        one -> {
          Script script = new CaseRows(subject.binding()).script(one);
          return new KeptCases.Replay(subject.playing(script), script.segment());
        });
  }

  ContractSubject subject() {
    return subject;
  }

  Plan plan() {
    return plan;
  }

  /** Sets the parts of a bench. */
  public static final class Builder extends BenchBuilder<Builder> implements Cloneable {
    private static final long STANDARD_CASES = 100_000;
    private static final long LEAST_STANDARD_CASES = 500;

    /** Cycles that a run has by itself, of a block that takes many for a case. */
    private static final long STANDARD_CYCLES = 8_000_000;

    private Contract contract;
    private Stimulus stimulus = Stimulus.standard();
    private CoveragePoints coverage; // null where none are declared
    private Map<String, Supplier<Reference>> alternatives = Map.of();
    private double mostOpen = 0.9;
    private List<GivenStage> stages = List.of();

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

    /** As it stands now, whatever is set later; what it refers to is immutable. */
    private Builder copy() {
      try {
        return (Builder) clone();
      } catch (CloneNotSupportedException e) {
        throw new AssertionError("a builder can be copied", e);
      }
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
     * Declares coverage points that the cases have to reach; none unless set.
     *
     * <p>Where cases are drawn by chance, one that reaches each is put among the first 256,
     * whatever the seed, if a million draws of the same stimulus hold one.
     *
     * @param declared the coverage points; a run that never reaches one of them is no pass
     * @return this builder
     */
    public Builder coverage(CoveragePoints declared) {
      coverage = declared;
      return this;
    }

    /**
     * Sets how many of an output's results bounds may leave open: their range takes in more than
     * half of all codes, so that there is nothing to judge by. A run with more of them is no pass.
     *
     * @param share 0 to 1, of the results that count; 0.9 unless set. 1 allows any number
     * @return this builder
     */
    public Builder mostOpen(double share) {
      if (!(share >= 0 && share <= 1)) {
        throw new IllegalArgumentException(
            "Bounds cannot leave a share of " + share + " open; allowed is 0 to 1.");
      }
      mostOpen = share;
      return this;
    }

    /**
     * Names what else the DUT might follow: conventions that a bench may declare. When all
     * mismatches that are kept of a run fit one of them, the failure says which. They take the same
     * operands as the contract's reference.
     *
     * @param byName references by how to declare them, simplest first; each is made when a run
     *     mismatches. None unless set
     * @return this builder
     */
    public Builder alternatives(Map<String, Supplier<Reference>> byName) {
      alternatives = new LinkedHashMap<>(byName);
      return this;
    }

    /**
     * Sets which signal inside the RTL is a step of the reference, where neither its name nor its
     * values tell. What is found of other steps stays.
     *
     * @param step name of a step
     * @param signal hierarchical name, the top module's own first or left out, such as {@code
     *     train.product_q}; in the cycle in which it agrees with the step most often
     * @return this builder
     */
    public Builder withStage(String step, String signal) {
      return with(new GivenStage(step, signal, OptionalInt.empty()));
    }

    /**
     * Sets which signal inside the RTL is a step of the reference, and when.
     *
     * @param step name of a step
     * @param signal hierarchical name, as in {@link #withStage(String, String)}
     * @param delay cycles from the one in which a case goes in to the one in which the signal has
     *     it, 0 or more
     * @return this builder
     */
    public Builder withStage(String step, String signal, int delay) {
      if (delay < 0) {
        throw new IllegalArgumentException(
            "Stage \""
                + step
                + "\" cannot have a delay of "
                + delay
                + " cycles; 0 or more are allowed.");
      }
      return with(new GivenStage(step, signal, OptionalInt.of(delay)));
    }

    private Builder with(GivenStage stage) {
      List<GivenStage> all = new ArrayList<>(stages);
      all.add(stage);
      stages = List.copyOf(all);
      return this;
    }

    private Alternatives alternatives() {
      Contract promises = contract;
      Map<String, Supplier<Binding>> bindings = new LinkedHashMap<>();
      alternatives.forEach(
          (other, reference) ->
              bindings.put(
                  other,
                  () -> Binding.of(promises.withReference(reference.get()), design(), clocking())));
      return new Alternatives(bindings);
    }

    /**
     * Holds some cases to another reference than the contract's. Nothing is recorded, and this
     * builder stays as it is.
     *
     * @param other a reference with the same operands
     * @param count how many cases are offered
     * @return what was found
     */
    public Verdict trial(Reference other, long count) {
      Builder trial = copy().contract(contract.withReference(other)).cases(count);
      trial.coverage = null;
      trial.forgetCases();
      trial.stages = List.of();
      return trial.alternatives(Map.of()).initialStates(0).recorder(Recorder.none()).run();
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
      if (contract == null) {
        throw new ContractException(
            "Bench \"" + name() + "\" has no contract; give one with contract(...).");
      }
      Flow flow = contract.flow();
      Binding binding = Binding.of(contract, design(), clocking());
      int distance = Math.max(RESET_DISTANCE, 16 * (flow.mostLatency() + flow.interval()));
      double chance = resetsOr(1.0 / binding.rowsOf(distance));
      int beats = binding.beats().count();
      requireRareResets(chance, beats == 1 ? 1 : binding.rowsOf(beats));
      Optional<CoveragePoints> points = Optional.ofNullable(coverage);
      points.ifPresent(declared -> declared.operandsOf(contract.reference()));
      points.ifPresent(declared -> declared.decisionsOf(contract.reference()));
      Stimulus allowed = AssumedStimulus.of(stimulus, contract);
      Stimulus steered =
          points
              .map(declared -> SteeredStimulus.of(allowed, declared, contract.reference()))
              .orElse(allowed);
      if (!stages.isEmpty()) {
        GivenStage.require(stages, contract, maker().signals(), design().top());
      }
      OptionalLong listed = stimulus.size(contract.reference().inputs());
      Settings settings = new Settings(steered, pacing(), ready(), chance).withStages(stages);
      boolean spares = listed.isPresent() && resetsOr(-1) < 0;
      ContractSubject subject =
          new ContractSubject(
              binding,
              spares ? settings.sparingCases() : settings,
              maker(binding),
              points,
              alternatives(),
              recorder().keepsNothing() ? Explainer.none() : new Explanations());
      long standard = listed.orElse(standardCases(binding));
      Plan plan = plan(casesOr(standard), mostOpen);
      return new Bench(plan, subject, recorder(), keptCases());
    }

    /** As many as are worth their time: fewer of a block that needs many cycles for each. */
    private long standardCases(Binding binding) {
      long each = Math.max(contract.flow().cyclesOfCase(), binding.beats().count());
      long worth = STANDARD_CYCLES / binding.rowsOf((int) Math.min(each, 1 << 20));
      return Math.max(LEAST_STANDARD_CASES, Math.min(STANDARD_CASES, worth));
    }

    @Override
    public Verdict run() {
      return build().run();
    }
  }
}
