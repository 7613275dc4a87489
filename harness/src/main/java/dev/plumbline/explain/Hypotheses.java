package dev.plumbline.explain;

import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.DutException;
import dev.plumbline.drive.Binding;
import dev.plumbline.drive.Engine;
import dev.plumbline.drive.Script;
import dev.plumbline.drive.Segment;
import dev.plumbline.judge.ContractRunner;
import dev.plumbline.judge.Tally;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.stimulus.RandomStream;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.MismatchGroup.Hypothesis;
import dev.plumbline.verdict.MismatchGroup.LikelyKind;
import dev.plumbline.window.Lateness;
import dev.plumbline.window.Observation;
import dev.plumbline.window.Observation.Result;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Supplier;

/**
 * What may be behind mismatches of one group: by changed references on what was observed around the
 * first, and on cases made near to those that are wrong; by running wrong cases in another company.
 */
final class Hypotheses {
  /** Rows before and after the first mismatch that are observed. */
  private static final int BEFORE = 512;

  private static final int AFTER = 2_048;

  /** A block that takes more rows for a case is looked at for longer, up to so many times. */
  private static final int A_FEW = 8;

  private static final int MOST_PACE = 16;

  /** States by chance that are tried, and mismatches of them that prove something. */
  private static final int STATES = 4;

  private static final int FEWEST = 2;

  /** Wrong cases that others are made near to, and how many near each. */
  private static final int WRONG_CASES = 6;

  private static final int NEAR = 48;

  private final ContractRunner runner;
  private final Binding binding;
  private final Segment segment;
  private int tried;
  private List<Integer> changes = List.of();

  Hypotheses(ContractRunner runner, Binding binding, Segment segment) {
    this.runner = runner;
    this.binding = binding;
    this.segment = segment;
  }

  /** How many were tried. */
  int tried() {
    return tried;
  }

  /** Changes of the reference of which what was found speaks, by number; none of other kinds. */
  List<Integer> changes() {
    return changes;
  }

  List<Hypothesis> of(Tally.Group group, long row, Optional<Mismatch> diagnosed) {
    Experiments experiments = new Experiments(runner, binding, segment);
    List<Supplier<List<Hypothesis>>> inTurn = new ArrayList<>();
    if (diagnosed.filter(Hypotheses::isOfState).isPresent()) {
      inTurn.add(() -> one(() -> state(row)));
    }
    if (binding.isFixed()) {
      inTurn.add(() -> one(() -> shift(group, row)));
    } else {
      diagnosed.ifPresent(mismatch -> inTurn.add(() -> one(() -> experiments.late(mismatch))));
    }
    if (group.kind() == Mismatch.Kind.VALUE_WRONG) {
      inTurn.add(() -> values(row));
    }
    inTurn.add(() -> one(() -> experiments.reset(row)));
    inTurn.add(() -> one(() -> experiments.gap(row)));
    inTurn.add(() -> one(() -> experiments.stall(row)));
    if (group.kind() == Mismatch.Kind.VALUE_WRONG) {
      inTurn.add(() -> one(() -> experiments.alone(row)));
    }
    diagnosed.ifPresent(mismatch -> inTurn.add(() -> one(() -> order(mismatch))));
    for (Supplier<List<Hypothesis>> next : inTurn) {
      List<Hypothesis> found = next.get();
      if (!found.isEmpty()) {
        return found;
      }
    }
    return List.of();
  }

  private List<Hypothesis> one(Supplier<Optional<Hypothesis>> hypothesis) {
    tried++;
    try {
      return hypothesis.get().stream().toList();
    } catch (DutException e) {
      return List.of(); // it ends soon after the mismatch
    }
  }

  private static boolean isOfState(Mismatch mismatch) {
    return switch (mismatch.kind()) {
      case INITIAL_STATE_SHOWS, STALE_DATA_SHOWS, INITIAL_STATE_SHOWS_WITHOUT_RESET -> true;
      default -> false;
    };
  }

  /**
   * Whether all mismatches go away from some other initial state, over several states by chance:
   * one alone proves nothing.
   */
  private Optional<Hypothesis> state(long row) {
    Set<Long> elsewhere = null; // rows that are wrong from every simple state
    for (Engine.Start start : List.of(Engine.Start.ZEROS, Engine.Start.ONES)) {
      Set<Long> rows = rows(run(segment.startingFrom(start), row));
      if (elsewhere == null) {
        elsewhere = rows;
      } else {
        elsewhere.retainAll(rows);
      }
    }
    int wrong = 0;
    long cases = 0;
    for (int n = 0; n < STATES; n++) {
      Segment other =
          segment.startingFrom(Engine.Start.RANDOM, segment.cases(), segment.state() + n);
      Tally tally = run(n == 0 ? segment : other, row);
      Set<Long> rows = rows(tally);
      if (rows.stream().anyMatch(elsewhere::contains)) {
        return Optional.empty();
      }
      wrong += rows.size();
      cases += tally.cases;
    }
    return wrong < FEWEST
        ? Optional.empty()
        : Optional.of(
            new Hypothesis(
                LikelyKind.INITIAL_STATE,
                "from registers that wake up at 0, or at 1, it is not there; from "
                    + STATES
                    + " states by chance it is",
                wrong,
                (int) Math.min(Integer.MAX_VALUE, cases - wrong)));
  }

  private Tally run(Segment other, long row) {
    return runner.run(other, new Until(row + (long) AFTER * pace())).tally();
  }

  /** What the order of the results has settled already. */
  private static Optional<Hypothesis> order(Mismatch mismatch) {
    return switch (mismatch.kind()) {
      case ORDER_SWAPPED, RESULT_LOST, RESULT_REPEATED ->
          Optional.of(new Hypothesis(LikelyKind.ORDER, mismatch.words(), 1, 0));
      default -> Optional.empty();
    };
  }

  /** How many times as many rows are looked at, of a block that takes many for a case. */
  private int pace() {
    return Math.max(1, Math.min(MOST_PACE, binding.contract().flow().cyclesOfCase() / A_FEW));
  }

  private static Set<Long> rows(Tally tally) {
    Set<Long> rows = new HashSet<>();
    tally.groups().values().forEach(rows::addAll);
    return rows;
  }

  /** Whether everything is right at another time, of all results around. */
  private Optional<Hypothesis> shift(Tally.Group group, long row) {
    Lateness lateness = new Lateness(binding, Math.max(0, row - BEFORE), row + AFTER);
    runner.run(segment, lateness);
    Optional<Lateness.Shift> shift =
        group.kind() == Mismatch.Kind.VALUE_WRONG
            ? lateness.ofOutput(group.output())
            : lateness.ofValid();
    return shift.map(
        found -> new Hypothesis(LikelyKind.TIMING, found.words(), found.explained(), found.near()));
  }

  private List<Hypothesis> values(long row) {
    Reference reference = binding.contract().reference();
    Observation around =
        new Observation(
            binding, Math.max(0, row - (long) BEFORE * pace()), row + (long) AFTER * pace());
    try {
      runner.run(segment, around);
      List<Observation> seen = new ArrayList<>(List.of(around));
      further(near(around)).ifPresent(seen::add);
      LikelyKinds kinds = new LikelyKinds(reference, seen, this::further);
      List<Hypothesis> found = kinds.find();
      tried += kinds.tried();
      changes = kinds.changes();
      return found;
    } catch (DutException e) {
      return List.of(); // it ends soon after the mismatch
    }
  }

  /** Runs cases one after the other; empty where the reference is for other cases than these. */
  private Optional<Observation> further(List<long[]> cases) {
    Script script = Scripts.following(binding, segment.seed(), cases);
    Observation seen = new Observation(binding, 0, Scripts.lastRow(binding, script));
    try {
      runner.play(script, seen);
      return Optional.of(seen);
    } catch (IllegalArgumentException | ArithmeticException e) {
      return Optional.empty();
    }
  }

  /** Cases near those that are wrong: some bits of one operand are others, the rest is the same. */
  private List<long[]> near(Observation around) {
    RandomStream chance = RandomStream.of(segment.seed());
    List<long[]> near = new ArrayList<>();
    around.results().stream()
        .filter(Result::wrong)
        .limit(WRONG_CASES)
        .map(result -> around.places().get(result.place()))
        .forEach(
            words -> {
              for (int n = 0; n < NEAR; n++) {
                near.add(n == 0 ? words : changed(words, chance));
              }
            });
    return near;
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
}
