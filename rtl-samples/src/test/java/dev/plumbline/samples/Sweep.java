package dev.plumbline.samples;

import dev.plumbline.check.Bench;
import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.stimulus.Pacing;
import dev.plumbline.stimulus.Stimulus;
import dev.plumbline.verdict.Recorder;
import dev.plumbline.verdict.Verdict;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * A sample block held to its reference in every combination of its operands' codes, range by range.
 * A ledger keeps the finished ranges, so that a sweep can be killed at any moment.
 *
 * <p>Ranges are taken in an order that is spread evenly over all codes however far it gets: the
 * number of a turn with its bits reversed is the number of its range.
 */
final class Sweep {
  private final SampleBench bench;
  private final CompiledDesign model;
  private final long rangeCases;
  private final int ranges;

  /** Cases and cases a range are powers of two. */
  Sweep(SampleBench bench, long rangeCases) {
    this.bench = bench;
    this.model = CompiledDesign.of(bench.rtl());
    this.rangeCases = rangeCases;
    Reference reference = bench.contract().reference();
    long cases = Stimulus.exhaustive().size(reference.inputs()).orElseThrow();
    this.ranges = Math.toIntExact(cases / rangeCases);
    if (Long.bitCount(rangeCases) != 1 || ranges < 1) {
      throw new IllegalArgumentException(
          "A sweep of "
              + cases
              + " cases cannot be cut into ranges of "
              + rangeCases
              + "; a power of two up to the number of cases is allowed.");
    }
  }

  /** Is told of each range that holds, once the ledger has it. */
  public interface Watcher {
    void finished(int range);
  }

  String name() {
    return bench.name() + " sweep";
  }

  int ranges() {
    return ranges;
  }

  /** The range of a turn, both counted from 0. */
  static int rangeOfTurn(int turn, int ranges) {
    int bits = Integer.numberOfTrailingZeros(ranges);
    return bits == 0 ? 0 : Integer.reverse(turn) >>> (Integer.SIZE - bits);
  }

  /**
   * Names all that a result depends on: the RTL's content, the compiled models and harness, the
   * formats, and how ranges are cut.
   */
  String key() {
    ContentDigest digest = new ContentDigest();
    digest.add(model.contentHash());
    digest.addClassesOf(Datapath.class);
    digest.addClassesOf(Bench.class);
    Reference reference = bench.contract().reference();
    digest.add(bench.name() + reference.inputs() + reference.outputs() + rangeCases);
    return digest.hex();
  }

  /** How many ranges of so many turns the ledger lacks. */
  int missing(SweepLedger ledger, int turns) {
    int missing = 0;
    for (int turn = 0; turn < turns; turn++) {
      missing += ledger.isFinished(rangeOfTurn(turn, ranges)) ? 0 : 1;
    }
    return missing;
  }

  /**
   * Runs the ranges that the ledger lacks, up to a number of turns or the first that fails.
   *
   * @return the verdict that was recorded: that of the range which fails, or one that counts all
   *     cases in the ledger; empty when the ledger lacked none
   */
  Optional<Verdict> run(
      SweepLedger ledger, int turns, int threads, Recorder recorder, Watcher watcher) {
    Verdict last = null;
    double seconds = 0;
    for (int turn = 0; turn < Math.min(turns, ranges); turn++) {
      int range = rangeOfTurn(turn, ranges);
      if (!ledger.isFinished(range)) {
        last = check(range, threads, recorder);
        if (!last.isPass()) {
          return Optional.of(last);
        }
        seconds += last.seconds();
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
  private Verdict check(int range, int threads, Recorder recorder) {
    long first = range * rangeCases;
    Stimulus all = Stimulus.exhaustive();
    Verdict verdict =
        bench
            .of(model)
            .named(name() + String.format(Locale.ROOT, " from 0x%x", first))
            .stimulus((operands, seed, at) -> all.open(operands, seed, first + at))
            .cases(rangeCases)
            .pacing(Pacing.backToBack())
            .resets(0)
            .initialStates(0)
            .threads(threads)
            .repeat("mvn -q test -Psweep")
            .recorder(found -> found.isPass() ? Optional.empty() : recorder.record(found))
            .run();
    if (verdict.isPass() && verdict.cases() != rangeCases) {
      throw new IllegalStateException(
          verdict.bench() + " compared " + verdict.cases() + " cases of " + rangeCases + ".");
    }
    return verdict;
  }

  /** The cases of earlier processes are those of the ledger; cycles and seconds are not kept. */
  private Verdict whole(Verdict last, long cases, double seconds) {
    return new Verdict(
        name(),
        last.outcome(),
        last.explanation(),
        cases,
        cases,
        0,
        List.of(),
        -1,
        last.layout(),
        List.of(),
        List.of(),
        last.bounds(),
        List.of(),
        seconds,
        last.seed(),
        last.contentHash(),
        "",
        last.repeat(),
        Optional.empty());
  }
}
