package dev.plumbline.blocks;

import dev.plumbline.PlumblineException;
import dev.plumbline.check.Bench;
import dev.plumbline.check.MeasuredLatency;
import dev.plumbline.contract.Contract;
import dev.plumbline.contract.ContractException;
import dev.plumbline.contract.CoveragePoints;
import dev.plumbline.contract.Reference;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.rtl.Design;
import dev.plumbline.stimulus.Stimulus;
import dev.plumbline.verdict.Verdict;
import dev.plumbline.wiring.PortGuess;
import dev.plumbline.wiring.Wiring;
import dev.plumbline.wiring.WiringTable;
import java.io.PrintStream;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;
import java.util.function.Supplier;

/**
 * What the benches of all blocks share: when results come and how strict to be. What is not set is
 * guessed from the names of ports, or measured, and printed.
 *
 * @param <T> the bench itself
 */
abstract class BlockBench<T extends BlockBench<T>> extends WiredBench<T> {
  private static final int LONGEST_STREAM = 2000;
  private static final int LONGEST_BLIND = 300;

  private final Bench.Builder bench;
  private final Map<String, Long> tolerances = new LinkedHashMap<>();
  private final Map<String, Long> otherwise = new LinkedHashMap<>();
  private PrintStream out = System.out;
  private Stimulus stimulus;
  private boolean exact;
  private boolean withoutCoverage;
  private int leastLatency = -1; // not set
  private int mostLatency;
  private int interval = 1;

  BlockBench(Bench.Builder bench) {
    this.bench = bench;
  }

  /** What the results are held to at the bounded or the exact level. */
  abstract Datapath datapath(boolean exactBits);

  /** What the results are held to. */
  Reference reference(boolean exactBits) {
    return held(datapath(exactBits), exactBits);
  }

  /** A datapath of this block as the reference of its DUT. */
  Reference held(Datapath datapath, boolean exactBits) {
    return exactBits ? Reference.exact(datapath) : Reference.bounded(datapath);
  }

  /** Other datapaths that a DUT might follow, by how to declare them; simplest first. */
  Map<String, Supplier<Datapath>> alternatives(boolean exactBits) {
    return Map.of();
  }

  /** What else is known of the DUT before it is run; one line each. */
  List<String> findings() {
    return List.of();
  }

  /** Cases that reach what is special about the block. */
  abstract Stimulus ownStimulus();

  /** What the cases have to reach: a bit for each coverage point. */
  abstract Datapath coverage();

  /** Which outputs a case has to decide to be one of a coverage point. */
  CoveragePoints whereDecided(CoveragePoints points) {
    return points;
  }

  /** Outputs that only count while a bit among the outputs is 1: output to bit. */
  Map<String, String> flags() {
    return Map.of();
  }

  @Override
  final Design design() {
    return bench.design();
  }

  /** Whether the DUT is held to exact bits. */
  final boolean isExact() {
    return exact;
  }

  final Format required(Format format, String method) {
    if (format == null) {
      throw new ContractException(
          name()
              + " on module "
              + design().top()
              + " does not know where the point is in its numbers; set ."
              + method
              + "(Format.signed(WHOLE_BITS, FRACTION_BITS)), the sign counted among the whole"
              + " bits.");
    }
    return format;
  }

  /**
   * Holds the DUT to a latency, instead of having it measured.
   *
   * @param cycles 0 or more
   * @return this bench
   */
  public T latency(int cycles) {
    return latencyBetween(cycles, cycles);
  }

  /**
   * Holds the DUT to a range of latencies, instead of having it measured; needs valid ports.
   *
   * @param least 0 or more, inclusive
   * @param most inclusive
   * @return this bench
   */
  public T latencyBetween(int least, int most) {
    leastLatency = least;
    mostLatency = most;
    return self();
  }

  /**
   * Promises to the DUT that cases come at least so many cycles apart; with a latency that is set.
   *
   * @param cycles 1 (the default) or more
   * @return this bench
   */
  public T cyclesBetweenInputs(int cycles) {
    interval = cycles;
    return self();
  }

  /**
   * Allows an output to be farther off than the bounds of its formats and roundings.
   *
   * @param output the output
   * @param lsbs 0 or more, in LSB of its format
   * @return this bench
   */
  public T tolerance(String output, long lsbs) {
    tolerances.put(output, lsbs);
    return self();
  }

  /**
   * Holds an output that counts while a flag is 1, such as the distance of a hit, to one code where
   * the flag is 0; it may then be anything unless set. An output that counts always is no such one.
   *
   * @param output the output
   * @param code its code where the DUT's flag is 0; one of its format
   * @return this bench
   * @throws ContractException when no flag decides whether the output counts
   */
  public T otherwise(String output, long code) {
    if (!flags().containsKey(output)) {
      throw new ContractException(
          name()
              + " on module "
              + design().top()
              + " has no flag for output \""
              + output
              + "\", which cannot be "
              + code
              + " where one is 0; outputs with a flag are "
              + new TreeSet<>(flags().keySet())
              + ". Name one of these.");
    }
    otherwise.put(output, code);
    return self();
  }

  /**
   * Holds the DUT to the bits of the micro-architecture that the sample RTL has, instead of to the
   * bounds that any sensible one keeps.
   *
   * @return this bench
   */
  public T exact() {
    exact = true;
    return self();
  }

  /**
   * Feeds other cases than the bench's own.
   *
   * @param cases the stimulus, for the operands of the bench
   * @return this bench
   */
  public T stimulus(Stimulus cases) {
    stimulus = cases;
    return self();
  }

  /**
   * Does without the coverage points that the cases have to reach, for a stimulus of your own that
   * is not meant to reach them all.
   *
   * @return this bench
   */
  public T withoutCoverage() {
    withoutCoverage = true;
    return self();
  }

  /**
   * Sets the number of cases that are offered.
   *
   * @param count 0 or more; 100,000 unless set
   * @return this bench
   */
  public T cases(long count) {
    bench.cases(count);
    return self();
  }

  /**
   * Sets the stream on which guesses and measurements are printed.
   *
   * @param stream {@link System#out} unless set
   * @return this bench
   */
  public T printTo(PrintStream stream) {
    out = stream;
    return self();
  }

  /**
   * Guesses and measures what was not set, prints it, and runs the bench.
   *
   * @return what was found
   * @throws ContractException when a port cannot be determined, does not fit, or the DUT never
   *     gives a result
   */
  public Verdict run() {
    Reference reference = reference(exact);
    Wiring wiring = wiring(reference);
    MeasuredLatency measured = join(reference, wiring);
    Map<String, Supplier<Reference>> others = new LinkedHashMap<>();
    alternatives(exact)
        .forEach((declared, other) -> others.put(declared, () -> held(other.get(), exact)));
    bench.alternatives(others);
    print(reference, wiring, measured);
    return bench.run();
  }

  /** Joins the bounded reference and the DUT, so that {@link #trial} can hold some cases. */
  final void joinForTrials() {
    Reference reference = reference(false);
    join(reference, wiring(reference));
  }

  /** Holds some cases to another datapath in bounds, and records nothing. */
  final Verdict trial(Datapath other, long cases) {
    return bench.trial(held(other, false), cases);
  }

  private Wiring wiring(Reference reference) {
    return PortGuess.complete(
        name(), design(), sorted(reference), reference.inputs(), reference.outputs());
  }

  /** Gives the bench its contract, with the latency that was set or is measured (else null). */
  private MeasuredLatency join(Reference reference, Wiring wiring) {
    bench.stimulus(stimulus == null ? ownStimulus() : stimulus);
    if (!withoutCoverage) {
      bench.coverage(whereDecided(CoveragePoints.of(coverage())));
    }
    Contract.Builder lenient = contract(reference, wiring);
    bench.contract((wiring.beats == null ? lenient : lenient.latencyBetween(0, 99)).build());
    MeasuredLatency measured = leastLatency >= 0 ? null : measure(wiring);
    Contract.Builder contract = contract(reference, wiring);
    if (measured == null) {
      contract.latencyBetween(leastLatency, mostLatency).cyclesBetweenInputs(interval);
    } else {
      contract
          .latencyBetween(leastAllowed(measured, wiring), mostAllowed(measured, wiring))
          .cyclesBetweenInputs(measured.interval());
    }
    bench.contract(contract.build());
    return measured;
  }

  /**
   * Runs the bench, and fails unless all is well.
   *
   * @return the verdict, a pass
   * @throws org.opentest4j.AssertionFailedError with the facts
   * @throws ContractException as {@link #run}
   */
  public Verdict check() {
    return run().orFail();
  }

  private Contract.Builder contract(Reference reference, Wiring wiring) {
    Contract.Builder contract = Contract.of(reference).signsFromFormats();
    wiring.connect(contract);
    tolerances.forEach(contract::tolerance);
    flags()
        .forEach(
            (output, flag) -> {
              if (wiring.outputs.containsKey(output) && wiring.outputs.containsKey(flag)) {
                Long code = otherwise.get(output);
                if (code == null) {
                  contract.validWhen(output, flag);
                } else {
                  contract.validWhen(output, flag, code);
                }
              }
            });
    return contract;
  }

  private MeasuredLatency measure(Wiring wiring) {
    return bench.measureLatency(wiring.inValid == null ? LONGEST_BLIND : LONGEST_STREAM);
  }

  /** A result is early only where the time never varied. */
  private static int leastAllowed(MeasuredLatency measured, Wiring wiring) {
    return isHeldTo(measured, wiring) ? measured.least() : 0;
  }

  private static int mostAllowed(MeasuredLatency measured, Wiring wiring) {
    return isHeldTo(measured, wiring) ? measured.most() : 2 * measured.most() + 16;
  }

  private static boolean isHeldTo(MeasuredLatency measured, Wiring wiring) {
    return measured.isConstant() && wiring.inReady == null && wiring.outReady == null;
  }

  private void print(Reference reference, Wiring wiring, MeasuredLatency measured) {
    List<String> notes = new ArrayList<>();
    if (measured == null) {
      notes.add(
          leastLatency == mostLatency
              ? "latency " + leastLatency + ", as set"
              : "latency " + leastLatency + " to " + mostLatency + ", as set");
    } else {
      notes.add(latency(measured, wiring));
      if (measured.interval() > 1) {
        notes.add("takes a case every " + measured.interval() + " cycles, measured");
      }
    }
    notes.add("held to " + (exact ? "the exact bits" : "the bounds of its formats"));
    try {
      notes.addAll(findings());
    } catch (PlumblineException e) {
      // A DUT that ends in a trial does so in the run, which records it.
    }
    out.print(
        WiringTable.of(
            name() + " on module " + design().top() + ":",
            design(),
            reference.inputs(),
            reference.outputs(),
            wiring,
            notes));
  }

  private static String latency(MeasuredLatency measured, Wiring wiring) {
    String seen =
        "latency "
            + (measured.isConstant()
                ? measured.least()
                : measured.least() + " to " + measured.most())
            + ", "
            + measured.basis();
    if (isHeldTo(measured, wiring)) {
      return seen;
    }
    return seen
        + "; allowed are "
        + leastAllowed(measured, wiring)
        + " to "
        + mostAllowed(measured, wiring);
  }
}
