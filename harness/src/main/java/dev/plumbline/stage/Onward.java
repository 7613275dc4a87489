package dev.plumbline.stage;

import dev.plumbline.drive.OutputCheck;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.datapath.Variations;
import dev.plumbline.models.fixed.Format;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.IntStream;

/**
 * Whether all is right behind a signal: the reference goes on from what the signal had, in the
 * place of a step of its own, and has to come to what the DUT gave in every case of a sample, those
 * that are wrong among them. Held to one output, since others may not depend on the step, or to
 * all.
 */
final class Onward {
  /** Cases of the first trial: wrong ones, as many right ones. */
  static final int FIRST = 8;

  private static final int BLOCK = 1_024;

  /** Share of the results that are wrong from which on a signal need not resemble its step. */
  private static final double MOST_WRONG = 0.25;

  /** Share of the cases in which a signal has to be its step, or near it. */
  private static final double LEAST_SAME = 0.25;

  /** The same of a bit, which is right by chance in half of them. */
  private static final double LEAST_SAME_BITS = 0.7;

  /** Share of the pairs of cases in which the larger of a signal is the larger of its step. */
  private static final double LEAST_IN_ORDER = 0.75;

  /** A part has to make so many times as many results agree as it makes differ. */
  static final int SPOILT = 3;

  /** Cases of a trial of what explains a part: wrong ones, as many right ones. */
  private static final int MANY = 32;

  private final StepSample cases;
  private final SignalSample sample;
  private final OutputCheck[] checks;
  private final int[] held; // among the checks
  private final boolean wraps; // whether each step keeps the bits of its format alone
  private final Variations steps;
  private final List<Operand> inputs;
  private final int[] usable;
  private final boolean[] right; // of these, by the reference as it is
  private final int[] first;
  private final int[] many;
  private final int wrongs;
  private final Datapath datapath;
  private final Map<Integer, int[]> rightOnes = new HashMap<>(); // by step
  private boolean mindsRightOnes;

  Onward(
      Datapath datapath,
      StepSample cases,
      SignalSample sample,
      OutputCheck[] checks,
      int[] held,
      boolean wraps,
      int mostDelay,
      int chosen) {
    this.datapath = datapath;
    this.cases = cases;
    this.wraps = wraps;
    this.sample = sample;
    this.checks = checks;
    this.held = held;
    this.steps = datapath.variations(BLOCK);
    this.inputs = datapath.inputs();
    List<Integer> all = new ArrayList<>();
    List<Integer> rightOnes = new ArrayList<>();
    List<Integer> wrong = new ArrayList<>();
    for (int n = 0; n < cases.count(); n++) {
      long row = cases.row(n) - sample.firstRow();
      if (row >= 0 && row + mostDelay < sample.rows() && cases.result(n) != null && counts(n)) {
        all.add(n);
      }
    }
    usable = all.stream().mapToInt(Integer::intValue).toArray();
    right = holds(Map.of());
    for (int i = 0; i < usable.length; i++) {
      (right[i] ? rightOnes : wrong).add(usable[i]);
    }
    this.wrongs = wrong.size();
    List<Integer> several = new ArrayList<>();
    spread(wrong, MANY / 2, several);
    spread(rightOnes, MANY - several.size(), several);
    many = several.stream().mapToInt(Integer::intValue).toArray();
    List<Integer> some = new ArrayList<>();
    if (wrong.remove((Integer) chosen)) {
      some.add(chosen);
    }
    spread(wrong, FIRST / 2 - some.size(), some);
    spread(rightOnes, FIRST - some.size(), some);
    spread(wrong, FIRST - some.size(), some);
    first = some.stream().mapToInt(Integer::intValue).toArray();
  }

  private static void spread(List<Integer> from, int count, List<Integer> into) {
    for (int i = 0; i < Math.min(count, from.size()); i++) {
      int n = from.get((int) ((long) i * from.size() / Math.min(count, from.size())));
      if (!into.contains(n)) {
        into.add(n);
      }
    }
  }

  private boolean counts(int n) {
    for (int c : held) {
      if (counts(n, c)) {
        return true;
      }
    }
    return false;
  }

  private boolean counts(int n, int c) {
    int flag = checks[c].flag();
    return flag < 0 || (cases.result(n)[flag][0] == 0) == checks[c].flagLow();
  }

  /** Results that are wrong. */
  int wrongs() {
    return wrongs;
  }

  /** Results that are looked at. */
  int results() {
    return usable.length;
  }

  int[] usable() {
    return usable;
  }

  /** Which places agree with the first cases, tried together. */
  List<Place> agreeAtFirst(List<Operand> replaced, List<Place> places) {
    List<Place> agreeing = new ArrayList<>();
    trial(
        replaced,
        places,
        first,
        (place, same) -> {
          boolean all = true;
          for (boolean one : same) {
            all &= one;
          }
          if (all) {
            agreeing.add(place);
          }
        });
    return agreeing;
  }

  /** Which places make more wrong results agree, of a few cases, than right ones differ. */
  List<Place> helpAtFirst(List<Operand> replaced, List<Place> places) {
    List<Place> helping = new ArrayList<>();
    boolean[] own = new boolean[many.length];
    for (int i = 0; i < many.length; i++) {
      own[i] = right[Arrays.binarySearch(usable, many[i])];
    }
    trial(
        replaced,
        places,
        many,
        (place, same) -> {
          int helps = 0;
          int spoils = 0;
          for (int i = 0; i < same.length; i++) {
            helps += same[i] && !own[i] ? 1 : 0;
            spoils += !same[i] && own[i] ? 1 : 0;
          }
          if (helps > SPOILT * spoils) {
            helping.add(place);
          }
        });
    return helping;
  }

  /** Told which of the cases of a trial agree. */
  @FunctionalInterface
  private interface Outcome {
    void of(Place place, boolean[] same);
  }

  private void trial(List<Operand> replaced, List<Place> places, int[] tried, Outcome outcome) {
    int each = tried.length;
    int most = BLOCK / Math.max(1, each);
    boolean[] same = new boolean[each];
    for (int from = 0; each > 0 && from < places.size(); from += most) {
      List<Place> some = places.subList(from, Math.min(places.size(), from + most));
      int count = some.size() * each;
      Map<String, long[][]> given = new TreeMap<>();
      for (int s = 0; s < replaced.size(); s++) {
        long[][] codes = new long[2][count];
        for (int i = 0; i < count; i++) {
          code(replaced.get(s).format(), some.get(i / each), s, tried[i % each], codes, i);
        }
        given.put(replaced.get(s).name(), codes);
      }
      for (int i = 0; i < count; i++) {
        fill(tried[i % each], i);
      }
      if (!steps.runFrom(given, count, wraps)) {
        continue;
      }
      for (int p = 0; p < some.size(); p++) {
        for (int i = 0; i < each; i++) {
          same[i] = isSame(tried[i], p * each + i);
        }
        outcome.of(some.get(p), same);
      }
    }
  }

  /** What decision each state stands for, in the cases that are right: both have to be seen. */
  Optional<Reading> decided(int step, Candidates.Candidate one) {
    Map<Long, Long> decided = new HashMap<>();
    long[] codes = cases.codes(step)[0];
    long[] column = sample.columns(one.signal())[0];
    Set<Long> both = new HashSet<>();
    for (int i = 0; i < right.length; i++) {
      int n = usable[i];
      if (right[i]) {
        long state = column[(int) (cases.row(n) - sample.firstRow()) + one.delay()];
        Long before = decided.put(state, codes[n]);
        if (before != null && before != codes[n]) {
          return Optional.empty();
        }
        both.add(codes[n]);
      }
    }
    return both.size() == 2 ? Optional.of(Reading.decided(decided)) : Optional.empty();
  }

  /**
   * Whether signals have to do with the steps: in some of the results they are the same, or near,
   * or larger where the step is larger, or so many results are wrong that this says nothing. A
   * number that makes a condition never hold would pass for a fault of the condition.
   */
  boolean resembles(List<Operand> replaced, Place place) {
    boolean many = wrongs > MOST_WRONG * usable.length;
    if (many && !mindsRightOnes) {
      return true;
    }
    for (int s = 0; s < replaced.size(); s++) {
      Operand step = replaced.get(s);
      int index = cases.steps().indexOf(step);
      int[] looked = many ? rightOnes(index) : usable;
      if (many && looked.length < MANY) {
        continue;
      }
      long[] own = cases.codes(index)[0];
      int width = Math.min(64, sample.signals().get(place.signals().get(s)).width());
      long[][] code = new long[2][looked.length];
      int used = used(own);
      int same = 0;
      for (int i = 0; i < looked.length; i++) {
        code(step.format(), place, s, looked[i], code, i);
        long apart = (code[0][i] - own[looked[i]]) << (64 - width) >> (64 - width);
        boolean isNear = used > 4 && Math.abs(apart) < 1L << (Math.min(used, width) / 2);
        same += apart == 0 || isNear ? 1 : 0;
      }
      boolean isBit = step.format().width() == 1;
      if (same < (isBit ? LEAST_SAME_BITS : LEAST_SAME) * looked.length
          && (isBit || !isInOrder(looked, code[0], own))) {
        return false;
      }
    }
    return true;
  }

  /** Bits that the codes of a step need, however many its format has. */
  private int used(long[] codes) {
    long used = 0;
    for (int n : usable) {
      used |= codes[n] < 0 ? ~codes[n] : codes[n];
    }
    return Long.SIZE - Long.numberOfLeadingZeros(used);
  }

  /** Whether of two cases the one that is larger in one is mostly larger in the other. */
  private boolean isInOrder(int[] looked, long[] codes, long[] own) {
    int in = 0;
    int pairs = 0;
    for (int i = 1; i < looked.length; i++) {
      int one = Long.compare(codes[i], codes[i - 1]);
      int other = Long.compare(own[looked[i]], own[looked[i - 1]]);
      pairs += one != 0 && other != 0 ? 1 : 0;
      in += one * other > 0 ? 1 : 0;
    }
    return pairs > 0 && in >= LEAST_IN_ORDER * pairs;
  }

  /** Cases whose result is right, and would not be with another code of a step. */
  private int[] rightOnes(int step) {
    return rightOnes.computeIfAbsent(
        step,
        key -> {
          boolean[] matters = cases.matters(datapath, key);
          return IntStream.range(0, usable.length)
              .filter(i -> right[i] && matters[usable[i]])
              .map(i -> usable[i])
              .toArray();
        });
  }

  /**
   * Where so many results are wrong that signals need not resemble their steps: whether they have
   * to where the result is right all the same.
   */
  void mindRightOnes(boolean minded) {
    mindsRightOnes = minded;
  }

  /** Whether every result agrees. */
  boolean agrees(List<Operand> replaced, Place place) {
    for (boolean one : holds(replaced, place)) {
      if (!one) {
        return false;
      }
    }
    return true;
  }

  /** Which results agree. */
  boolean[] holds(List<Operand> replaced, Place place) {
    Map<String, long[][]> given = new TreeMap<>();
    for (int s = 0; s < replaced.size(); s++) {
      long[][] codes = new long[2][usable.length];
      for (int i = 0; i < usable.length; i++) {
        code(replaced.get(s).format(), place, s, usable[i], codes, i);
      }
      given.put(replaced.get(s).name(), codes);
    }
    return holds(given);
  }

  /** Which results are right by the reference as it is. */
  boolean[] right() {
    return right;
  }

  private boolean[] holds(Map<String, long[][]> given) {
    boolean[] holds = new boolean[usable.length];
    for (int from = 0; from < usable.length; from += BLOCK) {
      int count = Math.min(BLOCK, usable.length - from);
      Map<String, long[][]> part = new TreeMap<>();
      for (Map.Entry<String, long[][]> one : given.entrySet()) {
        long[][] codes = new long[2][count];
        for (int word = 0; word < 2; word++) {
          System.arraycopy(one.getValue()[word], from, codes[word], 0, count);
        }
        part.put(one.getKey(), codes);
      }
      for (int i = 0; i < count; i++) {
        fill(usable[from + i], i);
      }
      boolean ran = steps.runFrom(part, count, wraps);
      for (int i = 0; i < count; i++) {
        holds[from + i] = ran && isSame(usable[from + i], i);
      }
    }
    return holds;
  }

  private void fill(int n, int at) {
    long[] words = cases.words(n);
    int word = 0;
    for (int i = 0; i < inputs.size(); i++) {
      for (int w = 0; w < inputs.get(i).format().words(); w++) {
        steps.input(i, w)[at] = words[word++];
      }
    }
  }

  private boolean isSame(int n, int at) {
    for (int c : held) {
      long[] came = cases.result(n)[c];
      for (int word = 0; counts(n, c) && word < came.length; word++) {
        if (steps.output(checks[c].output(), word)[at] != came[word]) {
          return false;
        }
      }
    }
    return true;
  }

  /** What a signal has, with all its bits, which may be more than the format's. */
  private void code(Format format, Place place, int s, int n, long[][] codes, int at) {
    int g = place.signals().get(s);
    int row = (int) (cases.row(n) - sample.firstRow()) + place.delays().get(s);
    long[][] columns = sample.columns(g);
    int bits = sample.signals().get(g).width();
    boolean signed = format.signed() || (sample.signals().get(g).signed() && bits > format.width());
    long low = columns[0][row];
    long high = columns.length > 1 ? columns[1][row] : low >> 63;
    if (bits < 64) {
      int unused = 64 - bits;
      low = signed ? low << unused >> unused : low << unused >>> unused;
      high = low >> 63;
    } else if (bits == 64) {
      high = signed ? low >> 63 : 0;
    } else {
      int unused = 128 - bits;
      high = signed ? high << unused >> unused : high << unused >>> unused;
    }
    Reading reading = place.readings().get(s);
    codes[0][at] = reading.of(low);
    codes[1][at] = high;
  }
}
