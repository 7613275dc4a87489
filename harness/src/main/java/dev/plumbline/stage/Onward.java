package dev.plumbline.stage;

import dev.plumbline.drive.OutputCheck;
import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.datapath.Variations;
import dev.plumbline.models.fixed.Format;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/**
 * Whether all is right behind a signal: the reference goes on from what the signal had, in the
 * place of a step of its own, and has to come to what the DUT gave in every case of a sample, those
 * that are wrong among them. Held to one output, since others may not depend on the step.
 */
final class Onward {
  /** Cases of the first trial: wrong ones, as many right ones. */
  static final int FIRST = 8;

  private static final int BLOCK = 1_024;

  /** Share of the results that are wrong from which on a signal need not resemble its step. */
  private static final double MOST_WRONG = 0.25;

  /** Share of the cases in which a signal has to be its step. */
  private static final double LEAST_SAME = 0.25;

  private final StepSample cases;
  private final SignalSample sample;
  private final OutputCheck[] checks;
  private final int output; // among the checks
  private final Variations steps;
  private final List<Operand> inputs;
  private final int[] usable;
  private final int[] first;
  private final int wrongs;

  Onward(
      Datapath datapath,
      StepSample cases,
      SignalSample sample,
      OutputCheck[] checks,
      int output,
      int mostDelay,
      int chosen) {
    this.cases = cases;
    this.sample = sample;
    this.checks = checks;
    this.output = output;
    this.steps = datapath.variations(BLOCK);
    this.inputs = datapath.inputs();
    List<Integer> all = new ArrayList<>();
    List<Integer> right = new ArrayList<>();
    List<Integer> wrong = new ArrayList<>();
    for (int n = 0; n < cases.count(); n++) {
      long row = cases.row(n) - sample.firstRow();
      if (row >= 0 && row + mostDelay < sample.rows() && cases.result(n) != null && counts(n)) {
        all.add(n);
      }
    }
    usable = all.stream().mapToInt(Integer::intValue).toArray();
    boolean[] holds = holds(Map.of());
    for (int i = 0; i < usable.length; i++) {
      (holds[i] ? right : wrong).add(usable[i]);
    }
    this.wrongs = wrong.size();
    List<Integer> some = new ArrayList<>();
    if (wrong.remove((Integer) chosen)) {
      some.add(chosen);
    }
    spread(wrong, FIRST / 2 - some.size(), some);
    spread(right, FIRST - some.size(), some);
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
    int flag = checks[output].flag();
    return flag < 0 || cases.result(n)[flag][0] != 0;
  }

  /** Results of the output that are wrong. */
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

  /** Signals at a delay in the place of steps, one for each. */
  record Place(List<Integer> signals, int delay) {}

  /** Which places agree with the first cases, tried together. */
  List<Place> agreeAtFirst(List<Operand> replaced, List<Place> places) {
    List<Place> agreeing = new ArrayList<>();
    int each = first.length;
    int most = BLOCK / each;
    for (int from = 0; from < places.size(); from += most) {
      List<Place> some = places.subList(from, Math.min(places.size(), from + most));
      int count = some.size() * each;
      Map<String, long[][]> given = new TreeMap<>();
      for (int s = 0; s < replaced.size(); s++) {
        long[][] codes = new long[2][count];
        for (int i = 0; i < count; i++) {
          Place place = some.get(i / each);
          code(
              replaced.get(s).format(),
              place.signals().get(s),
              first[i % each],
              place.delay(),
              codes,
              i);
        }
        given.put(replaced.get(s).name(), codes);
      }
      for (int i = 0; i < count; i++) {
        fill(first[i % each], i);
      }
      if (!steps.runFrom(given, count)) {
        continue;
      }
      for (int p = 0; p < some.size(); p++) {
        boolean all = true;
        for (int i = 0; i < each && all; i++) {
          all = isSame(first[i], p * each + i);
        }
        if (all) {
          agreeing.add(some.get(p));
        }
      }
    }
    return agreeing;
  }

  /**
   * Whether signals have to do with the steps: in some of the right results they are the same, or
   * so many results are wrong that this says nothing. A number that makes a condition never hold
   * would pass for a fault of the condition.
   */
  boolean resembles(List<Operand> replaced, Place place) {
    if (wrongs > MOST_WRONG * usable.length) {
      return true;
    }
    long[][] code = new long[2][1];
    for (int s = 0; s < replaced.size(); s++) {
      Operand step = replaced.get(s);
      long[][] own = cases.codes(cases.steps().indexOf(step));
      int width = Math.min(64, sample.signals().get(place.signals().get(s)).width());
      int same = 0;
      for (int n : usable) {
        code(step.format(), place.signals().get(s), n, place.delay(), code, 0);
        same += (code[0][0] ^ own[0][n]) << (64 - width) == 0 ? 1 : 0;
      }
      if (same < LEAST_SAME * usable.length) {
        return false;
      }
    }
    return true;
  }

  /** Whether every result agrees. */
  boolean agrees(List<Operand> replaced, Place place) {
    Map<String, long[][]> given = new TreeMap<>();
    for (int s = 0; s < replaced.size(); s++) {
      long[][] codes = new long[2][usable.length];
      for (int i = 0; i < usable.length; i++) {
        code(replaced.get(s).format(), place.signals().get(s), usable[i], place.delay(), codes, i);
      }
      given.put(replaced.get(s).name(), codes);
    }
    for (boolean one : holds(given)) {
      if (!one) {
        return false;
      }
    }
    return true;
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
      boolean ran = steps.runFrom(part, count);
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
    long[] came = cases.result(n)[output];
    for (int word = 0; word < came.length; word++) {
      if (steps.output(checks[output].output(), word)[at] != came[word]) {
        return false;
      }
    }
    return true;
  }

  /** What a signal has, with all its bits, which may be more than the format's. */
  private void code(Format format, int g, int n, int delay, long[][] codes, int at) {
    int row = (int) (cases.row(n) - sample.firstRow()) + delay;
    long[][] columns = sample.columns(g);
    int bits = sample.signals().get(g).width();
    boolean signed = format.signed() || sample.signals().get(g).signed();
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
    codes[0][at] = low;
    codes[1][at] = high;
  }
}
