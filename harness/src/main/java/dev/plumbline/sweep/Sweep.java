package dev.plumbline.sweep;

import dev.plumbline.check.Bench;
import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.stimulus.Stimulus;
import dev.plumbline.text.Terminal;
import dev.plumbline.toolchain.Digest;
import dev.plumbline.verdict.Checked;
import dev.plumbline.verdict.Findings;
import dev.plumbline.verdict.Inside;
import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.Verdict;
import java.io.PrintStream;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * A block held to its reference in every combination of its operands' codes, range by range. A
 * ledger keeps the finished ranges, so that a sweep can be killed at any moment and goes on where
 * it was; a change of the RTL, the reference or Plumbline starts it anew.
 *
 * <pre>{@code
 * Sweep.of(CompiledDesign.of(rtl), contract).named("reciprocal").threads(2)
 *     .recorder(RunReport.current()).progress(System.out)
 *     .run(Path.of("reports/sweeps"), Long.MAX_VALUE)
 *     .ifPresent(Verdict::orFail);
 * }</pre>
 *
 * <p>Ranges are taken in an order that is spread evenly over all codes however far it gets: the
 * number of a turn with its bits reversed is the number of its range. Nothing is said about stalls,
 * bubbles or resets, which a sweep has none of: a {@link Bench} has them.
 */
public final class Sweep {
  private static final long STANDARD_RANGE = 1 << 22;

  /** How many ranges a sweep has at most. */
  static final int MOST_RANGES = 1 << 30;

  private final CompiledDesign model;
  private final Contract contract;
  private final long cases;
  private long rangeCases;
  private String name;
  private int threads = 1;
  private Recorder recorder = Recorder.none();
  private String repeat = "";
  private PrintStream progress; // null for none
  private boolean terminal;
  private long nanoseconds = Long.MAX_VALUE;
  private Class<?>[] code = {};

  private Sweep(CompiledDesign model, Contract contract, long cases) {
    this.model = model;
    this.contract = contract;
    this.cases = cases;
    this.rangeCases = Math.min(STANDARD_RANGE, cases);
    this.name = model.design().top();
  }

  /**
   * Starts a sweep.
   *
   * @param model what is held to the contract
   * @param contract what it is held to
   * @return a sweep in ranges of 2^22 cases on one thread
   * @throws IllegalArgumentException when the operands have too many combinations
   */
  public static Sweep of(CompiledDesign model, Contract contract) {
    long cases = Stimulus.exhaustive().size(contract.reference().inputs()).orElseThrow();
    return new Sweep(model, contract, cases);
  }

  /**
   * Names the sweep, for reports and for its ledger's file.
   *
   * @param benchName the name, to which "sweep" is added; the top module's unless set
   * @return this sweep
   */
  public Sweep named(String benchName) {
    name = benchName;
    return this;
  }

  /**
   * Sets how many cases a range has: what a kill can cost at most, on each thread.
   *
   * @param count a power of two up to the number of all cases
   * @return this sweep
   */
  public Sweep rangeCases(long count) {
    if (Long.bitCount(count) != 1 || count < 1 || count > cases || cases / count > MOST_RANGES) {
      throw new IllegalArgumentException(
          "A sweep of "
              + cases
              + " cases cannot be cut into ranges of "
              + count
              + "; a power of two up to the number of cases is allowed, and at most "
              + MOST_RANGES
              + " ranges.");
    }
    rangeCases = count;
    return this;
  }

  /**
   * Sets how many threads run a range.
   *
   * @param count 1 or more; 1 unless set
   * @return this sweep
   */
  public Sweep threads(int count) {
    threads = count;
    return this;
  }

  /**
   * Sets who keeps the verdict.
   *
   * @param keeper the recorder; none unless set
   * @return this sweep
   */
  public Sweep recorder(Recorder keeper) {
    recorder = keeper;
    return this;
  }

  /**
   * Sets what command repeats the sweep, for failures.
   *
   * @param command the command
   * @return this sweep
   */
  public Sweep repeat(String command) {
    repeat = command;
    return this;
  }

  /**
   * Sets a time after which no further range begins; at least one is run.
   *
   * @param time from the call of {@link #run}
   * @return this sweep
   */
  public Sweep within(Duration time) {
    nanoseconds = time.toNanos();
    return this;
  }

  /**
   * Shows a bar with the share done, the rate and the time left: in place on a terminal, else one a
   * minute.
   *
   * @param out where to
   * @return this sweep
   */
  public Sweep progress(PrintStream out) {
    return progress(out, out == System.out && Terminal.isThere());
  }

  /**
   * Shows a bar with the share done, the rate and the time left.
   *
   * @param out where to
   * @param isTerminal whether the line can be drawn over and over in place; else one a minute
   * @return this sweep
   */
  public Sweep progress(PrintStream out, boolean isTerminal) {
    progress = out;
    terminal = isTerminal;
    return this;
  }

  /**
   * Names code that the reference asks and that neither its description nor its own folder or jar
   * shows, such as the contents of a table: when that code changes the sweep starts anew.
   *
   * @param classes one of each folder or jar
   * @return this sweep
   */
  public Sweep dependsOn(Class<?>... classes) {
    code = classes.clone();
    return this;
  }

  /**
   * Runs what the ledger lacks, up to a number of cases or the first range that fails.
   *
   * @param folder where the ledger is kept, in a file named after the sweep
   * @param wanted how many cases are to be finished, spread evenly over all; taken down to whole
   *     ranges, of which there is at least one
   * @return the verdict that was recorded: that of the range which fails, or one that counts all
   *     cases in the ledger; empty when the ledger lacked none
   */
  public Optional<Verdict> run(Path folder, long wanted) {
    SweepLedger ledger =
        new SweepLedger(folder.resolve(title().replaceAll("[^A-Za-z0-9._]+", "-") + ".csv"), key());
    int turns = (int) Math.max(1, Math.min(ranges(), wanted / rangeCases));
    if (progress == null) {
      return run(ledger, turns, range -> {});
    }
    int missing = missing(ledger, turns);
    long[] done = {turns - missing};
    SweepProgress bar =
        new SweepProgress(
            title(),
            turns * rangeCases,
            done[0] * rangeCases,
            terminal,
            progress,
            System::nanoTime);
    bar.done(done[0] * rangeCases);
    return run(ledger, turns, range -> bar.done(++done[0] * rangeCases));
  }

  /** Is told of each range that holds, once the ledger has it. */
  interface Watcher {
    void finished(int range);
  }

  private String title() {
    return name + " sweep";
  }

  int ranges() {
    return Math.toIntExact(cases / rangeCases);
  }

  /** The range of a turn, both counted from 0. */
  static int rangeOfTurn(int turn, int ranges) {
    int bits = Integer.numberOfTrailingZeros(ranges);
    return bits == 0 ? 0 : Integer.reverse(turn) >>> (Integer.SIZE - bits);
  }

  /** Names all that a result depends on. */
  String key() {
    Reference reference = contract.reference();
    Digest digest = new Digest().add(model.contentHash());
    digest.addClassesOf(Datapath.class).addClassesOf(Bench.class);
    digest.addClassesOf(reference.code());
    for (Class<?> one : code) {
      digest.addClassesOf(one);
    }
    return digest
        .add(name)
        .add(reference.description())
        .add(reference.inputs().toString())
        .add(reference.outputs().toString())
        .add(Long.toString(rangeCases))
        .hex();
  }

  /** How many ranges of so many turns the ledger lacks. */
  int missing(SweepLedger ledger, int turns) {
    int missing = 0;
    for (int turn = 0; turn < turns; turn++) {
      missing += ledger.isFinished(rangeOfTurn(turn, ranges())) ? 0 : 1;
    }
    return missing;
  }

  Optional<Verdict> run(SweepLedger ledger, int turns, Watcher watcher) {
    Verdict last = null;
    double seconds = 0;
    long began = System.nanoTime();
    for (int turn = 0; turn < Math.min(turns, ranges()); turn++) {
      if (last != null && System.nanoTime() - began > nanoseconds) {
        break; // what is finished stays so, and the next sweep goes on from there
      }
      int range = rangeOfTurn(turn, ranges());
      if (!ledger.isFinished(range)) {
        last = check(range);
        if (!last.isPass()) {
          return Optional.of(last);
        }
        seconds += last.checked().seconds();
        ledger.finish(range);
        watcher.finished(range);
      }
    }
    if (last == null) {
      return Optional.empty();
    }
    Verdict whole = whole(last, ledger.count() * rangeCases, seconds);
    recorder.record(whole);
    return Optional.of(whole);
  }

  /** Every case of a range is compared: neither bubbles nor resets swallow any. */
  private Verdict check(int range) {
    long first = range * rangeCases;
    Stimulus all = Stimulus.exhaustive();
    Verdict verdict =
        Bench.of(model)
            .named(title() + String.format(Locale.ROOT, " from 0x%x", first))
            .contract(contract)
            .stimulus((operands, seed, at) -> all.open(operands, seed, first + at))
            .cases(rangeCases)
            .pacing(Pacing.backToBack())
            .ready(Pacing.backToBack())
            .resets(0)
            .initialStates(0)
            .threads(threads)
            .repeat(repeat)
            .recorder(found -> found.isPass() ? Optional.empty() : recorder.record(found))
            .run();
    if (verdict.isPass() && verdict.cases() != rangeCases) {
      throw new IllegalStateException(
          "Bench \""
              + verdict.bench()
              + "\" compared "
              + verdict.cases()
              + " cases of a range; all "
              + rangeCases
              + " have to be. Report it as a defect of Plumbline.");
    }
    return verdict;
  }

  /** The cases of earlier processes are those of the ledger; cycles and seconds are not kept. */
  private Verdict whole(Verdict last, long finished, double seconds) {
    return Verdict.of(
        title(),
        last.outcome(),
        last.explanation(),
        new Checked(
            finished, finished, seconds, last.bounds(), last.checked().deviations(), List.of()),
        last.origin(),
        Findings.nothing(last.findings().layout(), Inside.NOTHING));
  }
}
