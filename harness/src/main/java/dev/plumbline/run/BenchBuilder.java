package dev.plumbline.run;

import dev.plumbline.cosim.Clocking;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.DutOptions;
import dev.plumbline.drive.Binding;
import dev.plumbline.drive.DutEngine;
import dev.plumbline.drive.Engine;
import dev.plumbline.rtl.Design;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.verdict.KeptCase;
import dev.plumbline.verdict.Origin;
import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.Verdict;
import dev.plumbline.verdict.WaveformRequest;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;

/**
 * What the builders of all benches share: how long to run, by which seed, how to open the DUT, how
 * the two sides of a stream are paced, who keeps the verdict.
 *
 * @param <B> the builder itself
 */
public abstract class BenchBuilder<B extends BenchBuilder<B>> {
  private final Design design;
  private final String contentHash;
  private final CompiledDesign model; // null where a test puts software in its place
  private Engine.Maker maker;
  private DutOptions options = DutOptions.defaults();
  private String name;
  private Pacing pacing = Pacing.varied();
  private Pacing ready = Pacing.varied();
  private double resets = -1; // not set
  private long cases = -1; // not set
  private long seed = 1;
  private int threads = Runtime.getRuntime().availableProcessors();
  private int initialStates = 3;
  private Recorder recorder = Recorder.none();
  private String repeat = "";
  private Optional<WaveformRequest> waveform = WaveformRequest.ofProperty();
  private Map<String, KeptCase> first = Map.of();
  private Map<String, KeptCase> only = Map.of();

  /**
   * A builder of a bench on a compiled design.
   *
   * @param model what is tested
   */
  protected BenchBuilder(CompiledDesign model) {
    this(model, model.design(), DutEngine.maker(model, DutOptions.defaults()), model.contentHash());
  }

  /**
   * A builder of a bench on an engine that stands in for a compiled design.
   *
   * @param design what the engine says its ports are
   * @param maker makes engines
   * @param contentHash names what is tested, in the verdict
   */
  protected BenchBuilder(Design design, Engine.Maker maker, String contentHash) {
    this(null, design, maker, contentHash);
  }

  private BenchBuilder(
      CompiledDesign model, Design design, Engine.Maker maker, String contentHash) {
    this.model = model;
    this.design = design;
    this.maker = maker;
    this.contentHash = contentHash;
    this.name = design.top();
  }

  /**
   * This builder.
   *
   * @return this builder
   */
  protected abstract B self();

  /**
   * Names the bench, for reports and for its own share of the seed.
   *
   * @param benchName the name; the top module's unless set
   * @return this builder
   */
  public final B named(String benchName) {
    name = benchName;
    return self();
  }

  /**
   * Sets the options with which DUTs are opened: clocks, timeout, what they may do. Seed and
   * initial state are the bench's own.
   *
   * @param options the options; the defaults unless set
   * @return this builder
   */
  public final B options(DutOptions options) {
    this.options = options;
    maker = DutEngine.maker(model, options);
    return self();
  }

  /**
   * Sets the pacing at which cases are offered; without a valid port every cycle is a case.
   *
   * @param offers the pacing; {@link Pacing#varied} unless set
   * @return this builder
   */
  public final B pacing(Pacing offers) {
    pacing = offers;
    return self();
  }

  /**
   * Sets the pacing at which the consumer is ready for results, where there is such a port.
   *
   * @param consumer the pacing; {@link Pacing#varied} unless set
   * @return this builder
   */
  public final B ready(Pacing consumer) {
    ready = consumer;
    return self();
  }

  /**
   * Sets the chance of a reset in mid-stream. Of cases that are given one by one, resets would lose
   * some: unless a chance is set, they are reset only where initial states are compared.
   *
   * @param chance chance of a reset in a cycle; 0 for none. Unless set, one in some thousand
   *     cycles, less often where the latency is long
   * @return this builder
   */
  public final B resets(double chance) {
    if (!(chance >= 0 && chance <= 1)) {
      throw new IllegalArgumentException(
          "A reset cannot have chance " + chance + " in a cycle; allowed is 0 to 1.");
    }
    resets = chance;
    return self();
  }

  /**
   * Sets the number of cases that are offered.
   *
   * @param count 0 or more; unless set, as many as the stimulus has, or the bench's standard
   *     number, which falls where each case takes many cycles
   * @return this builder
   */
  public final B cases(long count) {
    if (count < 0) {
      throw new IllegalArgumentException(
          "A bench cannot offer " + count + " cases; 0 or more are allowed.");
    }
    cases = count;
    return self();
  }

  /**
   * Sets the seed that all chance of the run follows from.
   *
   * @param value any value; 1 unless set
   * @return this builder
   */
  public final B seed(long value) {
    seed = value;
    return self();
  }

  /**
   * Sets the number of threads that run segments.
   *
   * @param count 1 or more; as many as there are processors unless set
   * @return this builder
   */
  public final B threads(int count) {
    if (count < 1) {
      throw new IllegalArgumentException(
          "A bench cannot run on " + count + " threads; 1 or more are allowed.");
    }
    threads = count;
    return self();
  }

  /**
   * Sets the number of initial states from which the first cases are run again, to see that the
   * state before reset makes no difference: zeros, ones, then random ones.
   *
   * @param count 3 unless set; less than 2 for none
   * @return this builder
   */
  public final B initialStates(int count) {
    initialStates = count;
    return self();
  }

  /**
   * Sets the recorder that keeps the verdict.
   *
   * @param keeper the recorder; none unless set
   * @return this builder
   */
  public final B recorder(Recorder keeper) {
    recorder = keeper;
    return self();
  }

  /**
   * Sets the command that repeats the run, which failures print.
   *
   * @param command the command
   * @return this builder
   */
  public final B repeat(String command) {
    repeat = command;
    return self();
  }

  /**
   * Has a waveform kept of cycles of the first segment, whatever the verdict, where a recorder
   * keeps what is inside.
   *
   * @param request which cycles and scopes; as property {@code plumbline.waveform} says unless set
   * @return this builder
   */
  public final B waveform(WaveformRequest request) {
    waveform = Optional.of(request);
    return self();
  }

  /**
   * Sets cases that are run before all else: faults once found, that are to stay found. The first
   * that mismatches ends the run.
   *
   * @param byFile cases by what reports call them; none unless set
   * @return this builder
   */
  public final B keptCases(Map<String, KeptCase> byFile) {
    first = new LinkedHashMap<>(byFile);
    return self();
  }

  /**
   * Runs one case and nothing else, where this bench is the one that it is of; other benches run as
   * ever.
   *
   * @param file what reports call it
   * @param kept the case
   * @return this builder
   */
  public final B onlyCase(String file, KeptCase kept) {
    only = Map.of(file, kept);
    return self();
  }

  /** Leaves out all of them. */
  protected final void forgetCases() {
    first = Map.of();
    only = Map.of();
  }

  /** The cases that are run before the stimulus, or one in its place. */
  protected final KeptCases keptCases() {
    boolean alone = only.values().stream().anyMatch(kept -> kept.bench().equals(name));
    return new KeptCases(alone ? only : first, alone);
  }

  /**
   * The design under this bench, as its RTL declares it.
   *
   * @return the design
   */
  public final Design design() {
    return design;
  }

  /**
   * Builds, runs and records.
   *
   * @return what was found
   */
  public abstract Verdict run();

  /**
   * Builds, runs, records, and fails unless all is well.
   *
   * @return the verdict, a pass
   * @throws org.opentest4j.AssertionFailedError with the facts
   */
  public final Verdict check() {
    return run().orFail();
  }

  /**
   * The name that was set.
   *
   * @return the name, or else the top module's
   */
  protected final String name() {
    return name;
  }

  /**
   * What makes the engines.
   *
   * @return the maker
   */
  protected final Engine.Maker maker() {
    return maker;
  }

  /**
   * What makes the engines of a bench whose ports follow several clocks.
   *
   * @param binding the ports
   * @return the maker, with rows as the ports need them
   */
  protected final Engine.Maker maker(Binding binding) {
    return binding
        .clocking()
        .map(clocks -> DutEngine.maker(model, options.withClocking(clocks)))
        .orElse(maker);
  }

  /**
   * The clocks that were named.
   *
   * @return the clocks; empty where none were
   */
  protected final Optional<Clocking> clocking() {
    return options.clocking();
  }

  /**
   * When cases are offered.
   *
   * @return the pacing
   */
  protected final Pacing pacing() {
    return pacing;
  }

  /**
   * When the consumer is ready.
   *
   * @return the pacing
   */
  protected final Pacing ready() {
    return ready;
  }

  /**
   * The chance of a reset in a cycle.
   *
   * @param otherwise what holds unless it was set
   * @return 0 to 1
   */
  protected final double resetsOr(double otherwise) {
    return resets >= 0 ? resets : otherwise;
  }

  /**
   * How many cases are offered.
   *
   * @param otherwise what holds unless it was set
   * @return 0 or more
   */
  protected final long casesOr(long otherwise) {
    return cases >= 0 ? cases : otherwise;
  }

  /**
   * Who keeps the verdict.
   *
   * @return the recorder
   */
  protected final Recorder recorder() {
    return recorder;
  }

  /**
   * The run, as it was set.
   *
   * @param offered how many cases are offered
   * @param mostOpen the largest share of an output's results that bounds may leave open
   * @return the plan
   */
  protected final Plan plan(long offered, double mostOpen) {
    return new Plan(
        name,
        offered,
        threads,
        initialStates,
        mostOpen,
        new Origin(seed, contentHash, repeat),
        waveform);
  }
}
