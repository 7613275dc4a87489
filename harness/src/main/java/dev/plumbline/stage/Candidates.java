package dev.plumbline.stage;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * The signals on the way to what is wrong, each at every delay at which it may have a case: those
 * that are never a step, and right ones in a cycle that is not their own. Where cases are so far
 * apart that one is in hand at a time, another cycle belongs to another operation of the same case,
 * and a signal may be right in one and wrong in the next.
 */
final class Candidates {
  /** How far from its own cycle a right signal may be taken. */
  static final int FARTHEST = 3;

  /**
   * A signal.
   *
   * @param rightAt the delay at which it is right; -1 where it is wrong by itself
   */
  record Candidate(int signal, int delay, int rightAt) {}

  private final StepSample cases;
  private final SignalSample sample;
  private final int[] usable;
  private final boolean isDense;
  private final List<Candidate> all;
  private final List<Candidate> decisions = new ArrayList<>(); // that are right for some step

  Candidates(
      StepSample cases,
      SignalSample sample,
      int[] usable,
      List<List<Station>> stations,
      Set<String> suspects,
      Depths depths,
      int mostDelay) {
    this.cases = cases;
    this.sample = sample;
    this.usable = usable;
    this.isDense = cases.isDense(FARTHEST);
    Map<Integer, Set<Integer>> right = new HashMap<>();
    stations.stream()
        .flatMap(List::stream)
        .filter(Station::isExact)
        .forEach(
            one -> right.computeIfAbsent(one.signal(), key -> new HashSet<>()).add(one.delay()));
    Map<List<Object>, Candidate> copies = new LinkedHashMap<>();
    for (int g = 0; g < sample.signals().size(); g++) {
      if (!suspects.contains(sample.name(g)) || sample.columns(g).length > 2) {
        continue;
      }
      Set<Integer> rightAt = right.getOrDefault(g, Set.of());
      boolean hasEnds = rightAt.isEmpty() || !isDense;
      int from = hasEnds ? depths.least(sample.name(g)) : 0;
      // One more: what is wrong in itself may be the next case's besides.
      int to = hasEnds ? Math.min(depths.most(sample.name(g)), mostDelay - 1) + 1 : mostDelay;
      for (int delay = from; delay <= Math.min(to, mostDelay); delay++) {
        add(g, delay, rightAt, copies);
      }
    }
    all = List.copyOf(copies.values());
  }

  private void add(int g, int delay, Set<Integer> rightAt, Map<List<Object>, Candidate> copies) {
    int nearest =
        rightAt.stream()
            .min(Comparator.comparingInt(own -> Math.abs(own - delay)))
            .orElse(Integer.MIN_VALUE);
    boolean never = rightAt.isEmpty() || (!isDense && nearest != delay);
    if (!isDense && nearest == delay && sample.signals().get(g).width() == 1) {
      decisions.add(new Candidate(g, delay, -1));
    }
    if (!isDense && isSteady(g, delay)) {
      return;
    }
    if (never || (nearest != delay && Math.abs(nearest - delay) <= FARTHEST)) {
      Candidate one = new Candidate(g, delay, never ? -1 : nearest);
      List<Object> key =
          List.of(codes(g, delay), Math.min(2, sample.signals().get(g).width()), never);
      copies.merge(key, one, this::better);
    }
  }

  /** Whether a signal that moves is the same for every case: its time is told, not its data. */
  private boolean isSteady(int g, int delay) {
    boolean moves = false;
    for (long[] column : sample.columns(g)) {
      long first = usable.length == 0 ? 0 : column[row(usable[0]) + delay];
      for (int n : usable) {
        if (column[row(n) + delay] != first) {
          return false;
        }
      }
      for (int row = 0; row < sample.rows() && !moves; row++) {
        moves = column[row] != first;
      }
    }
    return moves;
  }

  private int row(int n) {
    return (int) (cases.row(n) - sample.firstRow());
  }

  /** Whether cases are under way beside each other. */
  boolean isDense() {
    return isDense;
  }

  /** Those that are wrong by themselves, or those that are right in another cycle. */
  List<Candidate> of(boolean never) {
    return all.stream().filter(one -> one.rightAt() < 0 == never).toList();
  }

  /**
   * The same by what is the same in each: the module and the name in it. Of hardware that serves
   * several operations in turn these are also decisions that are right for one step and may stand
   * in the place of another.
   */
  Map<String, List<Candidate>> alike() {
    Map<String, List<Candidate>> alike = new LinkedHashMap<>();
    List<Candidate> wrong = new ArrayList<>(of(true));
    wrong.addAll(decisions);
    for (Candidate one : wrong) {
      String name =
          sample.signals().get(one.signal()).module()
              + "."
              + sample.signals().get(one.signal()).name();
      alike.computeIfAbsent(name, key -> new ArrayList<>()).add(one);
    }
    alike.values().removeIf(some -> some.size() < 2);
    return alike;
  }

  /**
   * Of copies the first, and of several in one cycle a register; of right ones in a wrong cycle the
   * last, where they meet others.
   */
  private Candidate better(Candidate a, Candidate b) {
    int sign = a.rightAt() < 0 ? 1 : -1;
    return Comparator.comparingInt((Candidate one) -> sign * one.delay())
                .thenComparing(one -> !sample.signals().get(one.signal()).register())
                .compare(b, a)
            < 0
        ? b
        : a;
  }

  /** A number that differs where codes do, over all cases. */
  private long codes(int g, int delay) {
    long[][] columns = sample.columns(g);
    long mixed = 0;
    for (int n : usable) {
      int row = row(n) + delay;
      for (long[] column : columns) {
        mixed = (mixed ^ column[row]) * 0x9E3779B97F4A7C15L;
        mixed ^= mixed >>> 29;
      }
    }
    return mixed;
  }
}
