package dev.plumbline.explain;

import dev.plumbline.contract.Flow;
import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.DutException;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.run.Binding;
import dev.plumbline.run.ContractRunner;
import dev.plumbline.run.Engine;
import dev.plumbline.run.Observation;
import dev.plumbline.run.Observation.Result;
import dev.plumbline.run.Script;
import dev.plumbline.run.Script.Line;
import dev.plumbline.run.Segment;
import dev.plumbline.run.Tally;
import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.MismatchGroup.Hypothesis;
import dev.plumbline.verdict.MismatchGroup.LikelyKind;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * What may be behind mismatches of one group: by changed references on what was observed around the
 * first, and on cases made near to those that are wrong; by running wrong cases in another company.
 */
final class Hypotheses {
  /** Rows before and after the first mismatch that are observed. */
  private static final int BEFORE = 512;

  private static final int AFTER = 2_048;

  /** Wrong cases that others are made near to, and how many near each. */
  private static final int WRONG_CASES = 6;

  private static final int NEAR = 48;

  /** How often a case is run in another company. */
  private static final int REPEATED = 4;

  /** Rows in which results of a stream are waited for. */
  private static final int MOST_WAIT = 4_096;

  private final ContractRunner runner;
  private final Binding binding;
  private final Segment segment;
  private int tried;

  Hypotheses(ContractRunner runner, Binding binding, Segment segment) {
    this.runner = runner;
    this.binding = binding;
    this.segment = segment;
  }

  /** How many were tried. */
  int tried() {
    return tried;
  }

  List<Hypothesis> of(
      Tally.Group group, long row, Optional<Mismatch> diagnosed, Optional<Script> smallest) {
    Optional<Hypothesis> known = diagnosed.flatMap(Hypotheses::known);
    if (known.isPresent()) {
      tried = 1;
      return List.of(known.get());
    }
    List<Hypothesis> found = new ArrayList<>();
    if (group.kind() == Mismatch.Kind.VALUE_WRONG) {
      found.addAll(values(row));
    }
    if (found.isEmpty() && smallest.isPresent()) {
      tried++;
      reset(smallest.get()).ifPresent(found::add);
    }
    if (found.isEmpty() && smallest.isPresent()) {
      tried++;
      gap(smallest.get()).ifPresent(found::add);
    }
    return found;
  }

  /** What the first look at the rows has settled already. */
  private static Optional<Hypothesis> known(Mismatch mismatch) {
    return switch (mismatch.kind()) {
      case EARLY, LATE -> Optional.of(new Hypothesis(LikelyKind.TIMING, mismatch.words(), 1, 0));
      case INITIAL_STATE_SHOWS, STALE_DATA_SHOWS, INITIAL_STATE_SHOWS_WITHOUT_RESET ->
          Optional.of(new Hypothesis(LikelyKind.INITIAL_STATE, mismatch.words(), 1, 0));
      default -> Optional.empty();
    };
  }

  private List<Hypothesis> values(long row) {
    Reference reference = binding.contract().reference();
    Observation around = new Observation(binding, Math.max(0, row - BEFORE), row + AFTER);
    try {
      runner.run(segment, around);
      Script near = near(around);
      Observation beside =
          new Observation(binding, 0, near.lines().size() + Math.max(latency(), MOST_WAIT));
      runner.play(near, beside);
      LikelyKinds kinds = new LikelyKinds(reference, List.of(around, beside));
      List<Hypothesis> found = kinds.find();
      tried += kinds.tried();
      return found;
    } catch (DutException e) {
      return List.of(); // it ends soon after the mismatch
    }
  }

  /** Cases near those that are wrong: some bits of one operand are others, the rest is the same. */
  private Script near(Observation around) {
    RandomStream chance = RandomStream.of(segment.seed());
    List<Line> lines = head();
    around.results().stream()
        .filter(Result::wrong)
        .limit(WRONG_CASES)
        .map(result -> around.places().get(result.place()))
        .forEach(
            words -> {
              for (int n = 0; n < NEAR; n++) {
                lines.add(new Line(false, true, true, n == 0 ? words : changed(words, chance)));
              }
            });
    return new Script(Engine.Start.ZEROS, segment.seed(), 0, lines);
  }

  private long[] changed(long[] words, RandomStream chance) {
    long[] other = words.clone();
    List<Operand> operands = binding.contract().reference().inputs();
    int chosen = chance.below(operands.size());
    int at = 0;
    for (int i = 0; i < operands.size(); i++) {
      Format format = operands.get(i).format();
      if (i == chosen && format.words() == 1) {
        long bits = 1L << chance.below(format.width());
        other[at] = format.extend(chance.below(2) == 0 ? words[at] ^ bits : words[at] + bits);
      }
      at += format.words();
    }
    return other;
  }

  private List<Line> head() {
    List<Line> lines = new ArrayList<>();
    boolean hasReset = binding.contract().reset().port() != null;
    for (int i = 0; hasReset && i < binding.contract().reset().cycles(); i++) {
      lines.add(new Line(true, binding.contract().flow().inValid() == null, true, zeros()));
    }
    return lines;
  }

  private long[] zeros() {
    return new long
        [binding.contract().reference().inputs().stream()
            .mapToInt(operand -> operand.format().words())
            .sum()];
  }

  private int latency() {
    return binding.contract().flow().mostLatency();
  }

  /** Whether a reset in mid-stream could not be left out of the smallest case. */
  private Optional<Hypothesis> reset(Script smallest) {
    boolean isReset = smallest.lines().stream().skip(head().size()).anyMatch(Line::reset);
    return isReset
        ? Optional.of(new Hypothesis(LikelyKind.RESET, "without that reset nothing is wrong", 1, 0))
        : Optional.empty();
  }

  /** Runs the last case of the smallest between others: one after the other, and far apart. */
  private Optional<Hypothesis> gap(Script smallest) {
    Flow flow = binding.contract().flow();
    Optional<long[]> wrong =
        smallest.lines().stream().filter(Line::isCase).reduce((a, b) -> b).map(Line::words);
    if (!flow.hasValid() || binding.beats().areSeveral() || wrong.isEmpty()) {
      return Optional.empty();
    }
    try {
      int close = right(wrong.get(), flow.interval() - 1);
      int after = right(wrong.get(), flow.interval());
      int apart = right(wrong.get(), 2 * flow.mostLatency() + flow.interval());
      String words =
          close == REPEATED && after < REPEATED
              ? "right where cases follow each other, wrong after a bubble"
              : close < REPEATED && apart == REPEATED
                  ? "right where cases are far apart, wrong where they follow each other"
                  : "";
      return words.isEmpty()
          ? Optional.empty()
          : Optional.of(new Hypothesis(LikelyKind.GAP, words, REPEATED, REPEATED));
    } catch (DutException e) {
      return Optional.empty();
    }
  }

  /** How often a case is right among others, so many bubbles before each. */
  private int right(long[] words, int bubbles) {
    RandomStream chance = RandomStream.of(segment.seed());
    List<Line> lines = head();
    List<Integer> places = new ArrayList<>();
    int cases = 0;
    for (int n = 0; n < 2 * REPEATED; n++) {
      long[] other = words;
      for (int changes = 0; n % 2 == 0 && changes < 8; changes++) {
        other = changed(other, chance);
      }
      for (int i = 0; i < bubbles; i++) {
        lines.add(new Line(false, false, true, zeros()));
      }
      if (n % 2 == 1) {
        places.add(lines.size());
        places.add(-1 - cases); // the place in a stream, below 0
      }
      cases++;
      lines.add(new Line(false, true, true, other));
    }
    Script script = new Script(Engine.Start.ZEROS, segment.seed(), 0, lines);
    Observation seen = new Observation(binding, 0, lines.size() + Math.max(latency(), MOST_WAIT));
    runner.play(script, seen);
    int sign = seen.isByRow() ? 1 : -1;
    return (int)
        seen.results().stream()
            .filter(result -> !result.wrong())
            .filter(result -> places.contains(sign > 0 ? result.place() : -1 - result.place()))
            .count();
  }
}
