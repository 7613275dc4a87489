package dev.plumbline.check;

import dev.plumbline.contract.Contract;
import dev.plumbline.contract.ContractException;
import dev.plumbline.contract.Flow;
import dev.plumbline.drive.Binding;
import dev.plumbline.drive.Engine;
import dev.plumbline.drive.Segment;
import dev.plumbline.drive.Settings;
import dev.plumbline.judge.ContractRunner;
import dev.plumbline.judge.Tally;
import dev.plumbline.run.ContractSubject;
import dev.plumbline.stimulus.Pacing;
import java.util.ArrayList;
import java.util.List;

/** {@link Bench.Builder#measureLatency}: runs a model under lenient contracts and counts cycles. */
final class LatencySearch {
  private static final int SINGLE_CASES = 24;

  /** How far apart single cases are at first; farther where results take half as long or longer. */
  private static final int[] APART = {64, 512};

  private static final int CASES = 400;

  private final Bench.Builder builder;
  private final int longest;
  private final ContractSubject subject;
  private final long seed;
  private final Flow flow;

  LatencySearch(Bench.Builder builder, int longest) {
    this.builder = builder;
    this.longest = longest;
    Bench bench = builder.build();
    this.subject = bench.subject();
    this.seed = bench.plan().streamSeed();
    this.flow = subject.binding().contract().flow();
  }

  MeasuredLatency measure() {
    if (!subject.binding().contract().reference().givesOneForEach()) {
      throw new ContractException(
          "The latency of reference \""
              + subject.binding().contract().reference().name()
              + "\", which may give none or several results for a case, cannot be measured; one"
              + " result for each is needed. Declare it by latency(...) or latencyBetween(...).");
    }
    if (subject.binding().clocking().isPresent()) {
      throw new ContractException(
          "The latency from one clock to another cannot be measured; it depends on where their"
              + " edges lie. Declare it by latencyBetween(...).");
    }
    if (subject.binding().design().clocks().isEmpty()) {
      return new MeasuredLatency(0, 0, 1, true, "no clock");
    }
    return flow.hasValid() ? count() : tryEach();
  }

  private MeasuredLatency count() {
    ResultWaits single = single();
    List<Integer> ages = new ArrayList<>(single.ages());
    if (ages.isEmpty()) {
      throw new ContractException(
          "Module "
              + subject.binding().design().top()
              + " never raised "
              + flow.outValid()
              + " within "
              + longest
              + " cycles of "
              + single.taken()
              + " single cases taken with "
              + flow.inValid()
              + "; name other valid ports, hold an enable high, or allow a longer latency.");
    }
    int interval = flow.inReady() == null ? interval(ages) : 1;
    ResultWaits stream = watch(Pacing.backToBack(), interval, CASES);
    if (stream.isComplete()) {
      ages.addAll(stream.ages());
    }
    int head = subject.binding().beats().head();
    return new MeasuredLatency(
        least(ages) + head,
        most(ages) + head,
        interval,
        true,
        "measured on " + ages.size() + " cases, single and in a row");
  }

  /**
   * Single cases, as near to each other as cannot matter to them: most DUTs are done in no time.
   */
  private ResultWaits single() {
    for (int apart : APART) {
      if (apart <= longest) {
        ResultWaits seen = single(apart);
        if (seen.isComplete() && seen.taken() > 0 && 2 * most(seen.ages()) <= apart) {
          return seen;
        }
      }
    }
    return single(longest + 1);
  }

  private ResultWaits single(int apart) {
    Pacing offers = // an interval is for DUTs without a ready port
        flow.inReady() == null ? Pacing.backToBack() : Pacing.bursts(1, apart);
    return watch(offers, apart, SINGLE_CASES);
  }

  /** The fewest cycles between cases at which no result is later than that of a single case. */
  private int interval(List<Integer> singles) {
    int most = most(singles);
    for (int interval = 1; interval <= most + 2; interval++) {
      ResultWaits seen = watch(Pacing.backToBack(), interval, CASES);
      if (seen.isComplete() && most(seen.ages()) <= most) {
        return interval;
      }
    }
    return longest + 1;
  }

  private ResultWaits watch(Pacing offers, int interval, int cases) {
    ResultWaits seen = new ResultWaits(subject.binding(), longest);
    run(
        flow.within(0, longest, interval),
        offers,
        cases,
        (firstRow, feed, checker) -> seen.block(firstRow, feed));
    return seen;
  }

  private static int least(List<Integer> ages) {
    return ages.stream().mapToInt(Integer::intValue).min().orElse(0);
  }

  private static int most(List<Integer> ages) {
    return ages.stream().mapToInt(Integer::intValue).max().orElse(0);
  }

  private MeasuredLatency tryEach() {
    int best = 0;
    long agreed = -1;
    long next = -1; // how many agreed at the second best
    for (int latency = 0; latency <= longest; latency++) {
      Tally tally =
          run(
              flow.within(latency, latency, 1),
              Pacing.backToBack(),
              CASES,
              (row, feed, checker) -> {});
      long right = tally.cases - tally.mismatches;
      if (tally.cases > 0 && tally.mismatches == 0) {
        return new MeasuredLatency(
            latency, latency, 1, true, "all of " + tally.cases + " cases agree");
      }
      if (right > agreed) {
        next = agreed;
        agreed = right;
        best = latency;
      } else {
        next = Math.max(next, right);
      }
    }
    String basis = agreed + " of " + CASES + " cases agree";
    if (10 * agreed > 8 * CASES && 2 * next < agreed) {
      return new MeasuredLatency(best, best, 1, false, basis + ", at any other latency " + next);
    }
    throw new ContractException(
        "No latency of 0 to "
            + longest
            + " cycles makes module "
            + subject.binding().design().top()
            + " agree with \""
            + subject.binding().contract().reference().name()
            + "\"; the best is "
            + best
            + ", where "
            + basis
            + ", then "
            + next
            + ". Check formats and ports, or set the latency to see the mismatches.");
  }

  private Tally run(Flow lenient, Pacing offers, int cases, ContractRunner.Watcher watcher) {
    Contract contract = builder.contract().withFlow(lenient);
    Binding binding = builder.with(contract).subject().binding();
    Settings settings = new Settings(subject.settings().stimulus(), offers, Pacing.backToBack(), 0);
    Segment segment = Segment.of(seed, 0, cases, cases).startingFrom(Engine.Start.ZEROS);
    return new ContractRunner(binding, settings, subject.maker()).run(segment, watcher).tally();
  }
}
